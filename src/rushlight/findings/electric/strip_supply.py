"""A strip on another voltage than it is made for."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import by_part
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.supply_limits import STRIP_TOLERANCE


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    found = []
    for row, emitters in by_part(emitter for emitter in design.loom.emitters if emitter.kind == "strip").items():
        rated_v = design.drawer.strip(row).supply_v
        if supply is None or abs(supply.nominal_v / rated_v - 1) <= STRIP_TOLERANCE:
            continue
        over = supply.nominal_v > rated_v
        effect = "it will overheat" if over else "it will be dim or dark"
        found.append(Trouble(
            item=emitters[0].name, spot=emitters[0].spot, number=supply.nominal_v, limit=rated_v,
            says=capital(f"{listed([emitter.name for emitter in emitters])}: a {plain(rated_v)} V strip on "
                         f"{plain(supply.nominal_v, 3)} V: {effect}."),
            cure=f"Feed it with {plain(rated_v)} V, or choose a strip made for {plain(supply.nominal_v, 3)} V.",
        ))
    return tuple(found)


RULE = Rule(
    key="electric.strip-supply",
    grade=Grade.WILL_FAIL,
    title="Strip on the wrong supply voltage",
    unit="V",
    why="The resistors on a strip are made for one voltage; its LEDs burn above it and go dark below it.",
    cure="Match strip and supply.",
    source="drawer: supply voltage of the strip",
    look=_look,
)
