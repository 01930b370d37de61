"""Where the model's own parts stand over one another in a state, as far as the plan says."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import shapely

from rushlight.geometry.folded import FoldLine, Frame, Panel, folded, panel_at, standing_frame, turned
from rushlight.model.design_light import Caster, Wall
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Obstacle, Opening, Part, Stand
from rushlight.stages.poses import casters_in, free_shape, movers_under, pose_in

_FLAT = [0, 1, 3]
"""Columns of a frame that a flat drawing needs."""


@dataclass(frozen=True, slots=True)
class Lit:
    """The flat piece of a part on which light falls, by a point on it."""

    part: Part
    base_at: Point

    @property
    def key(self) -> tuple[str, Point]:
        """What tells it from every other of a plan."""
        return (self.part.name, self.base_at)

    @property
    def area(self) -> Any:
        """What it covers on its part's drawing."""
        return panels_of(self.part, self.base_at)[0].area


def lit_of(part: Part, foot_mm: Point) -> Lit:
    """The piece of a part over which a lamp hangs, by the point below it."""
    if not any(fold.towards for fold in part.relief.folds):
        return Lit(part, part.outline_mm[0])
    spot = panels_of(part, foot_mm)[0].area.representative_point()
    return Lit(part, (float(spot.x), float(spot.y)))


# --- frames --------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=512)
def panels_of(part: Part, base_at: Point) -> tuple[Panel, ...]:
    """The flat pieces of a part, the one of a point first; folds of which the way is not said stay flat."""
    out = outward(part)
    folds = [FoldLine(fold.from_mm, fold.to_mm, fold.angle_deg, (fold.towards == "outside") == (out > 0))
             for fold in part.relief.folds if fold.towards]
    return folded(part.outline_mm, folds, base_at=base_at)


def outward(part: Part) -> float:
    """1 where the part's outer face looks at whoever sees its drawing, else -1."""
    return 1.0 if part.drawn_from == "outside" else -1.0


def frame_over(plan: Plan, part: str, at: Point, ground: Lit, state: str | None) -> Frame | None:
    """From a piece of a part, by a point of it, to the ground's drawing with heights as z; None where not known.

    `state` None is the pose of value 0 for every part.
    """
    values = values_in(plan, state)
    down, root = frame_to_root(plan, part, at, values)
    back, same = frame_to_root(plan, ground.part.name, ground.base_at, values)
    if root != same:
        return None
    turn = np.diag([1.0, 1.0, outward(ground.part), 1.0])
    return np.asarray(turn @ np.linalg.inv(back) @ down)


def values_in(plan: Plan, state: str | None) -> dict[str, float]:
    """How far every part is turned or slid in a state; in none all are at 0."""
    if state is None:
        return {}
    poses = {part.name: pose_in(plan, part.name, state) for part in plan.parts if part.poses}
    return {name: pose.value for name, pose in poses.items() if pose is not None}


def frame_to_root(plan: Plan, part: str, at: Point, values: Mapping[str, float]) -> tuple[Frame, str]:
    """From a piece of a part, by a point of it, to the drawing of the part at the end of its stands, and that part.

    `values` are degrees and millimetres of the parts that are not at 0.
    """
    row = plan.part(part)
    if row.stands is None:
        base = _own_base(row)
        return _piece_frame(row, base, at), part
    under = plan.part(row.stands.over)
    piece = _piece_frame(row, _middle(row.stands.points_mm), at)
    on, root = frame_to_root(plan, under.name, _middle(row.stands.at_mm), values)
    return on @ _stand_frame(row, under, values.get(part, 0.0)) @ piece, root


def _own_base(part: Part) -> Point:
    """A point of the piece that a part without a stand keeps as drawn: its largest."""
    if not any(fold.towards for fold in part.relief.folds):
        return part.outline_mm[0]
    pieces = panels_of(part, part.outline_mm[0])
    point = max((panel.area for panel in pieces), key=lambda area: area.area).representative_point()
    return (float(point.x), float(point.y))


def _piece_frame(part: Part, base_at: Point, at: Point) -> Frame:
    panels = panels_of(part, base_at)
    return panels[panel_at(panels, at)].frame


def _middle(points: Sequence[Point]) -> Point:
    (ax, ay), (bx, by) = points[0], points[1]
    return ((ax + bx) / 2, (ay + by) / 2)


def _stand_frame(part: Part, under: Part, value: float) -> Frame:
    """How a part stands on the next one, so far turned or slid."""
    stand, up = part.stands, outward(under)
    assert stand is not None
    up_deg = stand.up_deg + (value if stand.tips else 0.0)
    frame = standing_frame(stand.points_mm, stand.at_mm, above_mm=stand.above_mm, up_deg=up_deg, up=up)
    return _motion(stand, value) @ frame


def _motion(stand: Stand | Obstacle, value: float) -> Frame:
    """A turn about an upright axis, or a slide, on the drawing of what it stands on."""
    if stand.pivot_mm is not None:
        return turned((*stand.pivot_mm, 0.0), (0.0, 0.0, 1.0), value)
    frame = np.eye(4)
    if stand.slide_deg is not None:
        way = math.radians(stand.slide_deg)
        frame[:2, 3] = value * np.array([math.cos(way), math.sin(way)])
    return frame


# --- what stands over a ground -------------------------------------------------------------------------------------


