"""A pre-wired LED on another supply voltage than its built-in resistor was made for."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import plain_leds
from rushlight.findings.electric._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import LedPart
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.supply_limits import PRE_WIRED_TOLERANCE


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    if supply is None:
        return ()
    wrong: dict[str, tuple[LedPart, list[Emitter]]] = {}
    for emitter, led in plain_leds(design):
        if led.pre_wired_v is not None and abs(supply.nominal_v / led.pre_wired_v - 1) > PRE_WIRED_TOLERANCE:
            wrong.setdefault(led.name, (led, []))[1].append(emitter)
    return tuple(_trouble(led, emitters, supply.nominal_v) for led, emitters in wrong.values())


def _trouble(led: LedPart, emitters: list[Emitter], supply_v: float) -> Trouble:
    rated_v = led.pre_wired_v or 0.0
    over = supply_v > rated_v
    effect = "too much current runs" if over else "it will be dim or dark"
    return Trouble(
        item=emitters[0].name, spot=emitters[0].spot, number=supply_v, limit=rated_v,
        grade=Grade.WILL_FAIL if over or supply_v < 0.8 * rated_v else Grade.DOUBTFUL,
        says=capital(f"{listed([emitter.name for emitter in emitters])}: wired for {plain(rated_v)} V, fed with "
                     f"{plain(supply_v, 3)} V: {effect}."),
        cure=f"Feed it with {plain(rated_v)} V, or take a bare LED and let its resistor be worked out.",
    )


RULE = Rule(
    key="electric.resistor-fits",
    grade=Grade.DOUBTFUL,
    title="Pre-wired LED on the wrong supply voltage",
    unit="V",
    why="The resistor in its lead suits one supply voltage only.",
    cure="Match the supply to the LED, or take a bare LED.",
    source=PRACTICE,
    practice="resistor_fits",
    look=_look,
)
