"""An anchor on a clear part."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.loom._words import PRACTICE
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import contains
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for part in design.plan.parts:
        on_clear = _openings_with_anchors(part, [spot for spot in design.loom.anchors if spot.part == part.name])
        if on_clear:
            names = listed([f"'{name}'" for name, _ in on_clear])
            found.append(Trouble(item=on_clear[0][0], spot=on_clear[0][1],
                                 says=capital(f"On '{part.name}' leads are held down on {names}.")))
    return tuple(found)


def _openings_with_anchors(part: Part, spots: list[Spot]) -> list[tuple[str, Spot]]:
    found = []
    for opening in part.openings:
        shape = shape_from_outline(opening.shape_mm)
        if spots and opening.clear and isinstance(shape, Shape):
            inside = contains([shape], [spot.at_mm for spot in spots])
            found += [(opening.name, spot) for spot, within in zip(spots, inside, strict=True) if within][:1]
    return found


RULE = Rule(
    key="loom.anchor-on-clear",
    grade=Grade.WILL_FAIL,
    title="Anchor on a clear part",
    unit="",
    why="Tape and glue on a clear part are seen from outside for good.",
    cure="Hold the lead down beside the opening.",
    source=PRACTICE,
    look=_look,
)
