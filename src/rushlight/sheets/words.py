"""Words that are safe in every output."""

from __future__ import annotations

import math
import re
import unicodedata
from decimal import Decimal
from textwrap import wrap

from rushlight.model.sheet import Cell

LONGEST_LABEL = 80
"""Longest text that a drawing shows; a longer one would push everything else off the page."""

_FORBIDDEN = re.compile(
    "[\\x00-\\x08\\x0b\\x0c\\x0e-\\x1f\\x7f-\\x9f\\u202a-\\u202e\\u2066-\\u2069\\ud800-\\udfff\\ufffe\\uffff]")
"""Controls but for tab, line feed and carriage return; direction overrides; surrogates and what is no character."""


def printable(text: str) -> str:
    """The text without characters that no document may hold: controls, lone surrogates, direction overrides.

    Notes
    -----
    Line breaks and tabs stay. Direction overrides (U+202A to U+202E, U+2066 to U+2069) would disturb the words around
    them. What XML 1.0 forbids is left out.
    """
    return _FORBIDDEN.sub("", text)


def one_line(text: str) -> str:
    """The text made printable, with every run of white space as one space."""
    return " ".join(printable(text).split())


def slug(text: str) -> str:
    """A key from the user's words: accents dropped, everything else but letters and digits as one hyphen.

    Parameters
    ----------
    text : str
        Any text.
    Returns
    -------
    str
        1 to 62 characters of a-z, 0-9 and '-'; 'x' where nothing is left. Different texts may give one key.
    Examples
    --------
    >>> slug("Après-deck, port 2")
    'apres-deck-port-2'
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    key = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60].rstrip("-") or "x"
    return f"{key}-x" if _RESERVED.fullmatch(key) else key


_RESERVED = re.compile(r"con|prn|aux|nul|(com|lpt)[0-9]")
"""Names that no file may have on Windows."""


def shortened(text: str, most: int) -> str:
    """The text on one line, cut to at most this many characters, with an ellipsis where it was cut."""
    line = one_line(text)
    return line if len(line) <= most else line[:most - 1].rstrip() + "…"


def wrapped(text: str, most: int) -> tuple[str, ...]:
    """The text in lines of at most this many characters, broken between words; a longer word is broken itself."""
    return tuple(wrap(one_line(text), most, break_on_hyphens=False)) or ("",)


def cut_at_clause(text: str, most: int) -> tuple[str, str]:
    """The text on one line in two parts, the first at most this long.

    Parameters
    ----------
    text : str
        A caption.
    most : int
        Characters of the first part, above 0.
    Returns
    -------
    tuple of str
        Cut after the last sentence that fits, else after the last clause, else word, else letter, of the second half
        of the room; the second part is empty where all fits. Together they hold every word.
    """
    line = one_line(text)
    if len(line) <= most:
        return line, ""
    for end in (". ", "; ", ", ", " "):
        at = line.rfind(end, most // 2, most)
        if at > 0:
            return line[: at + len(end.rstrip())], line[at + len(end):]
    return line[:most], line[most:]


def label(text: str) -> str:
    """A text as a drawing shows it: one line of at most LONGEST_LABEL characters."""
    return shortened(text, LONGEST_LABEL)


def shown(cell: Cell, decimals: int | None = None) -> str:
    """A cell as people read it: decimals if given, else three digits; a dash where there is nothing.

    Parameters
    ----------
    cell : str, float, int or None
        The value.
    decimals : int or None
        Digits after the point; None keeps three significant digits (whole numbers in full).
    Returns
    -------
    str
        Text with a true minus sign.
    """
    if cell is None:
        return "–"
    if isinstance(cell, str):
        return printable(cell)
    if not math.isfinite(cell):
        return "unknown" if math.isnan(cell) else "no limit"
    return _digits(cell, decimals).replace("-", "−")


def _digits(value: float, decimals: int | None) -> str:
    if decimals is not None:
        return _unsigned_zero(f"{value:.{decimals}f}")
    if isinstance(value, int) or abs(value) >= 1000:
        return f"{value:.0f}"
    return _unsigned_zero(format(Decimal(f"{value:.3g}"), "f"))


def _unsigned_zero(text: str) -> str:
    return text.lstrip("-") if float(text) == 0 else text
