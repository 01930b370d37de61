"""Easing a fibre's ends: the stub that leaves a lamp at right angles becomes a slanting run where there is room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from rushlight.geometry.bends import least_bend_mm
from rushlight.geometry.outline import Point, Points, Shape
from rushlight.geometry.region import allowed_area
from rushlight.geometry.sight import BoolArray


def eased(points_mm: Points, raw: Sequence[Shape], *, grow_mm: float) -> Points:
    """A route with both ends drawn straight to the inner point that leaves the gentlest bends.

    Parameters
    ----------
    points_mm : points
        The route [mm], stubs included.
    raw : sequence of Shape
        Outline less keep-outs, without margins: what a fibre's end may touch.
    grow_mm : float
        Radius with which the corners of free space were rounded [mm], 0 or more.
    Returns
    -------
    points
        The same ends; never a tighter least bend than the route had, and never longer.
    Notes
    -----
    Between a lamp close to an edge and free space the clearance kept for bends does not apply; only the parts
    themselves do. Every choice of a first and a last inner point whose straight runs stay on the raw area is tried.
    Source
    ------
    Own definition; checked in tests/unit/geometry/test_ease.py.
    """
    count = len(points_mm)
    if count < 3:
        return points_mm
    allowed = allowed_area(tuple(raw))
    from_start = _clear(allowed, points_mm[0], points_mm[1:])
    if from_start[-1]:  # nothing is gentler than a straight line
        return (points_mm[0], points_mm[-1])
    to_end = _clear(allowed, points_mm[-1], points_mm[:-1])
    variants = [points_mm]
    for i in np.flatnonzero(from_start).tolist():
        variants += [_joined(points_mm, i + 1, j) for j in np.flatnonzero(to_end).tolist() if j > i]
    return max(variants, key=lambda points: (least_bend_mm(points, grow_mm=grow_mm), -len(points)))


def _joined(points: Points, first: int, last: int) -> Points:
    return (points[0], *points[first : last + 1], points[-1])


def _clear(allowed: Any, end: Point, others: Points) -> BoolArray:
    """Whether the straight line from one end to each of the others stays on the area."""
    import shapely

    lines = [(end, other) for other in others]
    return np.asarray(shapely.covers(allowed, shapely.linestrings(lines)), dtype=bool)
