"""Coats inside a part in the wrong order."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part

LIGHT = ("white", "metallic")


def _look(design: Design) -> tuple[Trouble, ...]:
    spaces = [set(space.parts) for space in design.plan.spaces]
    rooms = {row.spot.part for row in design.loom.emitters if row.kind in ("room", "strip")}
    lit = rooms.union(*(space for space in spaces if space & rooms))
    return tuple(trouble for part in design.plan.parts if (trouble := _trouble(design, part, part.name in lit)))


def _trouble(design: Design, part: Part, lit: bool) -> Trouble | None:
    kinds = [design.drawer.coat(name).kind for name in part.coats]
    spot = Spot(part.name, *part.outline_mm[0])
    lights = [k for k, kind in enumerate(kinds) if kind in LIGHT]
    blacks = [k for k, kind in enumerate(kinds) if kind == "black"]
    if lights and blacks and max(blacks) > min(lights):
        return Trouble(
            item=part.name, spot=spot,
            says=f"Inside '{part.name}' {part.coats[max(blacks)]} goes over {part.coats[min(lights)]} "
                 f"({listed(part.coats)}).",
        )
    if lit and blacks and not lights:
        return Trouble(
            item=part.name, spot=spot, grade=Grade.COULD_BE_BETTER,
            says=f"Inside '{part.name}' the last coat is {part.coats[-1]}, and a light shines in there.",
            cure="Put white or silver over the black: the room then throws the light about instead of eating it.",
        )
    return None


RULE = Rule(
    key="light.coat-order",
    grade=Grade.DOUBTFUL,
    title="Coats in the wrong order",
    unit="",
    why="Black stops the light and white throws it back; with black on top the room is dark and the white does "
        "nothing.",
    cure="First black, then white or silver.",
    source="habit black_then_light: common practice, no source",
    practice="black_then_light",
    look=_look,
)
