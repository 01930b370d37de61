"""States that do not say how a moving part stands, though light hangs on it."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.poses import movers_of_light, pose_in, unsaid_poses


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for part, lit in movers_of_light(design).items():
        states = unsaid_poses(design.plan, part, lit)
        taken = pose_in(design.plan, part, states[0]) if states else None
        if taken is not None:
            named = listed([f"'{state}'" for state in states])
            found.append(Trouble(
                item=part, says=f"{named} does not say how '{part}' stands; it is taken to be '{taken.name}'.",
                cure=f"Name it under `poses` of {named}: {{part: {part}, at: {taken.name}}}, or another of its poses."))
    return tuple(found)


RULE = Rule(
    key="plan.pose-missing",
    grade=Grade.DOUBTFUL,
    title="Pose not said",
    unit="",
    why="What is seen through its opening, or lies in its shadow, hangs on how it stands.",
    cure="Say in each state how it stands.",
    source="the plan's own poses; the first is taken",
    look=_look,
)
