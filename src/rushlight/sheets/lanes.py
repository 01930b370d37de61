"""Runs that lie on one another drawn side by side, so that each can be followed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from rushlight.model.sheet import Point

GRAIN_MM = 0.1
"""Ends of segments nearer than this count as one place."""

_Key = tuple[tuple[int, int], tuple[int, int]]


def in_lanes(runs: Sequence[Sequence[Point]], pitch_mm: float) -> tuple[tuple[Point, ...], ...]:
    """The same runs with shared segments moved apart.

    Parameters
    ----------
    runs : sequence of sequences of Point
        Each two points or more; repeated points are left out.
    pitch_mm : float
        Distance of neighbours [mm], >= 0.
    Returns
    -------
    tuple of tuples of Point
        One for each run, in order; a run that shares nothing is unchanged.
    Notes
    -----
    A segment that n runs share gives lanes (k - (n - 1) / 2) * pitch for k = 0 .. n - 1 in the order of the runs, all
    measured to the left of the way of the first of them. Where a run's lane changes, its two ends are joined.
    """
    cleaned = [_distinct(run) for run in runs]
    users: dict[_Key, list[int]] = {}
    for index, run in enumerate(cleaned):
        for a, b in pairwise(run):
            held = users.setdefault(_key(a, b), [])
            if index not in held:
                held.append(index)
    return tuple(_moved(index, cleaned, users, pitch_mm) for index in range(len(cleaned)))


def _distinct(run: Sequence[Point]) -> list[Point]:
    return [point for k, point in enumerate(run) if k == 0 or math.dist(point, run[k - 1]) > 1e-9]


def _cell(point: Point) -> tuple[int, int]:
    return (round(point[0] / GRAIN_MM), round(point[1] / GRAIN_MM))


def _key(a: Point, b: Point) -> _Key:
    first, second = sorted((_cell(a), _cell(b)))
    return (first, second)


def _moved(index: int, runs: list[list[Point]], users: dict[_Key, list[int]], pitch_mm: float) -> tuple[Point, ...]:
    run = runs[index]
    if len(run) < 2:
        return tuple(run)
    offsets = [_offset(index, pair, (runs, users), pitch_mm) for pair in pairwise(run)]
    if not any(offsets):
        return tuple(run)
    lefts = [_left(a, b) for a, b in pairwise(run)]
    points = [_shifted(run[0], lefts[0], offsets[0])]
    for k in range(1, len(run) - 1):
        points += _joint(run[k], (lefts[k - 1], offsets[k - 1]), (lefts[k], offsets[k]))
    return (*points, _shifted(run[-1], lefts[-1], offsets[-1]))


def _offset(
    index: int, pair: tuple[Point, Point], known: tuple[list[list[Point]], dict[_Key, list[int]]], pitch_mm: float
) -> float:
    runs, users = known
    key = _key(*pair)
    sharing = users[key]
    if len(sharing) < 2:
        return 0.0
    lane = (sharing.index(index) - (len(sharing) - 1) / 2) * pitch_mm
    leader = next(p for p in pairwise(runs[sharing[0]]) if _key(*p) == key)
    along = (leader[1][0] - leader[0][0]) * (pair[1][0] - pair[0][0])
    along += (leader[1][1] - leader[0][1]) * (pair[1][1] - pair[0][1])
    return lane if along >= 0 else -lane


def _left(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)


def _shifted(point: Point, left: Point, by_mm: float) -> Point:
    return (point[0] + left[0] * by_mm, point[1] + left[1] * by_mm)


def _joint(point: Point, before: tuple[Point, float], after: tuple[Point, float]) -> list[Point]:
    """One mitred corner where the lane stays; two points where it changes."""
    (u, first), (v, second) = before, after
    if first != second:
        return [_shifted(point, u, first), _shifted(point, v, second)]
    x, y = u[0] + v[0], u[1] + v[1]
    stretch = 2.0 / max(x * x + y * y, 0.5)
    return [(point[0] + x * stretch * first, point[1] + y * stretch * first)]
