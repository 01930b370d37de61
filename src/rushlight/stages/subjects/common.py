"""What every kind of subject shares: colours, rates, rhythms and lamps from a row of a table."""

from __future__ import annotations

import re

from rushlight.errors import UnknownName
from rushlight.model.subject_light import RequiredLamp
from rushlight.tables import Row, number, rows

COLOUR_WORDS = ("warm white", "white", "red", "green", "yellow", "amber", "orange", "blue", "violet")
"""Colours that the tables of lights name."""


def colours_in(text: str) -> tuple[str, ...]:
    """Colour words of a cell such as `amber or red`, in order, each once."""
    return tuple(dict.fromkeys(re.findall("|".join(COLOUR_WORDS), text)))


def rhythm_text(subject: str, light: str, given: str) -> str:
    """Rhythm of a light: the usual one of `light_rhythms` where it flashes, else steady."""
    for row in rows("light_rhythms"):
        if row["subject"] == subject and row["light"] == light:
            return row["rhythm"]
    return "steady" if given in ("", "steady", "signal") or given.startswith("steady") else given


def lamp_of_kind(subject: str, row: Row, key_column: str = "key") -> RequiredLamp:
    """A lamp with what its row of a kinds table says; place, count and requirement follow later."""
    colours = colours_in(row["colour"]) or ("white",)
    return RequiredLamp(
        rule_key=row[key_column], light=row[key_column], name=row.get("name") or row[key_column],
        colour=colours[0], colours=colours, arc_deg=_number(row, "arc_deg"),
        bearing_from_deg=_number(row, "bearing_from_deg"), bearing_to_deg=_bearing_to(row), where="", count=1,
        requirement="must", rhythm=rhythm_text(subject, row[key_column], row.get("rhythm", "")),
        rate_min_per_min=_number(row, "rate_min_per_min"), rate_max_per_min=_number(row, "rate_max_per_min"),
        note=row.get("note") or "", source=row["source"],
    )


def kind_row(table: str, key: str) -> Row:
    """The row of a kinds table; an unknown key names the nearest."""
    for row in rows(table):
        if row["key"] == key:
            return row
    raise UnknownName("light", key, [row["key"] for row in rows(table)])


def known_word(what: str, word: str, known: tuple[str, ...]) -> str:
    """The known word that equals `word` but for case and spaces.

    Raises
    ------
    UnknownName
        If there is none; the nearest is named.
    """
    wanted = " ".join(word.split()).casefold()
    for name in known:
        if name.casefold() == wanted:
            return name
    raise UnknownName(what, word, known)


def states_of(table: str, column: str = "state") -> tuple[str, ...]:
    """The states that a table names, each once, in its order."""
    return tuple(dict.fromkeys(row[column] for row in rows(table)))


def _number(row: Row, column: str) -> float | None:
    text = row.get(column) or ""
    return number(row, column) if re.fullmatch(r"[\d.]+", text) else None


def _bearing_to(row: Row) -> float | None:
    to_deg = _number(row, "bearing_to_deg")
    from_deg = _number(row, "bearing_from_deg")
    # A sector that ends dead ahead ends at 360, so that it is never taken as empty.
    return 360.0 if to_deg == 0.0 and from_deg else to_deg
