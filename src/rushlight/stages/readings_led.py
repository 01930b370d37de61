"""What knowing an LED's voltage leaves of the currents that it takes, and so of its light and of what it burns."""

from __future__ import annotations

from rushlight.electric.led_read import LEFT_V
from rushlight.model.design_loom import Loom
from rushlight.model.design_power import Power
from rushlight.model.drawer import Drawer
from rushlight.stages.apart import LEDS
from rushlight.stages.network import spread_v
from rushlight.stages.readings_current import Cut, cut_of, with_cause_read
from rushlight.units import Range


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
    Source
    ------
    `readings_current.with_cause_read`: LEDs of low voltage take most.
    """
    return with_cause_read(drawer, loom, power, LEDS, {
        emitter.name: _cut(drawer, loom, emitter.name) for emitter in loom.emitters
        if emitter.kind != "strip" and emitter.part_row == led})


def _cut(drawer: Drawer, loom: Loom, name: str) -> Cut:
    emitter = loom.emitter(name)
    low, high = spread_v(drawer, emitter, emitter.aim_current_a)
    return cut_of(Range(low, 0.0, high), Range(max(low, -LEFT_V), 0.0, min(high, LEFT_V)), high_takes_most=False)
