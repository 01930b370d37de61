"""Leads that enter a moving part where nothing lets them move."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.loom._words import crossing_spot, used
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    moving = {part.name for part in design.plan.parts if len({pose.value for pose in part.poses}) > 1}
    found = []
    for crossing in design.plan.crossings:
        own = [end.part for end in crossing.ends if end.part in moving]
        if own and crossing.kind in ("fixed", "hinged") and used(design, crossing):
            found.append(Trouble(
                item=crossing.name, spot=crossing_spot(crossing),
                says=capital(f"{own[0]} moves, and its leads run through {crossing.name}, which is {crossing.kind}.")))
    return tuple(found)


RULE = Rule(
    key="loom.moving-part",
    grade=Grade.WILL_FAIL,
    title="Moving part tied by its leads",
    unit="",
    why="Leads that are fixed on both sides are torn or wound up when the part moves.",
    cure="Make the crossing `pivoting` with its angle, `sliding` with its travel, or a `plug`.",
    source="the plan's own poses",
    look=_look,
)
