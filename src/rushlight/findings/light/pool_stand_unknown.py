"""Parts of which the plan does not say where they stand over floodlit ground: their shadows are missing."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    found = {}
    for ground in design.light.grounds:
        if ground.part is None or not ground.unknown or ground.part in found:
            continue
        names, one = listed([f"'{name}'" for name in ground.unknown]), len(ground.unknown) == 1
        stands, whose = ("stands", "its shadow is") if one else ("stand", "their shadows are")
        found[ground.part] = Trouble(
            item=ground.part, spot=Spot(ground.part, *ground.feet_mm[0]),
            says=f"Not known where {names} {stands} over '{ground.part}', so {whose} not computed.",
            cure=f"Say of each where two of its points lie on '{ground.part}', and towards which face "
                 "its folds go; or say that it throws no shadow (plan file: throws_shadow: no).",
        )
    return tuple(found.values())


RULE = Rule(
    key="light.pool-stand-unknown",
    grade=Grade.COULD_BE_BETTER,
    title="Part whose shadow is not known",
    unit="",
    why="A wall or a mast that nobody placed could stand in the middle of the pool.",
    cure="Say where it stands, or that it throws no shadow.",
    source="the plan's own stands",
    look=_look,
)
