"""Lines of sight in a region: which targets a point sees past the region's edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.geometry.outline import FloatArray, Shape
from rushlight.geometry.region import allowed_area, eased, edges_mm

IntArray = npt.NDArray[np.int_]
BoolArray = npt.NDArray[np.bool_]

ANGLE_EPS = 1e-12
"""Angles [rad] this close to an edge's end are tested too; the crossing test itself decides."""


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """The edges that block sight: ends, normals into the region and their offsets; and the region that they bound."""

    start_mm: FloatArray
    stop_mm: FloatArray
    normal: FloatArray
    offset: FloatArray
    area: Any


def walls(shapes: Sequence[Shape]) -> Walls:
    """The walls of a region, eased by a millionth of a millimetre so that lines along its edge are free.

    Parameters
    ----------
    shapes : sequence of Shape
        The region.
    Returns
    -------
    Walls
    """
    if not shapes:
        none = np.zeros((0, 2))
        return Walls(none, none, none, np.zeros(0), allowed_area(()))
    edges = np.concatenate([edges_mm(shape) for shape in eased(shapes)])
    start, stop = np.ascontiguousarray(edges[:, 0]), np.ascontiguousarray(edges[:, 1])
    span = stop - start
    normal = np.stack([-span[:, 1], span[:, 0]], axis=1)
    return Walls(start, stop, normal, np.sum(normal * start, axis=1), allowed_area(tuple(shapes)))


def sees(around: Walls, origin_mm: FloatArray, targets_mm: FloatArray) -> BoolArray:
    """Whether a point sees each target: no wall crosses the straight line between them.

    Parameters
    ----------
    around : Walls
        From `walls`; origin and targets lie inside that region.
    origin_mm : array, shape (2,)
        The point that looks [mm].
    targets_mm : array, shape (n, 2)
        The targets [mm].
    Returns
    -------
    array of bool, shape (n,)
    Notes
    -----
    Targets are sorted by angle; each wall is tested only against the targets within its own angle, so that the work
    grows with the walls that lie on the line and not with all of them. Only walls whose free side faces the point are
    tested: a line that leaves the region leaves it through one of those first.
    """
    if not len(targets_mm):
        return np.zeros(0, dtype=bool)
    to_target = targets_mm - origin_mm
    angle = np.arctan2(to_target[:, 1], to_target[:, 0])
    order = np.argsort(angle, kind="stable")
    wall, slot = _pairs(around, origin_mm, angle[order])
    target = order[slot]
    hidden = np.zeros(len(targets_mm), dtype=bool)
    hidden[target[_crosses(around, wall, origin_mm, to_target[target])]] = True
    return ~hidden


def see_each_other(around: Walls, a_mm: FloatArray, b_mm: FloatArray) -> BoolArray:
    """Whether the two points of each pair see each other.

    Parameters
    ----------
    around : Walls
        From `walls`; all points lie inside that region.
    a_mm, b_mm : array, shape (n, 2)
        The points of each pair [mm].
    Returns
    -------
    array of bool, shape (n,)
    """
    import shapely

    lines = shapely.linestrings(np.stack([a_mm, b_mm], axis=1))
    return np.asarray(shapely.covers(around.area, lines), dtype=bool)


def _pairs(around: Walls, origin: FloatArray, angle: FloatArray) -> tuple[IntArray, IntArray]:
    """Wall and sorted target of every pair in which the target's direction lies within the wall's."""
    facing = np.flatnonzero(around.normal @ origin > around.offset)
    from_start, from_stop = around.start_mm[facing] - origin, around.stop_mm[facing] - origin
    first = np.arctan2(from_start[:, 1], from_start[:, 0])
    turn = np.arctan2(from_stop[:, 1], from_stop[:, 0]) - first
    turn -= 2 * math.pi * np.round(turn / (2 * math.pi))
    low = np.where(turn >= 0, first, first + turn) - ANGLE_EPS
    low = np.where(low < -math.pi, low + 2 * math.pi, low)
    high = low + np.abs(turn) + 2 * ANGLE_EPS
    over = np.flatnonzero(high > math.pi)  # its direction passes the cut at 180 degrees: a second range
    begin = np.concatenate([np.searchsorted(angle, low, "left"), np.zeros(len(over), dtype=int)])
    wrapped = np.searchsorted(angle, high[over] - 2 * math.pi, "right")
    end = np.concatenate([np.searchsorted(angle, high, "right"), wrapped])
    count = np.maximum(end - begin, 0)
    owner = np.concatenate([np.arange(len(low)), over])
    wall = np.repeat(facing[owner], count)
    slot = np.arange(len(wall)) - np.repeat(np.cumsum(count) - count - begin, count)
    return wall, slot


def _crosses(around: Walls, wall: IntArray, origin: FloatArray, to_target: FloatArray) -> BoolArray:
    """Whether each wall crosses the line from the origin along `to_target`."""
    start, stop, normal = around.start_mm[wall] - origin, around.stop_mm[wall] - origin, around.normal[wall]
    here = np.sum(normal * start, axis=1)  # minus the origin's side, scaled
    beyond = np.sum(normal * to_target, axis=1) - here
    left = to_target[:, 0] * start[:, 1] - to_target[:, 1] * start[:, 0]
    right = to_target[:, 0] * stop[:, 1] - to_target[:, 1] * stop[:, 0]
    return np.asarray((here * beyond > 0) & (left * right <= 0), dtype=bool)
