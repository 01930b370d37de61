"""Leads that enter a moving part where nothing lets them move."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import crossing_spot, parts_of, used
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.moving_leads import Swing, swing_of


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for crossing in design.plan.crossings:
        swing = swing_of(design.plan, crossing) if crossing.kind in ("fixed", "hinged") else None
        if swing is not None and used(design, crossing):
            what = "its leads" if swing.part in parts_of(crossing) else "the leads of what it carries"
            found.append(Trouble(
                item=crossing.name, spot=crossing_spot(crossing),
                says=capital(f"{swing.part} moves, and {what} run through {crossing.name}, which is {crossing.kind}."),
                cure=f"Make '{crossing.name}' {kind_for(swing)}, or a plug." if swing.said else ""))
    return tuple(found)


def kind_for(swing: Swing) -> str:
    """The kind of crossing that follows a move, with its way."""
    if swing.travel_mm:
        return f"sliding by {plain(swing.travel_mm, 4)} mm"
    return f"pivoting by {plain(swing.turn_deg, 4)} degrees"


RULE = Rule(
    key="loom.moving-part",
    grade=Grade.WILL_FAIL,
    title="Moving part tied by its leads",
    unit="",
    why="Leads that are fixed on both sides are torn or wound up when the part moves.",
    cure="Make the crossing pivoting with its angle, sliding with its travel, or a plug.",
    source="the plan's own poses",
    look=_look,
)
