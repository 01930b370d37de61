"""A lead or fibre over a mating edge or a row of locating pins."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.loom._words import PRACTICE, legs_on
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Point, Spot
from rushlight.model.plan_part import Part

NEAR_END_MM = 15.0
"""Within this of a crossing's end a run may pass the edge: that is what the crossing is for (habit strain)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("no_pinch").low or 2.0
    found = []
    for part in design.plan.parts:
        if not part.seams_mm:
            continue
        near = [(*_nearest(design, part, leg.points_mm), name) for name, leg in legs_on(design, part.name)]
        close = [row for row in near if row[0] < limit - 1e-6]
        if close:
            found.append(_trouble(part.name, close, limit))
    return tuple(found)


def _nearest(design: Design, part: Part, points: tuple[Point, ...]) -> tuple[float, Point]:
    """How near a run comes to the part's seams, away from its crossings, and where."""
    from shapely import LineString
    from shapely import Point as Dot
    from shapely.ops import nearest_points

    run: Any = LineString(points)
    for crossing in design.plan.crossings:
        for end in crossing.ends:
            if end.part == part.name:
                run = run.difference(Dot(end.at_mm).buffer(NEAR_END_MM))
    if run.is_empty:
        return math.inf, points[0]
    best, where = math.inf, points[0]
    for seam in (line for line in part.seams_mm if _has_length(line)):
        on_run, on_seam = nearest_points(run, LineString(seam))
        if on_run.distance(on_seam) < best:
            best, where = on_run.distance(on_seam), (on_run.x, on_run.y)
    return best, where


def _has_length(line: tuple[Point, ...]) -> bool:
    return any(a != b for a, b in pairwise(line))


def _trouble(part: str, close: list[tuple[float, Point, str]], limit: float) -> Trouble:
    apart, where, _ = min(close, key=lambda row: row[0])
    names = listed(list(dict.fromkeys(name for _, _, name in close)))
    return Trouble(
        item=part, spot=Spot(part, *where), number=apart, limit=limit,
        says=capital(f"On '{part}' {names} come as near as {plain(apart)} mm to a seam; {plain(limit)} mm keep them "
                     "clear."),
    )


RULE = Rule(
    key="loom.no-pinch",
    grade=Grade.DOUBTFUL,
    title="Lead or fibre near a seam",
    unit="mm",
    why="Mating edges and pins bite through insulation and fibre when the halves are pressed together.",
    cure="Lay it inward by hand and glue it down there; or draw the seam's rim as a keep-out (why: mating edge), so "
         "that "
         "the routes stay off it.",
    source=PRACTICE,
    practice="no_pinch",
    look=_look,
)
