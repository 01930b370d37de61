"""An LED over its rated current, on the fresh supply or with a low forward voltage."""

from __future__ import annotations

from rushlight.electric.led import voltage_at_current
from rushlight.electric.resistor import value_not_below
from rushlight.findings._words import capital, listed
from rushlight.findings.electric._currents import by_part, most_a, plain_leds, worst_currents
from rushlight.findings.electric._words import NETWORK, ma
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import led_spread

TOLERANCE = 0.95
"""Of what is printed on it a resistor of 5 % has so much at least; the worst current is that with such a one."""


def _look(design: Design) -> tuple[Trouble, ...]:
    amps = {name: most_a(current) for name, current in worst_currents(design).items()}
    over = [emitter for emitter, led in plain_leds(design) if amps.get(emitter.name, 0.0) > led.max_ma / 1000]
    return tuple(_trouble(design, emitters, amps) for emitters in by_part(over).values())


def _trouble(design: Design, emitters: list[Emitter], amps: dict[str, float]) -> Trouble:
    worst = max(emitters, key=lambda emitter: amps[emitter.name])
    limit_ma = design.drawer.led(worst.part_row).max_ma
    resistor = design.power.resistor(worst.name)
    regulator = design.power.regulator(worst.name)
    cure = "Hold a regulator of less current." if regulator else ""
    if resistor:
        cure = f"Use {_least_ohm(design, worst, amps[worst.name]):g} ohm or more instead of {resistor.value_ohm:g} ohm."
    return Trouble(
        item=worst.name, spot=worst.spot, number=amps[worst.name] * 1000, limit=limit_ma, cure=cure,
        says=capital(f"{listed([emitter.name for emitter in emitters])}: up to {ma(amps[worst.name])} through an LED "
                     f"rated for {limit_ma:g} mA."),
    )


def _least_ohm(design: Design, emitter: Emitter, worst_a: float) -> float:
    """The next resistor on sale with which the LED of least voltage takes no more than its rating on the fresh supply.

    Less current leaves more volts for the resistor: what the LED and the inner resistance of the cells take less.
    """
    led, supply, string = design.drawer.led(emitter.part_row), design.power.supply, design.loom.string_of(emitter.name)
    law, limit_a, resistor = led_spread(led).low, led.max_ma / 1000, design.power.resistor(emitter.name)
    leds_v = float(voltage_at_current(law, worst_a) - voltage_at_current(law, limit_a))
    less_v = leds_v * (len(string.emitters) if string else 1)
    less_v += (supply.inner_ohm if supply else 0.0) * (worst_a - limit_a)
    return value_not_below(((resistor.value_ohm if resistor else 0.0) * worst_a + less_v / TOLERANCE) / limit_a)


RULE = Rule(
    key="electric.led-over-current",
    grade=Grade.WILL_FAIL,
    title="LED over its rated current",
    unit="mA",
    why="Over its rating an LED loses its light in hours and then dies, inside a closed model.",
    cure="Use a larger resistor.",
    source=NETWORK + "; rated currents of the drawer",
    look=_look,
)
