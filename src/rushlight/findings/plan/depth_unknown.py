"""A part whose depth nobody has measured, although leads or fibres run over it."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead, Tail
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.layouts import UNKNOWN_RELIEF_SHARE, relief_mm


def _look(design: Design) -> tuple[Trouble, ...]:
    wires: tuple[Lead | Tail, ...] = (*design.loom.leads, *design.loom.tails)
    found = []
    for part in design.plan.parts:
        legs = [leg for wire in wires for leg in wire.legs if leg.part == part.name]
        if part.relief.known or not legs:
            continue
        slack = sum(relief_mm(part, leg.points_mm) for leg in legs)
        found.append(Trouble(
            item=part.name, spot=Spot(part.name, *part.outline_mm[0]),
            says=f"The depth of '{part.name}' is not known: {100 * UNKNOWN_RELIEF_SHARE:.0f} % slack is carried on its "
                 f"{len(legs)} leads and fibres, {plain(slack)} mm in all.",
        ))
    return tuple(found)


RULE = Rule(
    key="plan.depth-unknown",
    grade=Grade.COULD_BE_BETTER,
    title="Depth of a part is not known",
    unit="",
    why="A curved part is longer inside than its drawing; a lead cut to the drawing would be too short.",
    cure="Lay a string along the inside between two marks and give its length under relief, or say flat: true.",
    source="slack of a slope of 33 degrees throughout (project proposal)",
    look=_look,
)
