"""Amounts as a modeller says them: sensible digits, the unit after them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

from rushlight.stages.shopping import ohm_text, resistor_text
from rushlight.units import Range

__all__ = [
    "LIKELY", "amount", "compressed", "in_brackets", "likely_words", "ma_words", "mm_words", "ohm_text",
    "range_words", "resistor_text", "run_words", "sentence", "span",
]

VAGUE = 1000.0
"""A range whose ends lie so many times apart, or farther, is told in words."""

MINUTES_BELOW_H, DAYS_ABOVE_H, YEARS_ABOVE_H = 2.0, 72.0, 87600.0
"""Run times outside these are told in minutes or days; above the last nothing drains the cells but their own age."""


def amount(value: float, unit: str = "", digits: int = 2) -> str:
    """A value with so many significant digits and its unit.

    Parameters
    ----------
    value : float
        Any number; without end it reads 'no limit'.
    unit : str
        Written after a space where given.
    digits : int
        Significant digits; whole numbers keep all of theirs up to 9999.
    Returns
    -------
    str
        '470 ohm', '0.85 mA', '12 mm'.
    Examples
    --------
    >>> amount(0.8471, "mA")
    '0.85 mA'
    """
    if not math.isfinite(value):
        return "no limit" if value > 0 else "unknown"
    text = _digits(value, digits)
    return f"{text} {unit}" if unit else text


def _digits(value: float, digits: int) -> str:
    if value == 0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    if rounded == int(rounded) and abs(rounded) >= 10 ** (digits - 1):
        return f"{rounded:.0f}"
    text = format(Decimal(f"{rounded:.{max(places, 0)}f}"), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def span(low: float, high: float, unit: str = "", digits: int = 2) -> str:
    """An interval: '5 to 7 h'; one number where both ends read alike; 'more than ...' without an upper end."""
    if math.isinf(high) and math.isinf(low):
        return "no limit"
    if math.isinf(high):
        return f"more than {amount(low, unit, digits)}"
    first, last = amount(low, "", digits), amount(high, "", digits)
    words = first if first == last else f"{first} to {last}"
    return f"{words} {unit}" if unit else words


def range_words(value: Range, unit: str = "", *, times: float = 1.0, digits: int = 2) -> str:
    """A range's two ends with the unit, each multiplied by `times` first; in words where they lie far apart."""
    if math.inf > value.high > VAGUE * value.low > 0:
        return f"up to {amount(value.high * times, unit, digits)}, perhaps next to nothing"
    return span(value.low * times, value.high * times, unit, digits)


LIKELY = ("What is likely holds about 19 times in 20, for guesses seldom all err to the same side; at the outside they "
          "all do.")
"""What a likely range means, in words."""


def likely_words(likely: Range, outer: Range, unit: str = "", *, times: float = 1.0) -> str:
    """The likely range with the outer one beside it: '20 to 70; 15 to 90 at the outside'; one where both read alike."""
    inner, outside = (range_words(value, unit, times=times) for value in (likely, outer))
    return inner if inner == outside else f"{inner}; {outside} at the outside"


def in_brackets(likely: Range, outer: Range, *, times: float = 1.0) -> str:
    """The likely range with the outer one in brackets, for narrow columns: '20 to 70 (15 to 90)'."""
    inner, outside = (range_words(value, times=times) for value in (likely, outer))
    return inner if inner == outside else f"{inner} ({outside})"


def ma_words(value: Range) -> str:
    """A current in mA."""
    return range_words(value, "mA", times=1000.0)


def mm_words(value: float | None) -> str:
    """A size in mm, to a hundredth below 3 mm."""
    if value is None:
        return ""
    return f"{value:.2f} mm".replace(".00 ", " ") if value < 3 else f"{value:.1f} mm".replace(".0 ", " ")


def run_words(hours: Range | None) -> str:
    """A run time: minutes below two hours, days above three; over ten years, or without end on the mains' side."""
    if hours is None:
        return "not known"
    if math.isinf(hours.low):
        return "as long as it is plugged in"
    if hours.high < MINUTES_BELOW_H:
        return span(hours.low * 60, hours.high * 60, "min")
    if hours.low > YEARS_ABOVE_H:
        return "over 10 years, as far as the cells keep"
    return span(hours.low / 24, hours.high / 24, "days") if hours.low > DAYS_ABOVE_H else span(hours.low, hours.high,
                                                                                               "h")


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def compressed(names: Iterable[str], most: int = 40) -> str:
    """Names as a list in which runs of numbered ones are drawn together.

    Parameters
    ----------
    names : iterable of str
        In order.
    most : int
        Entries after which the rest is counted only.
    Returns
    -------
    str
        'bow, portlights 1 to 12, portlights m1 to m12'.
    Examples
    --------
    >>> compressed(["a 1", "a 2", "a 3", "b"])
    'a 1 to 3, b'
    """
    entries = _entries(list(names))
    shown, rest = entries[:most], len(entries) - most
    return ", ".join(shown) + (f" and {rest} more" if rest > 0 else "")


_NUMBERED = re.compile(r"(?P<stem>.*?)(?P<number>\d+)$", re.DOTALL)


def _entries(names: Sequence[str]) -> list[str]:
    found: list[str] = []
    run: list[str] = []
    for name in names:
        if run and not _follows(run[-1], name):
            found += _run_entry(run)
            run = []
        run.append(name)
    return found + _run_entry(run)


def _follows(before: str, after: str) -> bool:
    a, b = _NUMBERED.match(before), _NUMBERED.match(after)
    if a is None or b is None or len(a["number"]) > 9 or len(b["number"]) > 9:
        return False
    return a["stem"] == b["stem"] and int(b["number"]) == int(a["number"]) + 1


def _run_entry(run: Sequence[str]) -> list[str]:
    if len(run) < 3:
        return list(run)
    last = _NUMBERED.match(run[-1])
    return [f"{run[0]} to {last['number']}" if last else run[0]]
