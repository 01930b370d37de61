"""How large a model one design may be: beyond that it is refused in words, before time and memory are spent on it."""

from __future__ import annotations

from rushlight.errors import OutOfRange
from rushlight.model.design import PlacedLamp, Source
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Part
from rushlight.stages.layouts import ROUND_SIDES

MOST_LAMPS = 5_000
"""Lit lamps of one design (project proposal): some minutes of work for the computer, years of it for the modeller."""

MOST_LEDS = 1_500
"""Lamps with an LED of their own: memory for the loom's distances goes with their square (project proposal)."""

MOST_PARTS, MOST_CROSSINGS = 300, 300
"""Parts and crossings of one design: ways among crossings go with the cube of their number (project proposal)."""

MOST_CORNERS = 2_000
"""Corners of one part's outline, openings, bays and keep-outs: sight lines go with their square (project proposal)."""


def refuse_plan(plan: Plan) -> None:
    """Stop where a plan's parts are too many or too finely drawn.

    Raises
    ------
    OutOfRange
        With the number found, the most allowed and what to do.
    """
    _at_most("number of parts", len(plan.parts), MOST_PARTS, "plan sections of the model as plans of their own")
    _at_most("number of crossings", len(plan.crossings), MOST_CROSSINGS, "join parts by fewer crossings")
    for part in plan.parts:
        _at_most(f"number of corners drawn on part '{part.name}'", _corners(part), MOST_CORNERS,
                 "draw it with fewer points; a corner a millimetre is plenty")


def refuse_lamps(lamps: tuple[PlacedLamp, ...]) -> None:
    """Stop where more lamps are lit than one design can hold.

    Raises
    ------
    OutOfRange
        With the number found, the most allowed and what to do.
    """
    lit = sum(bool(lamp.states) for lamp in lamps)
    _at_most("number of lit lamps", lit, MOST_LAMPS, "plan sections of the model as plans of their own")


def refuse_leds(lamps: tuple[PlacedLamp, ...], sources: tuple[Source, ...]) -> None:
    """Stop where more lamps have an LED of their own than one loom can hold.

    Raises
    ------
    OutOfRange
        With the number found, the most allowed and what to do.
    """
    leds = len({source.room or lamp.name for lamp, source in zip(lamps, sources, strict=True)
                if lamp.states and source.kind in ("led", "room")})
    _at_most("number of lamps with an LED of their own", leds, MOST_LEDS,
             "make some of them by fibre, or plan sections of the model as plans of their own")


def _corners(part: Part) -> int:
    drawn = [*(row.shape_mm for row in part.openings), *(row.outline_mm for row in part.keep_outs),
             *(row.shape_mm for row in part.obstacles)]
    plain = [ROUND_SIDES if row.radius_mm else 4 for row in part.keep_outs if not row.outline_mm]
    return len(part.outline_mm) + sum(len(points) for points in drawn) + sum(plain) + 4 * len(part.bays)


def _at_most(what: str, count: int, most: int, cure: str) -> None:
    if count > most:
        raise OutOfRange(what, f"{count:,}", f"at most {most:,}: {cure}")
