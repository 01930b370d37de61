"""Two halves that open like a book, with a crossing that is not at the hinge."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import PRACTICE, crossing_spot, parts_of, used
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing


def _look(design: Design) -> tuple[Trouble, ...]:
    inside = [crossing for crossing in design.plan.crossings if used(design, crossing)]
    halves = {parts_of(crossing) for crossing in inside if crossing.kind == "hinged"}
    found = []
    for pair in halves:
        own = [crossing for crossing in inside if parts_of(crossing) == pair]
        found += [_held(crossing) for crossing in own if crossing.kind == "fixed"]
    order = {crossing.name: place for place, crossing in enumerate(design.plan.crossings)}
    return tuple(sorted(found, key=lambda trouble: order[trouble.item]))


def _held(crossing: Crossing) -> Trouble:
    first, second = (end.part for end in crossing.ends)
    return Trouble(
        item=crossing.name, spot=crossing_spot(crossing),
        says=capital(f"{crossing.name} ties '{first}' to '{second}' with {plain(crossing.slack_mm)} mm, away from the "
                     "hinge at which they open."),
    )


RULE = Rule(
    key="loom.hinge-side",
    grade=Grade.DOUBTFUL,
    title="A crossing away from the hinge",
    unit="",
    why="Halves open like a book only if all that runs between them runs at one edge.",
    cure="Move its leads to the crossing at the hinge, or make it hinged too and give its distance from the hinge.",
    source=PRACTICE,
    practice="hinge_side",
    look=_look,
)
