"""Closed spaces as the boxes that the laws of heat take, and how much warmer their air gets."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from rushlight.errors import OutOfRange
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan, Space
from rushlight.model.plan_part import Part
from rushlight.tables import rows
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.units import Range

MOST_W = 200.0
"""The box law is asked for no more; a plan that asks for more is told so by its supply."""

MOST_SIZE_MM = 5000.0
TOO_HOT_C = 150.0
"""Limits of the box law."""


@cache
def usual_room_c() -> Range:
    """The air of a room, where nothing is said of it [degC]; source: room_air.csv."""
    row = rows("room_air")[0]
    return Range(float(row["low_c"]), float(row["typical_c"]), float(row["high_c"]))


def room_c(plan: Plan) -> Range:
    """The air where the model stands [degC]: as the plan says, else that of a usual room."""
    said = plan.subject.room_c
    return usual_room_c() if said is None else Range.exactly(said)


def space_box(plan: Plan, space: Space, drawer: Drawer) -> Box:
    """A space as a box with the wall of its first part; sizes are kept within the law's limits.

    Where its warmth was measured at the bench, the law is scaled to what was found.
    """
    box = _box(plan, space)
    rise, power = drawer.measured("hull warmth", space.name), drawer.measured("hull power", space.name)
    if rise is None or power is None:
        return box
    foretold = rises_k(box, power.typical, usual_room_c().typical)[0].typical
    return replace(box, measured=rise.times(1.0 / foretold))


def _box(plan: Plan, space: Space) -> Box:
    length, width, height = space.size_mm
    first = plan.part(space.parts[0])
    return Box(_size(length, first), _size(width, first), _size(height, first), first.wall_mm,
               vents_mm2=space.vents_mm2)


def _size(size_mm: float, part: Part) -> float:
    return min(max(size_mm, 3 * part.wall_mm), MOST_SIZE_MM)


def rises_k(box: Box, watts: float, at_c: float) -> tuple[Range, Range]:
    """How much warmer than the room a space's air and its wall get [K]; at most as warm as the law goes.

    Parameters
    ----------
    box : Box
        The space.
    watts : float
        All power that ends as heat in it [W].
    at_c : float
        The room [degC].
    Returns
    -------
    tuple of Range
        Air and wall over the room.
    Source
    ------
    See `thermal.enclosure`.
    """
    try:
        heat = box_heat(box, min(watts, MOST_W), room_c=at_c)
    except OutOfRange:  # the wall would pass 150 C: hotter than the law goes, and than any plastic
        return Range.exactly(TOO_HOT_C - at_c), Range.exactly(TOO_HOT_C - at_c)
    return heat.inside_air_k, heat.wall_k


def rises_over_k(box: Box, watts: Range, room: Range) -> tuple[Range, Range]:
    """How much warmer than the room [degC] a space's air and its wall get [K] over a range of power [W].

    The ends of the power go with the ends of the law and of the room: the widest answer.
    """
    powers, at_c = (watts.low, watts.typical, watts.high), (room.low, room.typical, room.high)
    ends = [rises_k(box, each, at) for each, at in zip(powers, at_c, strict=True)]
    air, wall = (
        Range(min(low.low, middle.typical), middle.typical, max(middle.typical, high.high))
        for low, middle, high in zip(*ends, strict=True)  # past the law's end all rise to it, least over a warm room
    )
    return air, wall
