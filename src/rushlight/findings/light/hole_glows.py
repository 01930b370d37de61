"""Holes of lamps through which the light inside shows while they are dark."""

from __future__ import annotations

from rushlight.findings._ways_out import SOURCE, names_of, seen_parts, trouble
from rushlight.model.design import Design
from rushlight.model.design_light import WayOut
from rushlight.model.finding import Grade, Rule, Trouble

CURES = {
    "dark hole": "Fill the holes that stay dark, or set a stub of fibre with its inner end painted black",
    "fibre": "Set the fibres in black paint or in glue with black paint in it",
    "LED": "Paint round each LED inside, and over its back, with black",
}


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(rows) for rows in seen_parts(design, tuple(CURES)).values())


def _trouble(rows: list[WayOut]) -> Trouble:
    ways = [CURES[kind] for kind in CURES if any(row.kind == kind for row in rows)]
    cure = "; ".join([ways[0], *(way[0].lower() + way[1:] for way in ways[1:])])
    hole = "a hole that stays dark" if rows[0].kind == "dark hole" else "a ring in the hole of a lamp that is off"
    whose = f"({names_of(rows)})" if len(rows) == 1 else f"(brightest first: {names_of(rows)})"
    return trouble(rows, f"{hole} {whose}", f"{cure}; enter that the holes are sealed (plan file: holes_sealed: yes).")


RULE = Rule(
    key="light.hole-glows",
    grade=Grade.DOUBTFUL,
    title="Light shows in the holes of dark lamps",
    unit="cd/m2",
    why="The bright inside shows in a hole that nothing fills, and as a ring round a fibre or an LED that is off. The "
        "number is that of a wide patch which is noticed as easily.",
    cure="Fill the holes that stay dark, set fibres in black glue; enter that the holes are sealed (plan file: "
         "holes_sealed: yes).",
    source=SOURCE,
    look=_look,
)
