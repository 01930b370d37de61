"""A soak that is too short."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.build._order import PRACTICE
from rushlight.findings.build._readings import MINUTES, read_at_bench
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("soak").low or 60.0
    ran = [
        reading.value for reading, gate, _ in read_at_bench(design)
        if gate == "soak" and reading.what.casefold() == MINUTES
    ]
    planned = [step.wait_h * 60 for step in design.order.steps if step.key == "soak"]
    minutes = max(ran) if ran else min(planned, default=limit)
    if minutes >= limit:
        return ()
    what = "ran" if ran else "is planned for"
    return (Trouble(
        item="soak", number=minutes, limit=limit,
        says=f"The soak {what} {plain(minutes)} min; {plain(limit)} min on the display supply are right.",
        cure=f"Run it for {plain(limit - minutes)} min more before you glue." if ran else "",
    ),)


RULE = Rule(
    key="build.soak",
    grade=Grade.DOUBTFUL,
    title="Soak too short",
    unit="min",
    why="The inside takes an hour to reach its temperature, and weak LEDs and joints fail in the first.",
    cure="Let it run longer, taped shut, on the supply that it will be shown on.",
    source=PRACTICE,
    practice="soak",
    look=_look,
)
