"""How moving parts stand in a state, and what that does to openings with doors and to what throws shadows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.design_light import Caster
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.model.plan_part import NamedPose, Obstacle, Opening, Part
from rushlight.optics.doorway import OPEN, Doorway, slid_door, turned_door


@dataclass(frozen=True, slots=True)
class LitDoor:
    """An opening with a door in a state that lights lamps behind it."""

    opening: Opening
    part: str
    state: str
    pose: str
    value: float
    doorway: Doorway
    lamps: tuple[PlacedLamp, ...]


def pose_in(plan: Plan, part: str, state: str) -> NamedPose | None:
    """How a moving part stands in a state: as the state says, else in its first pose; None if it has none."""
    poses = next((row.poses for row in plan.parts if row.name == part), ())
    said = next((pose.at for row in plan.states if row.name == state for pose in row.poses if pose.part == part), None)
    return next((pose for pose in poses if pose.name == said), poses[0] if poses else None)


def doorway_in(plan: Plan, opening: Opening | None, state: str) -> Doorway:
    """How far an opening is free in a state; quite free without a door."""
    if opening is None or opening.door is None:
        return OPEN
    pose = pose_in(plan, opening.door.part, state)
    value = pose.value if pose else 0.0
    across, along = (_span(opening, axis) for axis in ((0, 1) if opening.door.edge in ("left", "right") else (1, 0)))
    if opening.door.moves == "slides":
        return slid_door(value, across)
    return turned_door(max(-360.0, min(360.0, value)), along / across)


def free_shape(plan: Plan, opening: Opening, state: str) -> tuple[Point, ...]:
    """Corners of what is seen of an opening past its door, looked at square on; none where it is shut."""
    seen = doorway_in(plan, opening, state).seen
    if opening.door is None or seen >= 1.0:
        return opening.shape_mm
    if seen <= 0.0:
        return ()
    edge = opening.door.edge
    axis = 0 if edge in ("left", "right") else 1
    places = [corner[axis] for corner in opening.shape_mm]
    low, high = min(places), max(places)
    above = edge in ("left", "bottom")
    limit = high - seen * (high - low) if above else low + seen * (high - low)
    return _cut(opening.shape_mm, axis, limit, above=above)


def _cut(corners: tuple[Point, ...], axis: int, limit: float, *, above: bool) -> tuple[Point, ...]:
    """The corners on one side of a straight line across an axis, with those where the edges meet it."""
    kept: list[Point] = []
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (a[axis] >= limit) == above or a[axis] == limit:
            kept.append(a)
        if (a[axis] - limit) * (b[axis] - limit) < 0.0:
            part = (limit - a[axis]) / (b[axis] - a[axis])
            kept.append((a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])))
    return tuple(kept)


def _span(opening: Opening, axis: int) -> float:
    places = [corner[axis] for corner in opening.shape_mm]
    return max(places) - min(places)


def casters_in(plan: Plan, part: Part, state: str) -> tuple[Caster, ...]:
    """Keep-outs that stand up outside, and obstacles as they stand or hang in a state."""
    standing = [Caster(name=row.name, shape_mm=row.shape_mm, height_mm=row.height_mm)
                for row in part.keep_outs if row.height_mm]
    hanging = [Caster(name=row.name, shape_mm=_moved(plan, row, state), height_mm=row.height_mm, above_mm=row.above_mm)
               for row in part.obstacles]
    return (*standing, *hanging)


def _moved(plan: Plan, row: Obstacle, state: str) -> tuple[Point, ...]:
    pose = pose_in(plan, row.moves_with, state) if row.moves_with else None
    value = pose.value if pose else 0.0
    if value == 0.0:
        return row.shape_mm
    if row.pivot_mm is not None:
        (u, v), turn = row.pivot_mm, math.radians(value)
        return tuple((u + (x - u) * math.cos(turn) - (y - v) * math.sin(turn),
                      v + (x - u) * math.sin(turn) + (y - v) * math.cos(turn)) for x, y in row.shape_mm)
    way = math.radians(row.slide_deg or 0.0)
    return tuple((x + value * math.cos(way), y + value * math.sin(way)) for x, y in row.shape_mm)


def unsaid_poses(plan: Plan, part: str, states: set[str]) -> tuple[str, ...]:
    """States, of those named, that do not say how a part with more than one stand stands."""
    values = {pose.value for row in plan.parts if row.name == part for pose in row.poses}
    if len(values) < 2:
        return ()
    return tuple(row.name for row in plan.states
                 if row.name in states and all(pose.part != part for pose in row.poses))


def lit_doors(design: Design) -> tuple[LitDoor, ...]:
    """Every opening with a door, in every state that lights a lamp behind it; in the plan's order."""
    found = []
    for part in design.plan.parts:
        for opening in part.openings:
            if opening.door is None:
                continue
            behind = [lamp for lamp in design.lamps
                      if lamp.spot and lamp.spot.part == part.name and lamp.opening == opening.name and not lamp.dark]
            for state in design.plan.states:
                lit = tuple(lamp for lamp in behind if state.name in lamp.states)
                pose = pose_in(design.plan, opening.door.part, state.name)
                if lit and pose is not None:
                    found.append(LitDoor(opening, part.name, state.name, pose.name, pose.value,
                                         doorway_in(design.plan, opening, state.name), lit))
    return tuple(found)


def movers_of_light(design: Design) -> dict[str, set[str]]:
    """Moving parts that shut a lit opening, shade lit ground or bear its lamps, each with those states."""
    found: dict[str, set[str]] = {}
    for row in lit_doors(design):
        assert row.opening.door is not None
        found.setdefault(row.opening.door.part, set()).add(row.state)
    for ground in design.light.grounds:
        walls = {wall.name for wall in ground.walls}
        for part in design.plan.parts:
            for obstacle in part.obstacles:
                if obstacle.moves_with and (part.name == ground.part or obstacle.name in walls):
                    found.setdefault(obstacle.moves_with, set()).update(ground.states)
        bearing = [lamp.spot.part for lamp in design.lamps if lamp.spot and lamp.name in ground.lamps]
        shading = [part.name for part in design.plan.parts if part.name in walls]
        for name in dict.fromkeys((*shading, *bearing)):
            for moving in movers_under(design.plan, name):
                found.setdefault(moving, set()).update(ground.states)
    return found


def movers_under(plan: Plan, part: str) -> tuple[str, ...]:
    """A part and those that it stands on, one below the other, as far as they are said to move."""
    found, at = [], plan.part(part)
    while at.stands is not None:
        found += [at.name] if at.stands.moves else []
        at = plan.part(at.stands.over)
    return tuple(found)
