"""An LED without a data sheet: its law from volts read across it and across the resistor before it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rushlight.electric.led import THERMAL_V, DiodeLaw, LawSpread, fitted_law, voltage_at_current
from rushlight.errors import OutOfRange

LEAST_A = 2e-5
"""Under this current nothing flows that a cheap meter tells from nothing (project rule)."""

LED_V = (1.2, 4.5)
"""What a visible LED of one chip drops at currents of the bench (from memory: red from 1.5 V, violet to 4 V)."""

LEAST_STEP = 1.5
"""Currents nearer to each other than this ratio tell no slope: the meter's error is as large (project rule)."""

DIGITS_V = 0.02
"""Two last digits of a cheap meter's 20 V range (from memory, typical)."""

RESISTOR_SHARE = 0.05
"""How far an E24 resistor may be off (IEC 60063, from memory)."""

BAG_V = 0.1
"""How far others of the bag lie off the one that was read: makers' bins are 0.1 to 0.2 V wide (from memory)."""

MANY = 3
"""From so many pieces on, half of it is added to their own span (project rule)."""

LEFT_V = 0.1
"""What is left either way of an LED's voltage once three of the bag were read: half of `BAG_V`, and as much again for
meter and resistor."""

STEEPER = (0.4, 2.5)
"""How many times steeper than its colour's law an LED may be; beyond, the readings contradict each other (project
rule: tabled laws of one colour family differ by less)."""


@dataclass(frozen=True, slots=True)
class LedReading:
    """One reading: the resistor [ohm], volts across the LED and across the resistor [V]."""

    ohm: float
    led_v: float
    resistor_v: float

    @property
    def current_a(self) -> float:
        """Ohm's law."""
        return self.resistor_v / self.ohm


@dataclass(frozen=True, slots=True)
class ReadLaw:
    """The law that readings come to, how far LEDs of that bag lie under and over it [V], the currents read [A]."""

    law: DiodeLaw
    low_v: float
    high_v: float
    least_a: float
    most_a: float


def law_of_readings(readings: Sequence[LedReading], usual: LawSpread, *, off_share: float = 0.01) -> ReadLaw:
    """The law of an LED from readings behind two resistors or more.

    Parameters
    ----------
    readings : sequence of LedReading
        Behind two different resistors at least; several behind the same one are other pieces of the bag.
    usual : LawSpread
        What is believed of its colour.
    off_share : float
        How far the meter may be off, as a share, beside its last digits.
    Returns
    -------
    ReadLaw
        Of two currents: the colour's law made steeper or flatter and moved, exact at both. Of three or more: least
        squares. The span holds the meter's and the resistors' error, the pieces read, and others of the bag.
    Raises
    ------
    OutOfRange
        If nothing flows, no LED drops such a voltage, the currents lie too near to each other, or the voltage does
        not rise with the current as an LED's does.
    Source
    ------
    Ohm's law; Shockley's law with a series resistor.
    Examples
    --------
    >>> from rushlight.electric.led import law_spread
    >>> read = (LedReading(1000, 1.83, 3.17), LedReading(220, 1.95, 3.05))
    >>> round(float(voltage_at_current(law_of_readings(read, law_spread('red')).law, 3.17e-3)), 3)
    1.83
    """
    for one in readings:
        _check(one)
    amps, volts = _means(readings)
    if len(amps) < 2 or amps[-1] < LEAST_STEP * amps[0]:
        raise OutOfRange("currents of", " and ".join(f"{1000 * one:.3g} mA" for one in amps),
                         "two that differ: take resistors of which one is three times the other or more")
    law = _through_two(amps, volts, usual.typical) if len(amps) == 2 else _through_many(amps, volts)
    low, high = _span(readings, law, off_share)
    return ReadLaw(law, low, high, amps[0], amps[-1])


def _check(one: LedReading) -> None:
    if one.current_a < LEAST_A:
        raise OutOfRange("a current of", f"{1e6 * one.current_a:.2g} uA",
                         "20 uA or more: is the LED the wrong way round, or a joint open?")
    if not LED_V[0] <= one.led_v <= LED_V[1]:
        raise OutOfRange("a forward voltage of", f"{one.led_v:.3g} V",
                         f"{LED_V[0]:g} to {LED_V[1]:g} V, as one LED has: probes on its two legs, and the right way "
                         "round?")


def _means(readings: Sequence[LedReading]) -> tuple[list[float], list[float]]:
    """Mean current and voltage behind each resistor, the least current first."""
    behind: dict[float, list[LedReading]] = {}
    for one in readings:
        behind.setdefault(one.ohm, []).append(one)
    means = sorted(
        (sum(one.current_a for one in own) / len(own), sum(one.led_v for one in own) / len(own))
        for own in behind.values()
    )
    return [amps for amps, _ in means], [volts for _, volts in means]


def _through_two(amps: Sequence[float], volts: Sequence[float], usual: DiodeLaw) -> DiodeLaw:
    """The usual law with slope and resistance times one factor, through both points."""
    usual_rise = float(voltage_at_current(usual, amps[1]) - voltage_at_current(usual, amps[0]))
    rise = volts[1] - volts[0]
    if rise + 2 * DIGITS_V < STEEPER[0] * usual_rise or rise - 2 * DIGITS_V > STEEPER[1] * usual_rise:
        raise OutOfRange("a rise of", f"{rise:.3g} V from {1000 * amps[0]:.3g} to {1000 * amps[1]:.3g} mA",
                         f"about {usual_rise:.2g} V, as its colour has (two readings or resistors exchanged, perhaps)")
    times = min(max(rise / usual_rise, STEEPER[0]), STEEPER[1])
    slope, ohm = usual.slope_v * times, usual.series_ohm * times
    logs = [volt - ohm * amp - slope * math.log(amp) for amp, volt in zip(amps, volts, strict=True)]
    return DiodeLaw(math.exp(-sum(logs) / 2 / slope), slope / THERMAL_V, ohm)


def _through_many(amps: Sequence[float], volts: Sequence[float]) -> DiodeLaw:
    return fitted_law(amps, volts, exact_a=math.sqrt(amps[0] * amps[-1]))


def _span(readings: Sequence[LedReading], law: DiodeLaw, off_share: float) -> tuple[float, float]:
    """How far under and over the law LEDs of the bag may lie."""
    pieces = max(sum(other.ohm == one.ohm for other in readings) for one in readings)
    bag = BAG_V / 2 if pieces >= MANY else BAG_V
    low, high = 0.0, 0.0
    for one in readings:
        off = one.led_v - float(voltage_at_current(law, one.current_a))
        error = off_share * one.led_v + DIGITS_V
        error += (law.slope_v + law.series_ohm * one.current_a) * (RESISTOR_SHARE + off_share)
        low, high = min(low, off - error), max(high, off + error)
    return low - bag, high + bag
