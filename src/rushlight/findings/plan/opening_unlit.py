"""Windows that nothing lights."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part


def _look(design: Design) -> tuple[Trouble, ...]:
    decided = _decided(design)
    return tuple(
        trouble for part in design.plan.parts if (trouble := _trouble(part, decided)) is not None
    )


def _decided(design: Design) -> set[tuple[str | None, str | None]]:
    """Openings that some lamp or strip of the plan is meant for, left out or not: the modeller knows of them."""
    lamps = {(lamp.part, lamp.opening) for lamp in design.plan.lamps}
    strips = {(strip.part, opening) for strip in design.plan.strips for opening in strip.openings}
    return {*lamps, *strips}


def _trouble(part: Part, decided: set[tuple[str | None, str | None]]) -> Trouble | None:
    dark = [row for row in part.openings if (part.name, row.name) not in decided]
    if not dark:
        return None
    names = [f"'{row.name}'" for row in dark]
    return Trouble(
        item=part.name, spot=Spot(part.name, *dark[0].middle_mm),
        says=f"Nothing lights {listed(names)} on '{part.name}'.",
    )


RULE = Rule(
    key="plan.opening-unlit",
    grade=Grade.COULD_BE_BETTER,
    title="Opening lit by nothing",
    unit="",
    why="A dark window among lit ones looks forgotten, unless it is meant.",
    cure="Put a strip or an LED in a room behind it; if it is meant, add that lamp with worth: left out.",
    source="common practice, no source",
    look=_look,
)
