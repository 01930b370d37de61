"""Numbers and quantities as people write them: 3 mm, 1 1/2", 5 ft 6 in, 1/8 in, 20 mA, 1 h 30 min, 1:72."""

from __future__ import annotations

import math
import re
import unicodedata
from decimal import Decimal, DecimalException
from functools import cache

from rushlight.electric.resistor_bands import value_of_letters
from rushlight.errors import UnknownName
from rushlight.tables import rows

LONGEST = 64
_NUMBER = r"[+-]?(?:\d+[ -]\d+/\d+|\d+/\d+|(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?)"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([^\s\d.,+-][^\s\d.,+-]*[23]?)?\s*")
_COMMA = re.compile(r"\d,\d")
_RATIO = re.compile(rf"\s*({_NUMBER})\s*[:/]\s*({_NUMBER})\s*")
_TO_THE_FOOT = re.compile(r"(.+?)\s*(?:=|\bto the\b|\bto\b|\bper\b)\s*(?:1\s*)?(?:foot|ft|')\s*$")
_NOT_FINITE = re.compile(r"[+-]?\.?(?:nan|inf|infinity)", re.IGNORECASE)


class NotThat(ValueError):
    """A text that is not the quantity asked for; `found` says what is wrong with it, "" if nothing more is known."""

    def __init__(self, found: str = "", expected: str = "") -> None:
        super().__init__(found or expected)
        self.found = found
        self.expected = expected


@cache
def unit_words() -> dict[str, tuple[str, Decimal]]:
    """Dimension and factor of each unit word, in lower case."""
    return {row["word"].casefold(): (row["dimension"], Decimal(row["factor"])) for row in rows("unit_words")}


def dimension(unit: str) -> str:
    """What a key's unit measures: a length, an angle, ..."""
    return unit_words()[unit][0]


def quantity(text: str, unit: str) -> float:
    """The quantity in the key's unit; a bare number is in that unit already.

    Raises
    ------
    NotThat
        If the text is no quantity of that dimension.
    """
    quick = _quick(text)
    if quick is not None:
        return quick
    if unit == "ohm" and (coded := _coded_ohm(text)) is not None:
        return coded
    terms = _terms(text)
    if len(terms) > 1 and not all(word for _, word in terms):
        raise NotThat
    return _finite(sum((value * _ratio(word, unit) for value, word in terms), Decimal(0)))


def _coded_ohm(text: str) -> float | None:
    """A resistance in letters and digits, 4k7 or 470R; None where it is something else."""
    try:
        return value_of_letters(text.strip())
    except UnknownName:
        return None


def _quick(text: str) -> float | None:
    """A bare decimal number, the usual case."""
    if len(text) > LONGEST:
        raise NotThat(f"{len(text)} characters long")
    if text and text.isascii() and text[0] not in "iInN_" and "_" not in text:
        try:
            value = float(text)
        except ValueError:
            return None
        return _finite(value)
    return None


def _finite(value: float | Decimal) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise NotThat("not a finite number")
    return number


def _terms(text: str) -> list[tuple[Decimal, str]]:
    text = _spelt_out(text.strip())
    if _NOT_FINITE.fullmatch(text):
        raise NotThat("not a finite number")
    if _COMMA.search(text):
        raise NotThat("a number with a comma", "a decimal point, as in 2.5, and no comma between thousands")
    terms, place = [], 0
    while place < len(text):
        match = _TERM.match(text, place)
        if match is None:
            raise NotThat
        terms.append((_number(match[1]), (match[2] or "").casefold()))
        place = match.end()
    if not terms:
        raise NotThat
    return terms


def _spelt_out(text: str) -> str:
    """Fractions in one character, such as the half, as 1/2; a real minus sign as a hyphen."""
    if text.isascii():
        return text
    letters = []
    for letter in text:
        name = unicodedata.normalize("NFKC", letter) if unicodedata.category(letter) == "No" else letter
        letters.append(" " + name.replace("⁄", "/") if "⁄" in name else letter)
    return "".join(letters).replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ").strip()


def _number(text: str) -> Decimal:
    try:
        if "/" not in text:
            return Decimal(text)
        sign = -1 if text.startswith("-") else 1
        *whole, part = re.split(r"[ -]", text.lstrip("+-"))
        over, under = part.split("/")
        return sign * (Decimal(whole[0] if whole else 0) + Decimal(over) / Decimal(under))
    except (DecimalException, ArithmeticError):
        raise NotThat("a division by 0") from None


def _ratio(word: str, unit: str) -> Decimal:
    """What the word's unit is in the key's unit."""
    if not word:
        return Decimal(1)
    known = unit_words()
    if word not in known:
        raise NotThat(f"'{word}' is no unit that is known")
    kind, factor = known[word]
    wanted, base = known.get(unit, ("share", Decimal(1)))
    if kind != wanted:
        raise NotThat(f"a {kind}")
    return factor / base


def plain_number(text: str) -> float:
    """A number without a unit; a share may be written in per cent.

    Raises
    ------
    NotThat
        If the text is no number.
    """
    return quantity(text, "")


def whole_number(text: str) -> int:
    """A whole number.

    Raises
    ------
    NotThat
        If the text is none.
    """
    value = plain_number(text)
    if not value.is_integer() or abs(value) > 1e15 or "/" in text:
        raise NotThat
    return int(value)


def count_range(text: str) -> tuple[int, int]:
    """A count, `2`, or a range of it, `2-3` or `2 to 3`.

    Raises
    ------
    NotThat
        If the text is neither.
    """
    parts = re.fullmatch(r"(\d{1,9})(?:\s*(?:-|–|to)\s*(\d{1,9}))?", text.strip())
    if parts is None:
        raise NotThat
    low, high = int(parts[1]), int(parts[2] or parts[1])
    if high < low:
        raise NotThat("a range that runs backwards")
    return low, high


def scale(text: str) -> float:
    """The number N of a scale 1:N: from 1:72, 1/72, 72, or '1/8 in to the foot'.

    Raises
    ------
    NotThat
        If the text is no scale.
    """
    stripped = text.strip()
    if len(stripped) > LONGEST:
        raise NotThat(f"{len(stripped)} characters long")
    to_the_foot = _TO_THE_FOOT.fullmatch(stripped)
    if to_the_foot:
        return _inverse(quantity(to_the_foot[1], "mm"), 304.8)
    ratio = _RATIO.fullmatch(stripped)
    if ratio:
        return _inverse(float(_number(ratio[1])), float(_number(ratio[2])))
    return plain_number(stripped)


def _inverse(model: float, subject: float) -> float:
    if model <= 0 or not math.isfinite(subject):
        raise NotThat("a scale with nothing on one side")
    return subject / model
