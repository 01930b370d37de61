"""Which characters the book's fonts hold."""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib import resources


def missing_glyphs(text: str) -> str:
    """Characters of a text that the book's fonts do not hold, each once, in order.

    Parameters
    ----------
    text : str
        Any text. White space and format characters (joiners, marks of direction) print nothing and never count.
    Returns
    -------
    str
        Empty when all of it prints.
    Notes
    -----
    A character is also looked for composed (NFC): a letter and its combining accent count as the accented letter.
    """
    composed = unicodedata.normalize("NFC", text)
    return "".join(dict.fromkeys(c for c in composed if not _prints_nothing(c) and not _held(ord(c))))


def _prints_nothing(char: str) -> bool:
    return char.isspace() or unicodedata.category(char) in ("Cc", "Cf")


def _held(code: int) -> bool:
    return any(first <= code <= last for first, last in _coverage())


@cache
def _coverage() -> tuple[tuple[int, int], ...]:
    text = resources.files("rushlight").joinpath("book", "fonts", "coverage.txt").read_text(encoding="ascii")
    ranges = (line.split("-") for line in text.split())
    return tuple((int(first, 16), int(last, 16)) for first, last in ranges)
