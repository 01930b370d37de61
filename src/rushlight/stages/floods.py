"""Where floodlights hang over what they light: lamps, rows and their mirrored halves, and lamps on parts that move."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from rushlight.geometry.folded import moved_by
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Mirror, Plan, Row
from rushlight.stages.lamps import points_along, row_places
from rushlight.stages.stands import frame_over, lit_of, shift_of


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


def over_ground(plan: Plan, how: Hung, sits: Spot | None, state: str) -> Hung | None:
    """The same in the pose of a state: a lamp on a moving part goes with it; None where it shines past the ground."""
    if how.ground is None or sits is None:
        return how
    shift = shift_of(plan, sits.part, sits.at_mm, lit_of(plan.part(how.ground), how.foot_mm), state)
    if shift is None or np.allclose(shift, np.eye(4), atol=1e-9):
        return how
    lamp, aim = moved_by(shift, [(*how.foot_mm, how.height_mm), (*how.aim_mm, 0.0)])
    fall = float(lamp[2] - aim[2])
    if lamp[2] <= 0.0 or fall <= 1e-6 * float(np.linalg.norm(aim - lamp)):
        return None
    met = lamp + (aim - lamp) * float(lamp[2]) / fall
    return replace(how, foot_mm=(float(lamp[0]), float(lamp[1])), height_mm=float(lamp[2]),
                   aim_mm=(float(met[0]), float(met[1])))


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


# --- where it sits -------------------------------------------------------------------------------------------------


def stands_at_mm(plan: Plan, how: Hung, sits: Spot | None) -> tuple[float, float, float] | None:
    """Where a floodlight's part holds it over the ground in pose value 0: x, y and height; None if not known."""
    if how.ground is None or sits is None:
        return None
    ground = plan.part(how.ground)
    if sits.part == ground.name and all(fold.towards is None for fold in ground.relief.folds):
        return None
    frame = frame_over(plan, sits.part, sits.at_mm, lit_of(ground, how.foot_mm), None)
    if frame is None:
        return None
    x, y, height = moved_by(frame, sits.at_mm)[0]
    return float(x), float(y), float(height)
