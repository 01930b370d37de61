"""What knowing an LED's voltage leaves of the currents that it takes, and so of its light and of what it burns."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rushlight.electric.led_read import LEFT_V
from rushlight.model.design_loom import Loom
from rushlight.model.design_power import EmitterCurrent, Power
from rushlight.model.drawer import Drawer
from rushlight.stages.network import spread_v
from rushlight.units import Range

LEDS = "LEDs"
"""The cause in `EmitterCurrent.apart` that a reading of voltage narrows."""


def left_v(now: Range) -> Range:
    """Forward voltage once three LEDs of the bag were read: what others may still do, never wider than before [V]."""
    middle = now.typical
    return Range(max(now.low, middle - LEFT_V), middle, min(now.high, middle + LEFT_V))


def with_voltage_read(power: Power, drawer: Drawer, loom: Loom, led: str) -> Power:
    """The same currents with what is left of them once an LED's voltage was read to come out as believed.

    Parameters
    ----------
    power : Power
        Solved with LEDs of low, typical and high voltage.
    drawer : Drawer
        Laws of the LEDs.
    loom : Loom
        Emitters.
    led : str
        Row of the drawer that is read.
    Returns
    -------
    Power
        Ends of the current, and of the power with it, drawn in on every emitter with that LED.
    Notes
    -----
    LEDs alone make the current A times as much at the low end of their voltage as at the high one (`apart`); a part s
    of that span of volts makes it A^s times as much. What resistors, contacts and the supply do stays.
    Source
    ------
    `stages.apart` for A; straight in the logarithm in between, compared with a whole solve in tests.
    """
    cuts = {emitter.name: _cut(drawer, loom, emitter.name) for emitter in loom.emitters
            if emitter.kind != "strip" and emitter.part_row == led}

    def drawn_in(row: EmitterCurrent) -> EmitterCurrent:
        return _narrowed(row, cuts[row.emitter]) if row.emitter in cuts else row

    return replace(power, states=tuple(replace(state, lit=tuple(map(drawn_in, state.lit))) for state in power.states))


@dataclass(frozen=True, slots=True)
class _Cut:
    """Shares of an LED's span of voltage that a reading takes off its low and its high end [-]."""

    low: float
    high: float


def _cut(drawer: Drawer, loom: Loom, name: str) -> _Cut:
    emitter = loom.emitter(name)
    low, high = spread_v(drawer, emitter, emitter.aim_current_a)
    span = high - low
    if span <= 0.0:
        return _Cut(0.0, 0.0)
    return _Cut(max(-low - LEFT_V, 0.0) / span, max(high - LEFT_V, 0.0) / span)


def _narrowed(row: EmitterCurrent, cut: _Cut) -> EmitterCurrent:
    """LEDs of low voltage take most: their end of the volts is the upper end of the current."""
    times = dict(row.apart).get(LEDS, 1.0)
    less, more = times**-cut.low, times**cut.high

    def drawn_in(value: Range) -> Range:
        return Range(min(value.low * more, value.typical), value.typical, max(value.high * less, value.typical))

    return replace(row, current_a=drawn_in(row.current_a), power_w=drawn_in(row.power_w))
