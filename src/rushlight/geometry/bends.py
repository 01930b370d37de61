"""Bends along a route: where it turns, how far, and how gently it can be laid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rushlight.errors import OutOfRange
from rushlight.geometry.outline import Point, Points
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
    line = _straightened(points_mm, grow_mm)
    if not line.turn_rad:
        return ()
    radius = _corner_radii(line, grow_mm)
    return tuple(
        Bend(
            math.degrees(math.fsum(abs(turn) for turn in line.turn_rad[group])), min(radius[group]),
            line.points_mm[1 + (group.start + group.stop - 1) // 2],
        )
        for group in _groups(line, grow_mm)
    )


def least_bend_mm(points_mm: Sequence[Point], *, grow_mm: float) -> float:
    """The radius of a polyline's tightest bend, as `bends` measures it.

    Parameters
    ----------
    points_mm, grow_mm
        As for `bends`.
    Returns
    -------
    float
        Radius [mm]; infinite for a straight line.
    Raises
    ------
    OutOfRange
        If `grow_mm` is negative or not finite.
    """
    return min(_corner_radii(_straightened(points_mm, grow_mm), grow_mm), default=math.inf)


# --- inner functions: plain numbers, because a route has a dozen points and is measured thousands of times ----------


@dataclass(frozen=True, slots=True)
class _Line:
    """Points without repeats and straight-through points, lengths between them, the turn at each inner point."""

    points_mm: Points
    length_mm: tuple[float, ...]
    turn_rad: tuple[float, ...]


def _straightened(points_mm: Sequence[Point], grow_mm: float) -> _Line:
    if not (math.isfinite(grow_mm) and grow_mm >= 0):
        raise OutOfRange("grow_mm", grow_mm, "0 or more, finite")
    line = _line(points_mm)
    while len(line.turn_rad) > 1:
        crumb = _crumb(line)
        if crumb is None:
            break
        line = _line(_without(line.points_mm, crumb))
    return line


def _line(points_mm: Sequence[Point]) -> _Line:
    """The polyline measured; turns are positive to the left."""
    points = [(float(x), float(y)) for x, y in points_mm]
    kept = [p for k, p in enumerate(points) if k == 0 or math.dist(p, points[k - 1]) > 1e-9]
    while True:
        turn = [_turn(a, b, c) for a, b, c in zip(kept, kept[1:], kept[2:], strict=False)]
        bent = [k for k, angle in enumerate(turn, 1) if abs(angle) > STRAIGHT_RAD]
        if len(bent) == len(turn):
            return _Line(tuple(kept), tuple(math.dist(a, b) for a, b in pairwise(kept)), tuple(turn))
        kept = [kept[0], *(kept[k] for k in bent), kept[-1]]


def _turn(a: Point, b: Point, c: Point) -> float:
    in_x, in_y, out_x, out_y = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return math.atan2(in_x * out_y - in_y * out_x, in_x * out_x + in_y * out_y)


def _crumb(line: _Line) -> int | None:
    """The first segment so short that both its ends are one chord's turn of one arc."""
    for k, (first, second) in enumerate(pairwise(line.turn_rad)):
        before, own, after = line.length_mm[k : k + 3]
        if first * second > 0 and abs(first) + abs(second) <= WIDEST_CHORD_RAD and own < before and own < after:
            return k
    return None


def _without(points: Points, crumb: int) -> Points:
    """The same polyline with a crumb's neighbours drawn out to where they meet."""
    a, b, c, d = points[crumb : crumb + 4]
    along, other, gap = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1]), (c[0] - a[0], c[1] - a[1])
    cross = along[0] * other[1] - along[1] * other[0]
    share = (gap[0] * other[1] - gap[1] * other[0]) / cross
    meet = (a[0] + along[0] * share, a[1] + along[1] * share)
    return (*points[: crumb + 1], meet, *points[crumb + 3 :])


def _corner_radii(line: _Line, grow_mm: float) -> list[float]:
    """The largest arc radius at each corner [mm]; the formula is in the notes of `bends`."""
    half = [min(abs(turn) / 2, math.pi / 2 - 1e-9) for turn in line.turn_rad]
    tangent = [0.0, *(math.tan(angle) for angle in half), 0.0]
    shared = [a + b for a, b in pairwise(tangent)]
    fits = [length / used if used else math.inf for length, used in zip(line.length_mm, shared, strict=True)]
    in_hand = grow_mm * (1 / math.cos(WIDEST_CHORD_RAD / 2) - 1)
    radii = []
    for angle, room in zip(half, (min(pair) for pair in pairwise(fits)), strict=True):
        chord = 2 * angle <= WIDEST_CHORD_RAD * (1 + 1e-6)
        cut = in_hand / (1 / math.cos(angle) - 1) if grow_mm > 0 else 0.0
        radii.append(min(room, cut) if chord or grow_mm == 0 else room)
    return radii


def _groups(line: _Line, grow_mm: float) -> list[slice]:
    """Runs of corners that are chords of one arc."""
    most = WIDEST_CHORD_RAD * (1 + 1e-6)
    near = 4 * max(grow_mm, 1e-9) * math.tan(WIDEST_CHORD_RAD / 2)
    starts = [0]
    for k, (first, second) in enumerate(pairwise(line.turn_rad), 1):
        chords = abs(first) <= most and abs(second) <= most and first * second > 0
        if not (chords and line.length_mm[k] <= near):
            starts.append(k)
    return [slice(a, b) for a, b in zip(starts, [*starts[1:], len(line.turn_rad)], strict=True)]
