"""A strip that takes clearly more than its nominal current on the fresh supply."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.electric._currents import by_part, worst_currents
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.supply_limits import STRIP_MOST_SHARE, STRIP_TOLERANCE


def _look(design: Design) -> tuple[Trouble, ...]:
    worst, supply = worst_currents(design), design.power.supply
    found = []
    for row, emitters in by_part(emitter for emitter in design.loom.emitters if emitter.kind == "strip").items():
        strip = design.drawer.strip(row)
        fresh = [worst[emitter.name].fresh_a * 1000 for emitter in emitters if emitter.name in worst]
        wrong_v = supply is None or abs(supply.nominal_v / strip.supply_v - 1) > STRIP_TOLERANCE
        if wrong_v or not fresh or max(fresh) <= STRIP_MOST_SHARE * strip.segment_ma:
            continue
        found.append(Trouble(
            item=emitters[0].name, spot=emitters[0].spot, number=max(fresh), limit=STRIP_MOST_SHARE * strip.segment_ma,
            says=capital(f"{emitters[0].name}: {plain(max(fresh))} mA a segment on the fresh supply; it is made for "
                         f"{plain(strip.segment_ma)} mA."),
        ))
    return tuple(found)


RULE = Rule(
    key="electric.strip-over-current",
    grade=Grade.DOUBTFUL,
    title="Strip over its current on the fresh supply",
    unit="mA",
    why="Fresh cells stand well above their nominal voltage, and the strip's own resistors were not chosen for that.",
    cure="Use a regulated supply, or put a silicon diode (0.7 V) into its plus lead.",
    source=NETWORK,
    look=_look,
)
