"""Dimming: PWM duty, steps that look even, and the flicker limits of PWM."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import Row, rows

CIE_EPSILON = 216.0 / 24389.0
"""Relative luminance below which CIE lightness is a straight line (CIE 15:2004, exact form)."""

CIE_KAPPA = 24389.0 / 27.0
"""Slope of that straight line (CIE 15:2004, exact form)."""

IEEE_COLUMNS = {"low risk": "low_risk_percent", "no effect": "no_effect_percent"}


@dataclass(frozen=True, slots=True)
class PwmStep:
    """A wanted level as a counter can give it."""

    count: int
    of: int
    level: float
    error_percent: float


def lightness(relative_luminance: float) -> float:
    """CIE lightness L* of a relative luminance: how light it looks beside full.

    Parameters
    ----------
    relative_luminance : float
        Luminance over the full luminance [-], 0 to 1.
    Returns
    -------
    float
        L* [-], 0 (black) to 100 (full).
    Raises
    ------
    OutOfRange
        Outside 0 to 1.
    Notes
    -----
    116 Y^(1/3) - 16 above Y = 216/24389, else 24389/27 Y. Meant for surfaces seen beside white; for a small lamp in
    the dark it is a fair guide to even steps, no more.
    Source
    ------
    CIE 15:2004 section 8.2.1.
    """
    _share("relative_luminance", relative_luminance)
    if relative_luminance <= CIE_EPSILON:
        return CIE_KAPPA * relative_luminance
    return float(116.0 * relative_luminance ** (1.0 / 3.0) - 16.0)


def luminance_of_lightness(lightness_100: float) -> float:
    """Relative luminance [-], 0 to 1, that looks as light as L* says; the inverse of `lightness`.

    Raises
    ------
    OutOfRange
        If L* lies outside 0 to 100.
    Source
    ------
    CIE 15:2004 section 8.2.1, solved for Y.
    """
    if not 0.0 <= lightness_100 <= 100.0:
        raise OutOfRange("lightness", lightness_100, "0 to 100")
    if lightness_100 <= CIE_KAPPA * CIE_EPSILON:
        return lightness_100 / CIE_KAPPA
    return float(((lightness_100 + 16.0) / 116.0) ** 3)


def fade_levels(count: int) -> tuple[float, ...]:
    """Levels of a fade from dark to full in equal steps of CIE lightness [-], first 0, last 1.

    Raises
    ------
    OutOfRange
        If the count is under 2 or over 4096.
    Source
    ------
    CIE 15:2004 lightness; light taken as proportional to level.
    """
    if not 2 <= count <= 4096:
        raise OutOfRange("fade steps", count, "2 to 4096")
    return tuple(luminance_of_lightness(100.0 * k / (count - 1)) for k in range(count))


def pwm_duty(level: float, *, full_duty: float = 1.0) -> float:
    """PWM duty [-] for a wanted level [-] of light when full light needs `full_duty`.

    Raises
    ------
    OutOfRange
        If level or full_duty lies outside 0 to 1 (full_duty over 0).
    Notes
    -----
    An LED's pulses are all alike, so mean light is proportional to duty (pulses long against rise time: over some us).
    Source
    ------
    Talbot-Plateau law.
    """
    _share("level", level)
    if not 0.0 < full_duty <= 1.0:
        raise OutOfRange("full_duty", full_duty, "over 0 to 1")
    return level * full_duty


def pwm_step(level: float, *, bits: int = 8) -> PwmStep:
    """The counter value nearest to a wanted level, at least 1 unless the level is 0.

    Parameters
    ----------
    level : float
        Wanted level [-], 0 to 1.
    bits : int
        Counter width, 1 to 24.
    Returns
    -------
    PwmStep
        Count, its largest value, the level really given, and the error in percent of the wanted level.
    Raises
    ------
    OutOfRange
        If level or bits lies outside its range.
    Source
    ------
    Definition of PWM by a counter.
    """
    _share("level", level)
    if not 1 <= bits <= 24:
        raise OutOfRange("bits", bits, "1 to 24")
    top = 2**bits - 1
    count = max(1, math.floor(level * top + 0.5)) if level > 0 else 0
    given = count / top
    return PwmStep(count, top, given, 100.0 * (given / level - 1.0) if level else 0.0)


def modulation_percent(highest: float, lowest: float) -> float:
    """Modulation of a light that swings between two levels [%]: 100 (max - min) / (max + min).

    Raises
    ------
    OutOfRange
        Unless 0 <= lowest <= highest and highest > 0.
    Source
    ------
    IEEE Std 1789-2015, definition of percent flicker (from memory).
    """
    if not (0.0 <= lowest <= highest and 0.0 < highest < math.inf):
        raise OutOfRange("levels", (lowest, highest), "0 <= lowest <= highest, highest over 0")
    return 100.0 * (highest - lowest) / (highest + lowest)


def modulation_limit_percent(frequency_hz: float, *, level: str = "low risk") -> float:
    """Largest modulation [%] that IEEE 1789 recommends at a frequency; 100 where it sets no limit.

    Parameters
    ----------
    frequency_hz : float
        Frequency of the modulation [Hz], over 0.
    level : str
        `low risk` or `no effect`.
    Returns
    -------
    float
        Limit [%], at most 100.
    Raises
    ------
    OutOfRange
        If the frequency is not over 0.
    UnknownName
        If the level is neither.
    Notes
    -----
    Steady dimming by PWM; a light that is meant to flash is outside its scope.
    Source
    ------
    IEEE Std 1789-2015 clause 8.1.1, table ieee1789_limits.
    """
    if not 0.0 < frequency_hz < math.inf:
        raise OutOfRange("frequency_hz", frequency_hz, "over 0 Hz")
    if level not in IEEE_COLUMNS:
        raise UnknownName("flicker level", level, IEEE_COLUMNS)
    row = next(row for row in rows("ieee1789_limits") if _holds(row, frequency_hz))
    return _limit_percent(row[IEEE_COLUMNS[level]], frequency_hz)


def lowest_pwm_hz(modulation: float = 100.0, *, level: str = "low risk") -> float:
    """Lowest PWM frequency [Hz] at which a modulation [%] keeps the recommended limit.

    Raises
    ------
    OutOfRange
        If the modulation lies outside 0 to 100.
    UnknownName
        If the level is neither `low risk` nor `no effect`.
    Notes
    -----
    The limit grows with frequency, so the first frequency that keeps it is found by halving.
    Source
    ------
    IEEE Std 1789-2015 clause 8.1.1, table ieee1789_limits.
    """
    if not 0.0 <= modulation <= 100.0:
        raise OutOfRange("modulation", modulation, "0 to 100 %")
    low_hz, high_hz = 1e-6, 1e5
    for _ in range(80):
        middle_hz = (low_hz + high_hz) / 2
        if modulation_limit_percent(middle_hz, level=level) >= modulation:
            high_hz = middle_hz
        else:
            low_hz = middle_hz
    return high_hz


def flicker_grade(frequency_hz: float, modulation: float = 100.0) -> str:
    """Which IEEE 1789 recommendation a PWM keeps: `no effect`, `low risk`, or `neither`.

    Source
    ------
    IEEE Std 1789-2015 clause 8.1.1, table ieee1789_limits.
    """
    for level in ("no effect", "low risk"):
        if modulation <= modulation_limit_percent(frequency_hz, level=level):
            return level
    return "neither"


def _holds(row: Row, frequency_hz: float) -> bool:
    return float(row["f_from_Hz"]) <= frequency_hz < float(row["f_to_Hz"] or "inf")


def _limit_percent(cell: str, frequency_hz: float) -> float:
    if cell == "no limit":
        return 100.0
    return min(100.0, float(cell.removesuffix("*f")) * frequency_hz)


def _share(name: str, value: float) -> None:
    if not 0.0 <= value <= 1.0:
        raise OutOfRange(name, value, "0 to 1")
