"""Bends along a route: where it turns, how far, and how gently it can be laid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rushlight.errors import OutOfRange
from rushlight.geometry.outline import FloatArray, Point
from rushlight.geometry.region import WIDEST_CHORD_RAD

STRAIGHT_RAD = 1e-7
"""A turn below this is rounding, not a bend."""


@dataclass(frozen=True, slots=True)
class Bend:
    """One bend: total turn, the largest radius with which it can be laid, and where it is."""

    angle_deg: float
    radius_mm: float
    where_mm: Point


def bends(points_mm: Sequence[Point], *, grow_mm: float) -> tuple[Bend, ...]:
    """Bends of a polyline, chords of one arc taken together.

    Parameters
    ----------
    points_mm : sequence of (x, y)
        The polyline [mm].
    grow_mm : float
        Radius with which the corners of free space were rounded [mm], 0 or more (the larger of clearance and
        bend radius).
    Returns
    -------
    tuple of Bend
        In order; empty for a straight line.
    Raises
    ------
    OutOfRange
        If `grow_mm` is negative or not finite.
    Notes
    -----
    At a corner that turns by t an arc of radius r uses r tan(t/2) of both neighbouring segments and cuts the corner by
    r (1/cos(t/2) - 1). On each segment the arcs of both its ends must fit, which bounds r; a corner no wider than a
    chord may be cut by what round growing keeps in hand, grow (1/cos(c/2) - 1) with c the widest chord, so that
    the arc stays within the clearance. A wider corner (a stub meeting its route) is bounded by its segments alone.
    First, corners that together turn by no more than a chord are put together where their outer segments meet.
    Consecutive corners that turn the same way, each by one chord at most, less than two chords apart, are one
    bend; its radius is the least of its corners.
    """
    if not (math.isfinite(grow_mm) and grow_mm >= 0):
        raise OutOfRange("grow_mm", grow_mm, "0 or more, finite")
    xy, length, turn = turns(_without_crumbs(points_mm))
    if not len(turn):
        return ()
    radius = corner_radii(length, turn, grow_mm=grow_mm)
    groups = _groups(length, turn, grow_mm)
    return tuple(
        Bend(math.degrees(float(np.abs(turn[g]).sum())), float(radius[g].min()), _middle(xy, g)) for g in groups
    )


def turns(points_mm: Sequence[Point]) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Points without repeats and straight-through points, lengths between them, and the turn at each inner point.

    Parameters
    ----------
    points_mm : sequence of (x, y)
        The polyline [mm].
    Returns
    -------
    (points [mm] (n, 2), lengths [mm] (n - 1,), turns [rad] (n - 2,), left positive)
    """
    xy = np.asarray(points_mm, dtype=float).reshape(-1, 2)
    if len(xy) > 1:
        moved = np.hypot(*np.diff(xy, axis=0).T) > 1e-9
        xy = xy[np.concatenate([[True], moved])]
    while len(xy) > 2:
        turn = _turn(xy)
        straight = np.abs(turn) <= STRAIGHT_RAD
        if not straight.any():
            return xy, np.hypot(*np.diff(xy, axis=0).T), turn
        xy = xy[np.concatenate([[True], ~straight, [True]])]
    return xy, np.hypot(*np.diff(xy, axis=0).T), np.zeros(0)


def corner_radii(length_mm: FloatArray, turn_rad: FloatArray, *, grow_mm: float) -> FloatArray:
    """The largest arc radius at each corner of a polyline; the formula is in the notes of `bends`.

    Parameters
    ----------
    length_mm : array, shape (n + 1,)
        Segment lengths [mm], positive.
    turn_rad : array, shape (n,)
        Turn at each corner [rad], between -pi and pi, not 0.
    grow_mm : float
        Radius with which the corners of free space were rounded [mm].
    Returns
    -------
    array, shape (n,)
        Radii [mm].
    """
    half = np.minimum(np.abs(turn_rad) / 2, math.pi / 2 - 1e-9)
    tangent = np.tan(half)
    shared = np.concatenate([[0.0], tangent]) + np.concatenate([tangent, [0.0]])
    fits = length_mm / shared
    radius = np.minimum(fits[:-1], fits[1:])
    in_hand = grow_mm * (1 / math.cos(WIDEST_CHORD_RAD / 2) - 1)
    cut = in_hand / (1 / np.cos(half) - 1)
    chord = np.abs(turn_rad) <= WIDEST_CHORD_RAD * (1 + 1e-6)
    sharp = np.where(grow_mm > 0, cut, 0.0)
    return np.asarray(np.where(chord | (grow_mm == 0), np.minimum(radius, sharp), radius), dtype=float)


def _without_crumbs(points_mm: Sequence[Point]) -> Sequence[Point]:
    """The same polyline without segments so short that both their ends are one chord's turn of one arc."""
    xy, length, turn = turns(points_mm)
    while len(turn) > 1:
        both = np.abs(turn[:-1]) + np.abs(turn[1:])
        crumb = (turn[:-1] * turn[1:] > 0) & (both <= WIDEST_CHORD_RAD) & (length[1:-1] < length[:-2])
        crumb &= length[1:-1] < length[2:]
        if not crumb.any():
            break
        k = int(np.flatnonzero(crumb)[0])
        meet = _meeting(xy[k], xy[k + 1], xy[k + 2], xy[k + 3])
        xy = np.concatenate([xy[: k + 1], meet[None], xy[k + 3 :]])
        xy, length, turn = turns([(float(x), float(y)) for x, y in xy])
    return [(float(x), float(y)) for x, y in xy]


def _meeting(a: FloatArray, b: FloatArray, c: FloatArray, d: FloatArray) -> FloatArray:
    """Where the lines a-b and c-d meet."""
    along, other, gap = b - a, d - c, c - a
    cross = along[0] * other[1] - along[1] * other[0]
    return np.asarray(a + along * (gap[0] * other[1] - gap[1] * other[0]) / cross, dtype=float)


def _turn(xy: FloatArray) -> FloatArray:
    step = np.diff(xy, axis=0)
    into, out = step[:-1], step[1:]
    cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    return np.asarray(np.arctan2(cross, np.sum(into * out, axis=1)), dtype=float)


def _groups(length: FloatArray, turn: FloatArray, grow_mm: float) -> list[slice]:
    """Runs of corners that are chords of one arc."""
    chord = np.abs(turn) <= WIDEST_CHORD_RAD * (1 + 1e-6)
    near = length[1:-1] <= 4 * max(grow_mm, 1e-9) * math.tan(WIDEST_CHORD_RAD / 2)
    joined = near & chord[:-1] & chord[1:] & (np.sign(turn[:-1]) == np.sign(turn[1:]))
    starts = [0, *(int(k) + 1 for k in np.flatnonzero(~joined))]
    return [slice(a, b) for a, b in zip(starts, [*starts[1:], len(turn)], strict=True)]


def _middle(xy: FloatArray, group: slice) -> Point:
    at = xy[1 + (group.start + group.stop - 1) // 2]
    return (float(at[0]), float(at[1]))
