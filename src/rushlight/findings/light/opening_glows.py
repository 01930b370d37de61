"""An opening that nothing is meant to light, and that shows the light inside."""

from __future__ import annotations

from rushlight.findings._ways_out import SOURCE, names_of, seen_parts, trouble
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble(rows, f"the opening {names_of(rows)}") if len(rows) == 1
        else trouble(rows, f"the openings (brightest first: {names_of(rows)})", shows="show up to")
        for rows in seen_parts(design, ("opening",)).values()
    )


RULE = Rule(
    key="light.opening-glows",
    grade=Grade.COULD_BE_BETTER,
    title="An opening that nothing lights shows the light inside",
    unit="cd/m2",
    why="Stray light inside makes it glow whenever other lamps are on.",
    cure="Set a black box or sheet behind it, or light it. If it is meant so, add its lamp with worth: left out.",
    source=SOURCE,
    look=_look,
)
