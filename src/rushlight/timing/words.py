"""Tables of the light list's words and of usual timings, read once."""

from __future__ import annotations

from rushlight.errors import UnknownName
from rushlight.tables import row_by, rows

MORSE_DASH_UNITS = 3
"""A dash, and the gap between two letters, lasts three dots (ITU-R M.1677-1, from memory)."""


def default(key: str) -> float:
    """A usual timing of `rhythm_defaults`, in the unit of its row."""
    return float(row_by("rhythm_defaults", "key", key)["value"])


def colour_names() -> dict[str, str]:
    """Colour letters of the light list to colour words, two-letter ones first."""
    return {row["abbr"]: row["colour"] for row in rows("aton_colours")}


def old_abbreviations() -> tuple[tuple[str, str], ...]:
    """Abbreviations of older charts with today's, longest first."""
    pairs = [(row["old"], row["new"]) for row in rows("aton_old_abbreviations")]
    return tuple(sorted(pairs, key=lambda pair: (-len(pair[0]), pair[0])))


def morse(sign: str) -> str:
    """Dots and dashes of one letter or figure.

    Raises
    ------
    UnknownName
        If the sign has no code.
    """
    for row in rows("morse_code"):
        if row["sign"] == sign.upper():
            return row["code"]
    raise UnknownName("Morse sign", sign, [row["sign"] for row in rows("morse_code")])
