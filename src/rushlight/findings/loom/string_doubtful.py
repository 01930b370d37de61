"""A string length that cannot be."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange
from rushlight.findings._words import capital, plain
from rushlight.geometry.relief import surface_stretch
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part, StringLength


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(part, string) for part in design.plan.parts for string in part.relief.strings if not _possible(string)
    )


def _possible(string: StringLength) -> bool:
    try:
        surface_stretch(string.length_mm, math.dist(string.from_mm, string.to_mm))
    except OutOfRange:
        return False
    return True


def _trouble(part: Part, string: StringLength) -> Trouble:
    flat = math.dist(string.from_mm, string.to_mm)
    return Trouble(
        item=part.name, spot=Spot(part.name, *string.from_mm),
        says=capital(f"On '{part.name}' a string of {plain(string.length_mm, 3)} mm was laid between marks that lie "
                     f"{plain(flat, 3)} mm apart."),
    )


RULE = Rule(
    key="loom.string-doubtful",
    grade=Grade.DOUBTFUL,
    title="String length that cannot be",
    unit="",
    why="A string on the inner side is as long as the marks are apart, or a little longer; leads are cut by it.",
    cure="Measure it again, and check the two marks.",
    source="geometry.relief",
    look=_look,
)
