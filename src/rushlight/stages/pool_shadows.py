"""What stands on a lit ground or hangs over it in a state, and the shadow of each thing in the light of a lamp."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from rushlight.geometry.folded import Frame, sheet_shadow
from rushlight.geometry.shadow import shadow_on_ground
from rushlight.model.design_light import Caster, Wall
from rushlight.model.place import Spot
from rushlight.model.plan import Plan
from rushlight.optics.pool_map import Beam
from rushlight.stages.poses import casters_in
from rushlight.stages.stands import Lit, unknown_over, walls_over

LEAST_GAP_MM = 0.2
"""A lamp on a wall shines from at least this far before it."""

SLIVER_MM = 0.5
"""What of a part's shadow lies this near to the dark side of the lamp's own wall is counted as that."""

MOST_GAP_MM = 5.0
"""A lamp that its plan puts no farther than this behind the wall that it sits on is taken to be before it."""


@dataclass(frozen=True, slots=True)
class Around:
    """What stands there as it is drawn, what of the model's own parts, and of which parts nobody knows."""

    standing: tuple[Caster, ...] = ()
    walls: tuple[Wall, ...] = ()
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that throws a shadow: a block, or all flat pieces of one part."""

    name: str
    block: Caster | None = None
    walls: tuple[Wall, ...] = ()

    @property
    def corners_mm(self) -> tuple[tuple[float, float, float], ...]:
        """Its upper corners: x, y and height; of a flat piece all that lie over the ground."""
        if self.block:
            return tuple((x, y, self.block.height_mm) for x, y in self.block.shape_mm)
        return tuple(corner for wall in self.walls for corner in wall.corners_mm if corner[2] > 0.0)

    @property
    def tall_mm(self) -> float:
        """How high it reaches."""
        return max((z for _, _, z in self.corners_mm), default=0.0)


def around_in(plan: Plan, lit: Lit, state: str) -> Around:
    """All that can throw a shadow on a ground in a state."""
    return Around(casters_in(plan, lit.part, state), walls_over(plan, lit, state), unknown_over(plan, lit))


def things_of(around: Around) -> tuple[Thing, ...]:
    """One by one, the flat pieces of a part together."""
    parts: dict[str, list[Wall]] = {}
    for wall in around.walls:
        parts.setdefault(wall.name, []).append(wall)
    made = [Thing(name, walls=tuple(walls)) for name, walls in parts.items()]
    return (*(Thing(row.name, block=row) for row in around.standing), *(row for row in made if row.tall_mm > 0.0))


@dataclass(frozen=True, slots=True)
class Dark:
    """Ground that a lamp does not reach because of a thing: all of it, and without the dark side of its own wall."""

    whole: Any
    beyond: Any


def shadow_of(thing: Thing, beam: Beam, sits: Spot | None) -> Dark:
    """The shadow of a thing in the light of a lamp; `sits` is where the lamp sits."""
    if thing.block:
        area = shadow_on_ground(thing.block.shape_mm, tall_mm=thing.block.height_mm, foot_mm=beam.foot_mm,
                                lamp_mm=beam.height_mm, above_mm=thing.block.above_mm)
        return Dark(area, area)
    own = [wall for wall in thing.walls if _sits_on(wall, sits)]
    behind = shapely.union_all([_cast(wall, _before(wall, beam)) for wall in own])
    lamp = (*beam.foot_mm, beam.height_mm)
    others = shapely.union_all([_cast(wall, lamp) for wall in thing.walls if wall not in own])
    beyond = others.difference(behind.buffer(SLIVER_MM)) if own else others
    return Dark(behind.union(others), beyond)


def reach_mm(thing: Thing, beam: Beam) -> float | None:
    """How far its shadow falls behind it; None to the end of the ground."""
    if beam.height_mm <= thing.tall_mm:
        return None
    return max(math.dist(beam.foot_mm, (x, y)) * z / (beam.height_mm - z) for x, y, z in thing.corners_mm)


def _cast(wall: Wall, lamp_mm: tuple[float, float, float]) -> Any:
    x, y, height = lamp_mm
    area = shapely.Polygon(wall.rings_mm[0], wall.rings_mm[1:])
    return sheet_shadow(area, _frame(wall), foot_mm=(x, y), lamp_mm=height) if height > 0.0 else shapely.Polygon()


def _frame(wall: Wall) -> Frame:
    return np.array([*wall.frame, (0.0, 0.0, 0.0, 1.0)])


def _sits_on(wall: Wall, sits: Spot | None) -> bool:
    """Whether a lamp sits on this very piece, or in a hole of it."""
    if sits is None or sits.part != wall.name:
        return False
    return bool(shapely.Polygon(wall.rings_mm[0]).covers(shapely.Point(sits.at_mm)))


def _before(wall: Wall, beam: Beam) -> tuple[float, float, float]:
    """A lamp's place, moved before the wall that it sits on where its plan has it in the wall or just behind it."""
    lamp, frame = np.array([*beam.foot_mm, beam.height_mm]), _frame(wall)
    out, on = frame[:3, 2], np.array(wall.corners_mm[0])
    gap, least = float((lamp - on) @ out), max(LEAST_GAP_MM, beam.size_mm / 2)
    if -MOST_GAP_MM <= gap < least:
        lamp = lamp + (least - gap) * out
    return float(lamp[0]), float(lamp[1]), float(lamp[2])
