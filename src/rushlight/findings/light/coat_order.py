"""Coats inside a part in the wrong order."""

from __future__ import annotations

from dataclasses import replace

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part
from rushlight.stages.coats import PRIMER
from rushlight.stages.painted_wall import room_reflectance
from rushlight.stages.rooms import parts_round

LIGHT = ("white", "metallic")

SEALED = ("dark hole", "fibre", "LED", "post")
"""Ways out that black in the holes shuts."""

MOST_REFLECTANCE = 0.95


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
        shows = brighter_holes(design, part, (*part.coats, PRIMER))
        seal = f"; seal the holes of {listed([repr(name) for name in shows])}, or it shows there too" if shows else ""
        return Trouble(
            item=part.name, spot=spot, grade=Grade.COULD_BE_BETTER,
            says=f"Inside '{part.name}' the last coat is {part.coats[-1]}, and a light shines in there.",
            cure="Put white or silver over the black: the room then throws the light about instead of eating "
                 f"it{seal}.",
        )
    return None


def brighter_holes(design: Design, painted: Part, coats: tuple[str, ...]) -> list[str]:
    """Parts of one space whose holes show its light once one of its parts has some coats, and do not now.

    What shows goes with rho / (1 - rho) of the whole inside, as in an integrating sphere.
    """
    round_it = parts_round(design.plan, painted.name)
    after = [replace(part, coats=coats) if part.name == painted.name else part for part in round_it]
    old, new = (min(room_reflectance(design.drawer, rows).typical, MOST_REFLECTANCE) for rows in (round_it, after))
    times = new / (1.0 - new) / (old / (1.0 - old)) if old > 0.0 else 1.0
    names = {part.name for part in round_it}
    shows = {row.part for row in design.light.ways_out if row.part in names and row.kind in SEALED
             and row.seen_as_cd_m2.typical <= row.allowed_cd_m2 < times * row.seen_as_cd_m2.typical}
    return sorted(shows)


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
