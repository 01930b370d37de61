"""How deep it is behind a strip's windows, by the plan, and what a strip with its sheets wants of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan, Space, Strip
from rushlight.model.plan_part import Opening

STRIP_TALL_MM = 2.0
"""A strip with its LEDs is so thick (2835 and 3528 chips on a board, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """The free depth behind a strip's windows: `sides_mm` are the lengths that may lie that way, narrowest first.

    One only where the plan says it, for the strip or by a room's width, depth and height. `space` is the room that it
    is taken from; None where the plan tells the strip's own.
    """

    sides_mm: tuple[float, ...]
    space: Space | None


def depth_behind(plan: Plan, run: Strip, openings: Sequence[Opening]) -> Depth | None:
    """What the plan tells of the depth behind a strip's windows.

    Parameters
    ----------
    plan : Plan
        Its closed spaces.
    run : Strip
        The strip; its own depth goes before any space's.
    openings : sequence of Opening
        Its windows.
    Returns
    -------
    Depth or None
        None where neither the strip nor a space says anything. Of several spaces that part of them bounds, the one
        that may be deepest.
    """
    if run.depth_mm is not None:
        return Depth(sides_mm=(run.depth_mm,), space=None)
    names = {opening.name for opening in openings}
    found = [Depth(sides_mm=_sides(space, run, openings, names), space=space)
             for space in plan.spaces if run.part in space.parts]
    return max(found, key=lambda row: row.sides_mm[-1], default=None)


def _sides(space: Space, run: Strip, openings: Sequence[Opening], names: set[str]) -> tuple[float, ...]:
    """The sides of a space that may lie behind a strip: those that leave two for its length and its windows' height."""
    if space.name in names or names & set(space.windows):
        return (space.size_mm[1],)
    length = min(max(math.dist(a, b) for a, b in pairwise(run.along_mm)), max(space.size_mm))
    tall = min(_across_mm(opening) for opening in openings)
    sides = list(space.size_mm)
    left = {side: sorted(sides[:number] + sides[number + 1:]) for number, side in enumerate(sides)}
    may = sorted(side for side, (short, long) in left.items() if long >= length and short >= tall)
    # Where no side leaves room for both, the longest still lies along the strip.
    return tuple(may) or tuple(sorted(sides)[:2])


def _across_mm(opening: Opening) -> float:
    xs, ys = [x for x, _ in opening.shape_mm], [y for _, y in opening.shape_mm]
    return min(max(xs) - min(xs), max(ys) - min(ys))


def wants_mm(drawer: Drawer, run: Strip, openings: Sequence[Opening]) -> float:
    """How far behind its windows a strip reaches: its gap, all sheets with theirs, and its own thickness [mm]."""
    return run.gap_mm + sheets_mm(drawer, openings) + STRIP_TALL_MM


def sheets_mm(drawer: Drawer, openings: Sequence[Opening]) -> float:
    """How far behind the windows their sheets reach [mm]."""
    return max(sum(row.gap_mm + drawer.diffuser(row.sheet).thickness_mm for row in opening.diffusers)
               for opening in openings)
