"""Outlines: rings of points that bound a simple polygon, or a clear word on why they do not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Point = tuple[float, float]
Points = tuple[Point, ...]
FloatArray = npt.NDArray[np.float64]

FARTHEST_MM = 1e6
"""A coordinate beyond a kilometre is a slip of the pen, not a scale model."""


@dataclass(frozen=True, slots=True)
class OutlineTrouble:
    """Why a ring of points is no outline, and where.

    `why` is one of: too-few-points, not-a-number, too-far, crosses-itself, folds-back, no-area.
    `point` counts from 1, as people count.
    """

    name: str
    why: str
    point: int | None
    where_mm: Point | None
    text: str


@dataclass(frozen=True, slots=True)
class Shape:
    """A polygon in plain numbers: its outer ring anticlockwise, its holes clockwise, none closed by a repeat."""

    exterior_mm: Points
    holes_mm: tuple[Points, ...] = ()


def outline_trouble(points_mm: Sequence[Sequence[float]], *, name: str = "outline") -> OutlineTrouble | None:
    """Say what is wrong with a ring of points, or None when it bounds a simple polygon.

    Parameters
    ----------
    points_mm : sequence of (x, y)
        Corners in order [mm]; a closing repeat of the first and repeats in a row are allowed.
    name : str
        The outline's name for the text.
    Returns
    -------
    OutlineTrouble or None
        The first trouble found, with the number of the point (from 1) and the place.
    """
    bad = _bad_number(points_mm, name)
    if bad is not None:
        return bad
    kept = _distinct(points_mm)
    if len(kept) < 3:
        text = f"{name} has {len(kept)} different points; an outline needs at least 3"
        return OutlineTrouble(name, "too-few-points", None, None, text)
    return _no_area(kept, name) or _crossing(kept, name)


def shape_from_outline(points_mm: Sequence[Sequence[float]], *, name: str = "outline") -> Shape | OutlineTrouble:
    """A valid polygon from a ring of points, or the trouble with it.

    Parameters
    ----------
    points_mm : sequence of (x, y)
        Corners in order, either way round [mm].
    name : str
        The outline's name for the text.
    Returns
    -------
    Shape or OutlineTrouble
        The polygon with its outer ring anticlockwise.
    """
    trouble = outline_trouble(points_mm, name=name)
    if trouble is not None:
        return trouble
    ring = [(float(p[0]), float(p[1])) for p in _points_only(_distinct(points_mm))]
    return Shape(tuple(ring if _signed_area(ring) > 0 else ring[::-1]))


def _bad_number(points: Sequence[Sequence[float]], name: str) -> OutlineTrouble | None:
    for number, point in enumerate(points, start=1):
        x, y = float(point[0]), float(point[1])
        if not (math.isfinite(x) and math.isfinite(y)):
            text = f"{name}: point {number} is ({x}, {y}), not two finite numbers"
            return OutlineTrouble(name, "not-a-number", number, None, text)
        if max(abs(x), abs(y)) > FARTHEST_MM:
            text = f"{name}: point {number} is ({x:g}, {y:g}) mm, farther than {FARTHEST_MM:g} mm from the origin"
            return OutlineTrouble(name, "too-far", number, (x, y), text)
    return None


def _distinct(points: Sequence[Sequence[float]]) -> list[tuple[int, float, float]]:
    """Number (from 1), x, y of each point that differs from the one before it, the closing repeat dropped."""
    kept: list[tuple[int, float, float]] = []
    for number, point in enumerate(points, start=1):
        if not kept or (float(point[0]), float(point[1])) != kept[-1][1:]:
            kept.append((number, float(point[0]), float(point[1])))
    while len(kept) > 1 and kept[0][1:] == kept[-1][1:]:
        kept.pop()
    return kept


def _points_only(kept: Sequence[tuple[int, float, float]]) -> list[Point]:
    return [(x, y) for _, x, y in kept]


def _signed_area(ring: Sequence[Point]) -> float:
    xy = np.asarray(ring, dtype=float)
    xy = xy - xy[0]  # keeps digits when the drawing lies far from the origin
    x, y = xy[:, 0], xy[:, 1]
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def _no_area(kept: list[tuple[int, float, float]], name: str) -> OutlineTrouble | None:
    xy = np.asarray(_points_only(kept))
    spans = xy - xy[0]
    far = spans[np.argmax(np.hypot(spans[:, 0], spans[:, 1]))]
    off = np.abs(spans[:, 0] * far[1] - spans[:, 1] * far[0]) / np.hypot(*far)
    if float(off.max()) > 1e-9 * float(np.hypot(*far)):
        return None
    text = f"{name} encloses no area: its {len(kept)} points lie on one line"
    return OutlineTrouble(name, "no-area", kept[0][0], kept[0][1:], text)


def _crossing(kept: list[tuple[int, float, float]], name: str) -> OutlineTrouble | None:
    """The first pair of edges that meet other than end to end; adjoining edges may not fold back."""
    import shapely

    xy = np.asarray(_points_only(kept))
    if shapely.is_valid(shapely.polygons(xy)):
        return None
    lines = [shapely.LineString(pair) for pair in np.stack([xy, np.roll(xy, -1, axis=0)], axis=1)]
    first, second = shapely.STRtree(lines).query(lines, predicate="intersects")
    order = np.lexsort((second, first))
    count = len(kept)
    for i, j in zip(first[order].tolist(), second[order].tolist(), strict=True):
        if i >= j:
            continue
        meet = shapely.intersection(lines[i], lines[j])
        adjoining = j - i == 1 or (i == 0 and j == count - 1)
        if adjoining and meet.geom_type == "Point":
            continue
        return _crossing_trouble(kept, name, (i, j), meet.centroid, adjoining)
    return None


def _crossing_trouble(
    kept: list[tuple[int, float, float]], name: str, pair: tuple[int, int], spot: Any, adjoining: bool
) -> OutlineTrouble:
    where = (float(spot.x), float(spot.y))
    edge = [f"{kept[k][0]}-{kept[(k + 1) % len(kept)][0]}" for k in pair]
    why, verb = ("folds-back", "folds back on") if adjoining else ("crosses-itself", "meets")
    text = f"{name}: edge {edge[0]} {verb} edge {edge[1]} at ({where[0]:.2f}, {where[1]:.2f}) mm"
    return OutlineTrouble(name, why, kept[pair[0]][0], where, text)
