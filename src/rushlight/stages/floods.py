"""Where floodlights hang over what they light: single lamps, lamps of rows, the mirrored half of rows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rushlight.model.place import Point
from rushlight.model.plan import Mirror, Plan, Row
from rushlight.stages.lamps import points_along, row_places


@dataclass(frozen=True, slots=True)
class Hung:
    """How a floodlight hangs over its ground, None if the plan does not name it; `group` is the plan's entry."""

    group: str
    ground: str | None
    height_mm: float
    foot_mm: Point
    aim_mm: Point


def hung_floods(plan: Plan) -> dict[str, Hung]:
    """Every floodlight by name; the mirrored half of a row where it is known what it lights and where."""
    found = {}
    for lamp in plan.lamps:
        if lamp.lights_mm is not None:
            foot = lamp.foot_mm or (0.0, 0.0)
            ahead = (lamp.lights_mm * math.tan(math.radians(lamp.tilt_deg)), 0.0)
            aim = lamp.aim_mm or (foot if lamp.foot_mm else ahead)
            found[lamp.name] = Hung(lamp.name, lamp.lights_part, lamp.lights_mm, foot, aim)
    for row in plan.rows:
        if row.lights_mm is None:
            continue
        feet, by = _feet(row), row.aim_by_mm or (0.0, 0.0)
        found |= _spread(row, "", row.lights_part, [(foot, (foot[0] + by[0], foot[1] + by[1])) for foot in feet])
        if row.mirror is not None and mirror_known(row):
            turned = [(_mirrored(row.mirror, foot), _mirrored(row.mirror, (foot[0] + by[0], foot[1] + by[1])))
                      for foot in feet]
            found |= _spread(row, "m", mirrored_ground(row), turned)
    return found


def _spread(row: Row, mark: str, ground: str | None, ends: Sequence[tuple[Point, Point]]) -> dict[str, Hung]:
    assert row.lights_mm is not None
    return {f"{row.name} {mark}{number}": Hung(row.name, ground, row.lights_mm, foot, aim)
            for number, (foot, aim) in enumerate(ends, 1)}


def _feet(row: Row) -> tuple[Point, ...]:
    count = len(row_places(row))
    total = sum(math.dist(a, b) for a, b in pairwise(row.feet_mm))
    return points_along(row.feet_mm, [total * k / max(count - 1, 1) for k in range(count)])


# --- the other side ------------------------------------------------------------------------------------------------


def mirrored_ground(row: Row) -> str | None:
    """The part that the mirrored half of a row lights."""
    if row.mirror is None or row.mirror.lights_part:
        return row.mirror.lights_part if row.mirror else None
    return row.mirror.part if row.lights_part == row.part else row.lights_part


def mirror_known(row: Row) -> bool:
    """Whether the plan says where the feet of the mirrored half lie.

    It does by the line about which they are mirrored, or where each half lights the very part that it sits on: the
    feet are then mirrored as the lamps are.
    """
    if row.mirror is None:
        return False
    own = row.lights_part == row.part and mirrored_ground(row) == row.mirror.part
    return bool(row.mirror.lights_line_mm) or own


def _mirrored(mirror: Mirror, at: Point) -> Point:
    if not mirror.lights_line_mm:
        return (2 * mirror.axis_x_mm - at[0] if mirror.flip else at[0], at[1])
    (ax, ay), (bx, by) = mirror.lights_line_mm[0], mirror.lights_line_mm[-1]
    ux, uy = bx - ax, by - ay
    along = ((at[0] - ax) * ux + (at[1] - ay) * uy) / (ux * ux + uy * uy)
    return (2 * (ax + along * ux) - at[0], 2 * (ay + along * uy) - at[1])
