"""A hinged crossing whose distance from the hinge is not known."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.loom._words import crossing_spot, used
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=crossing.name, spot=crossing_spot(crossing),
                says=capital(f"{crossing.name} is hinged, and its distance from the hinge edge is not given."))
        for crossing in design.plan.crossings
        if crossing.kind == "hinged" and crossing.hinge_distance_mm is None and used(design, crossing)
    )


RULE = Rule(
    key="loom.hinge-unknown",
    grade=Grade.DOUBTFUL,
    title="Distance from the hinge unknown",
    unit="",
    why="The slack that lets the halves open follows from that distance.",
    cure="Measure it and enter it (plan file: hinge_distance_mm).",
    source="the plan",
    look=_look,
)
