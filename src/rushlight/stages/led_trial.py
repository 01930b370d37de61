"""An LED without a data sheet, read behind two resistors: which ones, and what the meter should show."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.electric.led import DiodeLaw, voltage_at_current
from rushlight.model.design import Design, PredictedReading
from rushlight.model.drawer import LedPart
from rushlight.stages.at_hand import Offered, resistors_offered, value_offered
from rushlight.stages.gates import METER_SPREAD
from rushlight.stages.parts_law import led_law_range, led_spread
from rushlight.stages.shopping import ohm_text
from rushlight.units import Range

OWN_V = (5.0, 12.6)
"""The model's own supply serves where its voltage lies between these: one LED needs some, and a resistor gets hot at
more (project rule)."""

BLOCK_V = Range(7.5, 9.0, 9.6)
"""A 9 V block serves else: half used to new (from memory, typical)."""

SAG = 0.9
"""The model's own cells are taken to give at least so much of their voltage (project rule)."""

APART = 3.3
"""The greater resistor is at least so many times the lesser, so that the slope shows (project rule)."""

RESISTOR_W = 0.125
"""Half of what a resistor with leads bears, 0.25 W (common practice, no source)."""

HALVINGS = 50


@dataclass(frozen=True, slots=True)
class LedTrial:
    """How one kind of LED is read: the supply [V], the resistors [ohm], the lesser first, and the readings of each.

    readings: across the LED and across the resistor, for each resistor in turn.
    """

    led: str
    supply_v: Range
    own_supply: bool
    resistors_ohm: tuple[float, float]
    readings: tuple[PredictedReading, ...]


def led_trials(design: Design) -> tuple[LedTrial, ...]:
    """For each kind of LED in a design whose law is its colour's from the table: how to read it.

    Parameters
    ----------
    design : Design
        With its emitters and its supply.
    Returns
    -------
    tuple of LedTrial
        Without those that were read already, and those with a resistor built in.
    Source
    ------
    Kirchhoff's law over supply, resistor and LED, with the least and the greatest of each.
    """
    names = sorted({row.part_row for row in design.loom.emitters if row.kind != "strip"})
    leds = [design.drawer.led(name) for name in names]
    volts, own = _supply(design)
    unread = [led for led in leds if led.own_law is None and led.pre_wired_v is None]
    resistors = resistors_offered(design.plan, design.drawer)
    lesser = max((_least_ohm(led, volts, resistors) for led in unread), default=0.0)
    pair = (lesser, value_offered(resistors, APART * lesser)) if unread else (0.0, 0.0)
    return tuple(_trial(led, volts, own, pair) for led in unread)


def _supply(design: Design) -> tuple[Range, bool]:
    supply = design.power.supply
    if supply is None or not OWN_V[0] <= supply.nominal_v <= OWN_V[1]:
        return BLOCK_V, False
    return Range(SAG * supply.nominal_v, supply.nominal_v, max(supply.fresh_v, supply.nominal_v)), True


def _least_ohm(led: LedPart, volts: Range, resistors: tuple[Offered, ...]) -> float:
    """The least resistor that neither the LED nor the resistor itself minds."""
    left = volts.high - led_law_range(led, led.test_ma / 1000).low
    return value_offered(resistors, max(left / (led.test_ma / 1000), left * left / RESISTOR_W))


def _trial(led: LedPart, volts: Range, own: bool, pair: tuple[float, float]) -> LedTrial:
    """The same two resistors for every kind of LED: fewer to look for."""
    return LedTrial(led.name, volts, own, pair, tuple(row for ohm in pair for row in _readings(led, volts, ohm)))


def _readings(led: LedPart, volts: Range, ohm: float) -> tuple[PredictedReading, PredictedReading]:
    across, drop = shares_v(led, volts, ohm)
    value = ohm_text(ohm)
    return (
        PredictedReading(name=f"across the lit {led.name}, behind {value}", dial="20 V DC",
                         red_probe="long leg of the LED", black_probe="short leg of the LED", state=None,
                         reading=_metered(across), unit="V"),
        PredictedReading(name=f"across its resistor of {value}, {led.name}", dial="20 V DC",
                         red_probe="supply side of the resistor", black_probe="LED side of the resistor", state=None,
                         reading=_metered(drop), unit="V"),
    )


def _metered(volts: Range) -> Range:
    return Range(volts.low * (1 - METER_SPREAD), volts.typical, volts.high * (1 + METER_SPREAD))


def shares_v(led: LedPart, volts: Range, ohm: float) -> tuple[Range, Range]:
    """What stands across an LED, and across the resistor before it [V]."""
    spread = led_spread(led)
    laws, ends = (spread.low, spread.typical, spread.high), (volts.low, volts.typical, volts.high)
    across = [end - ohm * _current_a(law, end, ohm) for law, end in zip(laws, ends, strict=True)]
    drops = [ohm * _current_a(law, end, ohm) for law, end in zip(laws[::-1], ends, strict=True)]
    return Range(*across), Range(*drops)


def _current_a(law: DiodeLaw, volts: float, ohm: float) -> float:
    """Current of a supply over a resistor and an LED, by halving."""
    low, high = 0.0, volts / ohm
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        over = float(voltage_at_current(law, middle)) + ohm * middle > volts
        low, high = (low, middle) if over else (middle, high)
    return low
