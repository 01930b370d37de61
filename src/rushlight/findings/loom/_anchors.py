"""Where along a leg the leads are held."""

from __future__ import annotations

import math
from itertools import pairwise

from rushlight.model.design import Design
from rushlight.model.place import Leg, Point

BESIDE_MM = 10.0
"""An anchor shared with a neighbouring lead lies so far beside a leg at most (a quarter of the habit's pitch)."""


def held_at_mm(design: Design, leg: Leg) -> tuple[float, ...]:
    """Places along a leg, from its start, at which an anchor holds it; in order."""
    spots = [spot.at_mm for spot in design.loom.anchors if spot.part == leg.part]
    places, so_far = [], 0.0
    for a, b in pairwise(leg.points_mm):
        length = math.dist(a, b)
        for spot in spots:
            along = _foot(a, b, spot)
            if math.dist(_at(a, b, along), spot) <= BESIDE_MM:
                places.append(so_far + along * length)
        so_far += length
    return tuple(sorted(places))


def leg_mm(leg: Leg) -> float:
    """Length of a leg."""
    return sum(math.dist(a, b) for a, b in pairwise(leg.points_mm))


def _foot(a: Point, b: Point, spot: Point) -> float:
    """Share of the way from a to b that is nearest to a spot."""
    length2 = math.dist(a, b) ** 2
    if length2 == 0:
        return 0.0
    return min(max(((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / length2, 0.0), 1.0)


def _at(a: Point, b: Point, share: float) -> Point:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
