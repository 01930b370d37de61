"""Resistors: series of preferred values, the value for an LED, ratings, derating."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from rushlight.electric.led import DiodeLaw, voltage_at_current
from rushlight.errors import OutOfRange
from rushlight.tables import row_by, rows

SERIES_SIZES = (6, 12, 24, 48, 96)
"""Steps in a decade of each E series."""

SERIES_TOLERANCE = ((6, 0.20), (12, 0.10), (24, 0.05), (48, 0.02), (96, 0.01))
"""Tolerance that each series was made for (IEC 60063, from memory)."""

E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
"""The 24 values of IEC 60063, which depart from the rounded geometric series in eight places."""

HABIT_FRACTION = 0.5
"""Share of its rating that a resistor is used at (common practice)."""

FULL_POWER_C = 70.0
ZERO_POWER_C = 155.0


def series_values(steps: int = 24) -> tuple[int, ...]:
    """The values of one decade of an E series.

    Parameters
    ----------
    steps : int
        6, 12, 24, 48 or 96.
    Returns
    -------
    tuple of int
        Two digits each for E6 to E24 (10 to 91), three for E48 and E96 (100 to 976).
    Raises
    ------
    OutOfRange
        If there is no such series.
    Notes
    -----
    E12 and E6 are every second and fourth value of E24; E48 and E96 are 10^(k/n) to three digits.
    Source
    ------
    IEC 60063 (from memory).
    """
    if steps not in SERIES_SIZES:
        raise OutOfRange("steps", steps, "6, 12, 24, 48 or 96")
    if steps <= 24:
        return E24[:: 24 // steps]
    return tuple(round(100 * 10 ** (k / steps)) for k in range(steps))


def value_not_below(wanted_ohm: float, steps: int = 24) -> float:
    """The least preferred value that is not below a resistance.

    Parameters
    ----------
    wanted_ohm : float
        Resistance [ohm], 0.01 to 1e9.
    steps : int
        E series.
    Returns
    -------
    float
        Preferred value [ohm]; a value that is met within one part in 1e9 counts as met.
    Raises
    ------
    OutOfRange
        If the resistance or the series is out of range.
    Source
    ------
    IEC 60063 (from memory).
    """
    return next(value for value in _around(wanted_ohm, steps) if value >= wanted_ohm * (1 - 1e-9))


def value_not_above(wanted_ohm: float, steps: int = 24) -> float:
    """The greatest preferred value that is not above a resistance.

    Parameters
    ----------
    wanted_ohm : float
        Resistance [ohm], 0.01 to 1e9.
    steps : int
        E series.
    Returns
    -------
    float
        Preferred value [ohm]; a value that is met within one part in 1e9 counts as met.
    Raises
    ------
    OutOfRange
        If the resistance or the series is out of range.
    Source
    ------
    IEC 60063 (from memory).
    """
    return max(value for value in _around(wanted_ohm, steps) if value <= wanted_ohm * (1 + 1e-9))


def value_nearest(wanted_ohm: float, steps: int = 24) -> float:
    """The preferred value nearest by ratio to a resistance.

    Parameters
    ----------
    wanted_ohm : float
        Resistance [ohm], 0.01 to 1e9.
    steps : int
        E series.
    Returns
    -------
    float
        Preferred value [ohm]; may let more current through than aimed at.
    Raises
    ------
    OutOfRange
        If the resistance or the series is out of range.
    Source
    ------
    IEC 60063 (from memory).
    """
    return min(_around(wanted_ohm, steps), key=lambda value: abs(math.log(value / wanted_ohm)))


def _around(wanted_ohm: float, steps: int) -> tuple[float, ...]:
    if not 0.01 <= wanted_ohm <= 1e9:
        raise OutOfRange("wanted_ohm", wanted_ohm, "0.01 to 1e9 ohm")
    return _three_decades(math.floor(math.log10(wanted_ohm)) - (1 if steps <= 24 else 2), steps)


@cache
def _three_decades(power: int, steps: int) -> tuple[float, ...]:
    """The values of a decade and of its neighbours; every resistor of a loom asks for some, again and again."""
    return tuple(_exact(value, power + up) for up in (-1, 0, 1) for value in series_values(steps))


def _exact(value: int, power: int) -> float:
    return float(value * 10**power) if power >= 0 else value / 10**-power


def series_resistor_ohm(
    supply_v: float, laws: tuple[DiodeLaw, ...], *, current_a: float, path_ohm: float = 0.0
) -> float:
    """Resistance in series with LEDs that sets a current.

    Parameters
    ----------
    supply_v : float
        Voltage that drives the string [V], 0 to 60.
    laws : tuple of DiodeLaw
        LEDs in series, one or more.
    current_a : float
        Aim [A], 1e-6 to 1.
    path_ohm : float
        Resistance already in the path: supply, switch, wire [ohm], 0 or more.
    Returns
    -------
    float
        Exact resistance [ohm]; take the preferred value not below it.
    Raises
    ------
    OutOfRange
        If an argument is out of range or the supply cannot drive the string at that current.
    Notes
    -----
    (V - sum of forward voltages at the current) / I - path.
    Source
    ------
    Kirchhoff's voltage law and Ohm's law.
    Examples
    --------
    >>> from rushlight.electric.led import law_spread
    >>> round(series_resistor_ohm(9.0, (law_spread('red').typical,), current_a=0.02))
    350
    """
    if not 0 <= supply_v <= 60 or not laws:
        raise OutOfRange("supply_v", supply_v, "0 to 60 V, with one LED or more")
    if not 1e-6 <= current_a <= 1 or path_ohm < 0:
        raise OutOfRange("current_a", current_a, "1e-6 to 1 A, and path_ohm 0 or more")
    left_v = supply_v - sum(float(voltage_at_current(law, current_a)) for law in laws)
    ohm = left_v / current_a - path_ohm
    if ohm < 0:
        raise OutOfRange("supply_v", supply_v, f"at least {supply_v - ohm * current_a:.2f} V for this string")
    return ohm


@dataclass(frozen=True, slots=True)
class Rating:
    """Power that a size of resistor bears."""

    size: str
    rated_w: float
    habit_w: float
    source: str


def ratings() -> tuple[Rating, ...]:
    """Every tabled size of resistor, smallest rating first."""
    return tuple(
        Rating(row["size"], float(row["rated_w"]), HABIT_FRACTION * float(row["rated_w"]), row["source"])
        for row in rows("resistor_ratings")
    )


def rating_of(size: str) -> Rating:
    """The rating of one size.

    Parameters
    ----------
    size : str
        A size of `resistor_ratings.csv`, such as '0805' or 'axial 1/4 W'.
    Returns
    -------
    Rating
        Rated and habitual power [W].
    Raises
    ------
    UnknownName
        If the table has no such size.
    Source
    ------
    `data/resistor_ratings.csv`.
    """
    row = row_by("resistor_ratings", "size", size)
    return Rating(size, float(row["rated_w"]), HABIT_FRACTION * float(row["rated_w"]), row["source"])


def derated_fraction(ambient_c: float) -> float:
    """Share of its rated power that a resistor bears at an ambient temperature.

    Parameters
    ----------
    ambient_c : float
        Ambient temperature [C], -55 to 155.
    Returns
    -------
    float
        1 up to 70 C, falling straight to 0 at 155 C [-].
    Raises
    ------
    OutOfRange
        If the temperature is out of range.
    Source
    ------
    Usual film resistor data sheets (from memory).
    """
    if not -55 <= ambient_c <= ZERO_POWER_C:
        raise OutOfRange("ambient_c", ambient_c, "-55 to 155 C")
    return min(1.0, (ZERO_POWER_C - ambient_c) / (ZERO_POWER_C - FULL_POWER_C))
