"""A part's picture without the points that tie it to millimetres."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(
            item=part.name, spot=Spot(part.name, *part.outline_mm[0]),
            says=f"The picture '{part.picture.file}' of '{part.name}' has no points whose place on the part is known.",
        )
        for part in design.plan.parts
        if part.picture is not None and not part.picture.points
    )


RULE = Rule(
    key="plan.picture-not-calibrated",
    grade=Grade.COULD_BE_BETTER,
    title="Picture without calibration",
    unit="",
    why="Places that are read off the picture cannot be carried to millimetres.",
    cure="Give two points of known place, or four and more for a picture taken at an angle.",
    source="two points fix scale, turn and place; four fix a perspective",
    look=_look,
)
