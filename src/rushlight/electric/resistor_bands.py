"""Marks of resistors: colour bands and letters (IEC 60062), both ways."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from rushlight.electric.resistor import SERIES_SIZES, value_not_below
from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import Row, number, rows

FIVE_BANDS_TO = 0.02
"""Resistors of this tolerance or closer have three digits, so five bands (common practice, no source)."""

LETTER_OF_POWER = ((9, "G"), (6, "M"), (3, "K"), (0, "R"))


def colour_bands(ohm: float, tolerance: float, *, bands: int = 4) -> tuple[str, ...]:
    """Colour bands of a resistor, as read from the end nearest to them.

    Parameters
    ----------
    ohm : float
        Value [ohm] with two digits (four bands) or three (five bands), 0.1 to 99e9.
    tolerance : float
        Tolerance as a fraction, one of IEC 60062's.
    bands : int
        4 or 5.
    Returns
    -------
    tuple of str
        Colours; the last is the tolerance.
    Raises
    ------
    OutOfRange
        If the value needs more digits, or a band does not exist.
    UnknownName
        If no colour stands for the tolerance.
    Notes
    -----
    Digits, then the power of ten: gold -1, silver -2, pink -3.
    Source
    ------
    IEC 60062, in `data/resistor_bands.csv` (from memory).
    Examples
    --------
    >>> colour_bands(470, 0.05)
    ('yellow', 'violet', 'brown', 'gold')
    """
    if bands not in (4, 5):
        raise OutOfRange("bands", bands, "4 or 5")
    if not 0.01 <= ohm < 1e12:
        raise OutOfRange("ohm", ohm, "0.01 to 1e12 ohm")
    digits = bands - 2
    power = math.floor(math.log10(ohm) + 1e-12) - digits + 1
    figures = round(ohm / 10.0**power)
    if abs(figures * 10.0**power - ohm) > 1e-9 * ohm:
        raise OutOfRange("ohm", ohm, f"a value of {digits} digits")
    colours = tuple(band_meanings("digit")[int(digit)] for digit in str(figures))
    return (*colours, _power_band(power), _tolerance_band(tolerance))


def usual_bands(ohm: float, tolerance: float) -> tuple[str, ...]:
    """The bands a resistor of this tolerance usually bears: five for 2 % and closer, else four.

    A value that needs more digits than that has bands has none, as `colour_bands` says.
    """
    return colour_bands(ohm, tolerance, bands=5 if tolerance <= FIVE_BANDS_TO else 4)


def value_of_bands(bands: tuple[str, ...]) -> tuple[float, float]:
    """Value [ohm] and tolerance of four or five colour bands; the inverse of `colour_bands`."""
    if len(bands) not in (4, 5):
        raise OutOfRange("bands", bands, "4 or 5 colours")
    figures = 0
    for colour in bands[:-2]:
        figures = 10 * figures + int(_meaning("digit band", "digit", colour))
    power = int(_meaning("multiplier band", "power_of_ten", bands[-2]))
    tolerance = _meaning("tolerance band", "tolerance", bands[-1])
    return (float(figures * 10**power) if power >= 0 else figures / 10**-power), tolerance


@dataclass(frozen=True, slots=True)
class BandsRead:
    """What a resistor's bands say: value [ohm], tolerance as a fraction, the coarsest series that has it (None: none).

    `other_way` is the same read from the other end, where that is a value of a series and this is not.
    """

    ohm: float
    tolerance: float
    series: str | None
    other_way: BandsRead | None = None


def read_bands(colours: Sequence[str]) -> BandsRead:
    """A resistor's value from its colours, and whether they may have been read from the wrong end.

    Parameters
    ----------
    colours : sequence of str
        Four or five, the one that stands apart last; any case, 'grey' or 'gray'.
    Returns
    -------
    BandsRead
        With the coarsest series that has the value.
    Raises
    ------
    OutOfRange
        If there are not four or five.
    UnknownName
        If a colour does not exist in its place, from either end.
    Source
    ------
    IEC 60062 and IEC 60063 (from memory).
    Examples
    --------
    >>> read_bands(("yellow", "violet", "brown", "gold")).ohm
    470.0
    """
    bands = tuple({"gray": "grey"}.get(word.strip().lower(), word.strip().lower()) for word in colours)
    turned = _read(bands[::-1])
    try:
        straight = _of_value(*value_of_bands(bands))
    except UnknownName:
        if turned is None or turned.series is None:
            raise
        return turned
    return replace(straight, other_way=turned if straight.series is None and turned and turned.series else None)


def _read(bands: tuple[str, ...]) -> BandsRead | None:
    try:
        return _of_value(*value_of_bands(bands))
    except (UnknownName, OutOfRange):
        return None


def _of_value(ohm: float, tolerance: float) -> BandsRead:
    fits = (steps for steps in SERIES_SIZES if 0.01 <= ohm <= 1e9 and math.isclose(value_not_below(ohm, steps), ohm))
    found = next(fits, None)
    return BandsRead(ohm, tolerance, None if found is None else f"E{found}")


def letter_code(ohm: float, tolerance: float) -> str:
    """Value and tolerance in letters and digits, as printed on bodies and on circuit drawings.

    Parameters
    ----------
    ohm : float
        Value [ohm], 0.01 to 1e12.
    tolerance : float
        Tolerance as a fraction, one of IEC 60062's.
    Returns
    -------
    str
        A letter stands where the decimal point is (R, K, M, G), the last tells the tolerance: '4K7J'.
    Raises
    ------
    OutOfRange
        If the value is out of range.
    UnknownName
        If no letter stands for the tolerance.
    Source
    ------
    IEC 60062, in `data/resistor_bands.csv` (from memory).
    Examples
    --------
    >>> letter_code(4700, 0.05), letter_code(330, 0.01)
    ('4K7J', '330RF')
    """
    if not 0.01 <= ohm < 1e12:
        raise OutOfRange("ohm", ohm, "0.01 to 1e12 ohm")
    power, letter = next(((p, word) for p, word in LETTER_OF_POWER if ohm >= 10**p * (1 - 1e-12)), (0, "R"))
    whole, _, part = f"{ohm / 10**power:.6g}".partition(".")
    return f"{whole}{letter}{part}{_tolerance_row(tolerance)['letter']}"


_LETTERS = re.compile(r"(\d*)([RrKkMG])(\d*)([A-Z]?)")


def value_of_letters(text: str) -> float:
    """The resistance that letters and digits tell.

    Parameters
    ----------
    text : str
        As printed on a body or written on a drawing: '4K7', 'R47', '330R', '4K7J'; a small k or r will do, and so
        will a decimal point before the letter, '4.7k'. A small m would be a thousandth and is refused.
    Returns
    -------
    float
        Resistance [ohm]; a letter of the tolerance at the end is read over.
    Raises
    ------
    UnknownName
        If the text is no such code.
    Source
    ------
    IEC 60062, in `data/resistor_bands.csv` (from memory).
    Examples
    --------
    >>> value_of_letters("4k7"), value_of_letters("R47"), value_of_letters("330RF")
    (4700.0, 0.47, 330.0)
    """
    bare = text.replace(" ", "")
    pointed = re.fullmatch(r"(\d+)\.(\d+)([RrKkMG])", bare)
    found = _LETTERS.fullmatch(f"{pointed[1]}{pointed[3]}{pointed[2]}" if pointed else bare)
    tolerances = {row["letter"] for row in rows("resistor_bands") if row["letter"]} | {""}
    if found is None or not (found[1] or found[3]) or found[4] not in tolerances:
        raise UnknownName("letter code", text, ("4K7", "470R", "1M", "R47"))
    power = next(power for power, letter in LETTER_OF_POWER if letter == found[2].upper())
    return float(Decimal(f"{found[1] or 0}.{found[3] or 0}").scaleb(power))


@cache
def band_meanings(column: str) -> dict[float, str]:
    """The colour of each digit, power_of_ten or tolerance, by its number (`data/resistor_bands.csv`)."""
    found = {}
    for row in rows("resistor_bands"):
        value = number(row, column)
        if value is not None:
            found[value] = row["colour"]
    return found


def _meaning(band: str, column: str, colour: str) -> float:
    known = {word: value for value, word in band_meanings(column).items()}
    if colour not in known:
        raise UnknownName(band, colour, known)
    return known[colour]


def _power_band(power: int) -> str:
    if power not in band_meanings("power_of_ten"):
        raise OutOfRange("ohm", f"10^{power}", "a power of ten from -3 to 9")
    return band_meanings("power_of_ten")[power]


def _tolerance_band(tolerance: float) -> str:
    return _tolerance_row(tolerance)["colour"]


def _tolerance_row(tolerance: float) -> Row:
    known = {row["tolerance"]: row for row in rows("resistor_bands") if row["tolerance"]}
    for text, row in known.items():
        if math.isclose(float(text), tolerance, rel_tol=1e-9):
            return row
    raise UnknownName("tolerance", f"{tolerance:g}", [f"{float(text):g}" for text in known])