def walls_over(plan: Plan, ground: Lit, state: str) -> tuple[Wall, ...]:
    """Every flat piece of the model whose place over a ground is known, in a state; what passes light is cut out."""
    found = []
    for part in plan.parts:
        if not part.throws_shadow:
            continue
        base = ground.base_at if part.name == ground.part.name else base_point(part)
        for panel in panels_of(part, base):
            spot = panel.area.representative_point()
            frame = frame_over(plan, part.name, (float(spot.x), float(spot.y)), ground, state)
            if frame is None or (part.name == ground.part.name and np.allclose(frame[:, _FLAT], np.eye(4)[:, _FLAT])):
                continue
            found += _faces(plan, part, panel.area, frame, state)
        found += [] if part.name == ground.part.name else _blocks_on(plan, part, ground, state)
    return tuple(found)


def _blocks_on(plan: Plan, part: Part, ground: Lit, state: str) -> list[Wall]:
    """What stands on a part that itself stands over the ground: the top and the sides of each block."""
    found = []
    for row in casters_in(plan, part, state):
        middle = shapely.Polygon(row.shape_mm).representative_point()
        frame = frame_over(plan, part.name, (float(middle.x), float(middle.y)), ground, state)
        if frame is not None:
            found += [_face(row.name, ring, frame @ own) for ring, own in _sides(row, outward(part))]
    return found


def _sides(row: Caster, out: float) -> list[tuple[tuple[Point, ...], Frame]]:
    """Faces of a block: corners as they lie on each face, and the frame from it to the part's drawing."""
    top = np.eye(4)
    top[2, 3] = out * row.height_mm
    made = [(row.shape_mm, top)]
    for a, b in zip(row.shape_mm, (*row.shape_mm[1:], row.shape_mm[0]), strict=True):
        wide, tall = math.dist(a, b), row.height_mm - row.above_mm
        if wide > 0.0:
            side = standing_frame(((0.0, 0.0), (wide, 0.0)), (a, b), above_mm=row.above_mm, up=out)
            made.append((((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall)), side))
    return made


def _face(name: str, ring: tuple[Point, ...], frame: Frame) -> Wall:
    return Wall(name=name, rings_mm=(ring,), frame=_rows(frame))


def _rows(frame: Frame) -> tuple[tuple[float, ...], ...]:
    return tuple(tuple(round(float(value), 9) + 0.0 for value in row) for row in frame[:3])


def base_point(part: Part) -> Point:
    """A point of the piece of a part that its stand holds; without one, of the piece that it keeps as drawn."""
    return _middle(part.stands.points_mm) if part.stands else _own_base(part)


def _faces(plan: Plan, part: Part, area: Any, frame: Frame, state: str) -> list[Wall]:
    """A piece with its openings cut out."""
    free = [shape for row in part.openings if len(shape := passes(plan, row, state)) > 2]
    holes = [shapely.make_valid(shapely.Polygon(shape)) for shape in free]
    left = area.difference(shapely.union_all(holes)) if holes else area
    return [_wall(part, piece, frame) for piece in shapely.get_parts(left) if piece.geom_type == "Polygon"]


def _wall(part: Part, piece: Any, frame: Frame) -> Wall:
    faced = frame @ np.diag([1.0, 1.0, outward(part), 1.0])
    rings = [piece.exterior, *piece.interiors]
    corners = tuple(tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in rings)
    return Wall(name=part.name, rings_mm=corners,
                frame=_rows(faced))


def passes(plan: Plan, opening: Opening, state: str) -> tuple[Point, ...]:
    """Corners of what a beam passes of an opening: none where a sheet scatters it, all where its door has a stand."""
    if opening.diffusers:
        return ()
    if opening.door and plan.part(opening.door.part).stands:
        return opening.shape_mm
    return free_shape(plan, opening, state)


def unknown_over(plan: Plan, ground: Lit) -> tuple[str, ...]:
    """Parts of which nobody said where they stand over a ground; those that throw no shadow are left out."""
    drawn = {row.moves_with for row in ground.part.obstacles} | {row.name for row in ground.part.obstacles}
    drawn |= {row.name for row in ground.part.keep_outs}
    return tuple(part.name for part in plan.parts
                 if part.throws_shadow and part.name not in drawn and not _known_over(plan, part, ground))


def _known_over(plan: Plan, part: Part, ground: Lit) -> bool:
    """Whether all of a part is known: its place, its folds, how its poses move it."""
    if part.name == ground.part.name:
        return _folds_said(part)
    there = frame_over(plan, part.name, base_point(part), ground, None) is not None
    return there and _folds_said(part) and _moves_said(part)


def _folds_said(part: Part) -> bool:
    return all(fold.towards for fold in part.relief.folds)


def _moves_said(part: Part) -> bool:
    """Whether a part that moves says how."""
    return part.stands is None or part.stands.moves or len({pose.value for pose in part.poses}) < 2


# --- lamps that move -----------------------------------------------------------------------------------------------


def shift_of(plan: Plan, part: str, at: Point, ground: Lit, state: str) -> Frame | None:
    """How a place on a part has moved over a ground from the pose of value 0 to that of a state.

    None where it has not moved, or nobody said how.
    Known by the part's stand, or by an obstacle of the ground that moves with the part.
    """
    over = next((row for row in ground.part.obstacles if row.moves_with == part), None)
    moving = (*movers_under(plan, part), *movers_under(plan, ground.part.name), *([part] if over else []))
    values = values_in(plan, state) if moving else {}
    if all(values.get(name, 0.0) == 0.0 for name in moving):
        return None
    here, start = (frame_over(plan, part, at, ground, when) for when in (state, None))
    if here is not None and start is not None:
        return np.asarray(here @ np.linalg.inv(start))
    return _motion(over, values[part]) if over else None

