"""Lamps that fade too far from fresh cells to flat ones."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import by_part, worst_currents
from rushlight.findings.electric._words import NETWORK
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.design_power import EmitterCurrent
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import emitter_light_a

LEAST_A = 1e-9


def drifting(design: Design) -> set[str]:
    """Emitters whose light falls further than the habit allows."""
    limit = _limit(design)
    told = {emitter.name for emitter in starved(design)} | {row.emitter for row in design.power.regulators}
    return {
        name for name, current in worst_currents(design).items() if name not in told and _ratio(design, current) > limit
    }


def _limit(design: Design) -> float:
    return design.drawer.habit("drift").high or 3.0


def _ratio(design: Design, current: EmitterCurrent) -> float:
    """Light on the fresh supply over that on the flat one."""
    emitter = design.loom.emitter(current.emitter)
    fresh, flat = (emitter_light_a(design.drawer, emitter, max(amps, LEAST_A)).typical
                   for amps in (current.fresh_a, current.flat_a))
    return fresh / flat


def _look(design: Design) -> tuple[Trouble, ...]:
    names = drifting(design)
    worst = worst_currents(design)
    found = []
    for emitters in by_part(emitter for emitter in design.loom.emitters if emitter.name in names).values():
        first = max(emitters, key=lambda emitter: _ratio(design, worst[emitter.name]))
        current = worst[first.name]
        ratio = _ratio(design, current)
        found.append(Trouble(
            item=first.name, spot=first.spot, number=ratio, limit=_limit(design),
            says=capital(f"{listed([emitter.name for emitter in emitters])}: {plain(current.fresh_a * 1000)} mA on the "
                         f"fresh supply, {plain(current.flat_a * 1000)} mA on the flat one, "
                         f"{math.log2(ratio):.1f} stops of light lost."),
        ))
    return tuple(found)


RULE = Rule(
    key="electric.drift",
    grade=Grade.DOUBTFUL,
    title="Lamp fades with the cells",
    unit="times",
    why="The LED takes nearly all of the voltage, so the little that cells lose with age is most of what drives the "
        "current.",
    cure="Use one more cell in series, cells that hold their voltage (rechargeable), or a regulated supply.",
    source=NETWORK,
    look=_look,
)
