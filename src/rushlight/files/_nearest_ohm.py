"""The right resistance nearest to one that is written wrong: 4,7k is meant as 4.7k, 4k7k as 4k7."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rushlight.errors import nearest_word
from rushlight.files._quantity import NotThat, quantity, unit_words

_MIXED_UP = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1"})
_CODE = re.compile(r"\d*[RrKkMG]\d*(?=[A-Za-zΩΩ ]|$)")
_MEGA = re.compile(r"(\d+(?:\.\d+)?)\s*[Mm](?:ohms?|[ΩΩ])?")
_WORDED = re.compile(r"([\d.]+)\s*([^\W\d]+)")


def nearest_ohm(text: str, low_ohm: float, high_ohm: float) -> str | None:
    """The resistance that was meant, as it would be written, or None where nothing near is one.

    Parameters
    ----------
    text : str
        As it stands, and no resistance between the bounds.
    low_ohm, high_ohm : float
        Bounds [ohm], both included.
    Returns
    -------
    str or None
        A text that reads as a resistance between the bounds; of a number outside them the nearer bound.
    """
    found = next((one for one in _candidates(text.strip()) if _inside(one, low_ohm, high_ohm)), None)
    read = _read(text)
    if found is not None or read is None:
        return found
    return _written(low_ohm if read < low_ohm else high_ohm)


def _written(ohm: float) -> str:
    return f"{ohm / 1e6:.9g}M" if ohm >= 1e6 else f"{ohm:.9g}"


def _read(text: str) -> float | None:
    try:
        return quantity(text, "ohm")
    except NotThat:
        return None


def _inside(text: str, low_ohm: float, high_ohm: float) -> bool:
    read = _read(text)
    return read is not None and low_ohm <= read <= high_ohm


def _candidates(text: str) -> Iterator[str]:
    """What may have been meant, the likeliest slip of the hand first."""
    yield text.lstrip("-−– ")
    yield re.sub(r",(?=\d{3}(?!\d))", "", text)
    yield text.replace(",", ".")
    yield text.translate(_MIXED_UP)
    yield from _with_unit(text)
    if code := _CODE.match(text.replace(" ", "")):
        yield code[0]


def _with_unit(text: str) -> Iterator[str]:
    """A small m for mega, else for a thousandth; a unit's word with a slip in it."""
    if mega := _MEGA.fullmatch(text):
        yield f"{mega[1]}M"
        yield f"{float(mega[1]) / 1000.0:g}"
    worded = _WORDED.fullmatch(text)
    near = _unit_near(worded[2]) if worded else None
    if worded and near:
        yield f"{worded[1]} {near}"


def _unit_near(word: str) -> str | None:
    """The unit of resistance that a word is meant as; its first letter tells a thousand from one."""
    known = [unit for unit, (kind, _) in unit_words().items() if kind == "resistance" and unit.isascii()]
    alike = [unit for unit in known if unit[0] == word[0].casefold()]
    return None if word.casefold() in unit_words() else nearest_word(word, alike or known)
