"""Exact pieces of circle packing: closed forms, lower bounds, the smallest circle round fixed discs."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Circle = tuple[float, float, float]

PROVED_EQUAL = (*range(1, 14), 19)
"""Counts of equal circles whose smallest container is proved (Pirl, Melissen, Fodor; see circles.py)."""


def pair_centres(r1: float, r2: float) -> tuple[float, list[tuple[float, float]]]:
    """Two discs side by side: the container r1 + r2 and the two centres about its centre."""
    return r1 + r2, [(-r2, 0.0), (r1, 0.0)]


def soddy_outer_radius(r1: float, r2: float, r3: float) -> float:
    """Radius of the circle round three mutually tangent discs (Descartes 1643, Soddy 1936)."""
    k1, k2, k3 = 1 / r1, 1 / r2, 1 / r3
    return 1.0 / (2.0 * math.sqrt(k1 * k2 + k2 * k3 + k3 * k1) - k1 - k2 - k3)


def third_fits_beside_pair(r1: float, r2: float, r3: float) -> bool:
    """True if the third disc fits into the circle r1 + r2 beside the two others.

    Descartes with the curvatures 1/r1, 1/r2, -1/(r1 + r2), whose square root vanishes.
    """
    return 1 / r3 >= (1 / r1 + 1 / r2 - 1 / (r1 + r2)) * (1 - 1e-14)


def triple_radius(radii: Sequence[float]) -> float:
    """Smallest container of three discs, largest first."""
    r1, r2, r3 = radii
    if third_fits_beside_pair(r1, r2, r3):
        return r1 + r2
    return soddy_outer_radius(r1, r2, r3)


def triple_centres(radii: Sequence[float]) -> list[tuple[float, float]]:
    """Centres of three discs (largest first) in their smallest container, about its centre."""
    r1, r2, r3 = radii
    if third_fits_beside_pair(r1, r2, r3):
        whole, two = pair_centres(r1, r2)
        third = _tangent_inside(two[0], r1, whole, r3)
        return [*two, third]
    a = (0.0, 0.0)
    b = (r1 + r2, 0.0)
    c = third_corner(a, b, r1 + r3, r2 + r3)
    x, y, _ = smallest_circle([(0.0, 0.0, r1), (r1 + r2, 0.0, r2), (c[0], c[1], r3)])
    return [(px - x, py - y) for px, py in (a, b, c)]


def _tangent_inside(
    centre: tuple[float, float], radius: float, whole: float, third: float
) -> tuple[float, float]:
    """A disc that touches one disc (on the x axis) and the wall from inside, above the axis."""
    return third_corner(centre, (0.0, 0.0), radius + third, whole - third)


def third_corner(
    a: tuple[float, float], b: tuple[float, float], from_a: float, from_b: float
) -> tuple[float, float]:
    """The point at given distances from two points, on the left of the way from a to b."""
    base = math.hypot(b[0] - a[0], b[1] - a[1])
    along = (from_a**2 - from_b**2 + base**2) / (2 * base)
    up = math.sqrt(max(from_a**2 - along**2, 0.0))
    ux, uy = (b[0] - a[0]) / base, (b[1] - a[1]) / base
    return (a[0] + along * ux - up * uy, a[1] + along * uy + up * ux)


def oler_ratio(n: int) -> float:
    """Lower bound of container over disc for n equal discs (Oler 1961, Groemer 1960).

    n <= (2 / sqrt 3) pi q^2 + pi q + 1 with R/r >= 1 + 2 q: the centres lie in a circle of radius
    2 q r, at least 2 r apart.
    """
    a, b, c = 2 * math.pi / math.sqrt(3), math.pi, 1.0 - n
    return 1.0 + 2.0 * (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a)


def radius_lower_bound(radii: Sequence[float], proved_ratio: Sequence[tuple[int, float]]) -> float:
    """The best proved lower bound of the container's radius; radii largest first.

    Each bound holds by itself: the area; the two and the three largest; and, for every k, the k largest
    shrunk to the size of the k-th (k equal discs), by a proved optimum or by Oler's inequality.
    """
    bounds = [math.sqrt(math.fsum(r * r for r in radii)), radii[0]]
    if len(radii) >= 2:
        bounds.append(radii[0] + radii[1])
    if len(radii) >= 3:
        bounds.append(triple_radius(radii[:3]))
    bounds += [radii[n - 1] * ratio for n, ratio in proved_ratio if n <= len(radii)]
    bounds += [r * oler_ratio(k) for k, r in enumerate(radii, start=1)]
    return max(bounds)


NO_RISE = 1e-15
"""A radius that rises by less than this share stands."""


def smallest_circle(discs: Sequence[Circle]) -> Circle:
    """Smallest circle (x, y, radius) that encloses fixed discs (x, y, radius).

    Grows a support of at most three discs: the disc that sticks out most joins, the smallest circle of
    those few is found by trial, and so on until none sticks out. The radius rises in every pass, so it
    ends (an LP-type problem; E. Welzl 1991; K. Fischer, B. Gartner 2003).
    """
    table = np.asarray(discs, dtype=float)
    support = [int(np.argmax(table[:, 2]))]
    circle: Circle = tuple(table[support[0]])
    for _ in range(10 * len(table) + 10):
        reach = np.hypot(table[:, 0] - circle[0], table[:, 1] - circle[1]) + table[:, 2]
        worst = int(np.argmax(reach))
        if reach[worst] <= circle[2] * (1 + 1e-14) or worst in support:
            return (circle[0], circle[1], float(max(reach[worst], circle[2])))
        before = circle[2]
        support, circle = _circle_of_few(table, [*support, worst])
        if circle[2] <= before * (1 + NO_RISE):
            # Many discs touch within rounding: the supports would change places for ever.
            break
    reach = np.hypot(table[:, 0] - circle[0], table[:, 1] - circle[1]) + table[:, 2]
    return (circle[0], circle[1], float(reach.max()))


def _circle_of_few(table: Floats, members: list[int]) -> tuple[list[int], Circle]:
    """Support and smallest circle of up to four discs, by trying every pair and triple."""
    best: tuple[list[int], Circle] | None = None
    for size in (1, 2, 3):
        for chosen in itertools.combinations(members, size):
            for circle in _circles_through([tuple(table[k]) for k in chosen]):
                over = [math.hypot(table[k, 0] - circle[0], table[k, 1] - circle[1]) + table[k, 2] for k in members]
                if max(over) <= circle[2] * (1 + 1e-12) and (best is None or circle[2] < best[1][2]):
                    best = (list(chosen), circle)
    if best is None:
        widest = max(members, key=lambda k: float(table[k, 2]))
        return [widest], tuple(table[widest])
    return best


def _circles_through(discs: list[Circle]) -> list[Circle]:
    """Circles that touch each given disc from outside in (one, two or three discs)."""
    if len(discs) == 1:
        return [discs[0]]
    if len(discs) == 2:
        return _circle_of_two(*discs)
    return _circle_of_three(*discs)


def _circle_of_two(a: Circle, b: Circle) -> list[Circle]:
    apart = math.hypot(b[0] - a[0], b[1] - a[1])
    radius = (apart + a[2] + b[2]) / 2
    if apart == 0 or radius < max(a[2], b[2]):
        return []
    share = (radius - a[2]) / apart
    return [(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), radius)]


def _circle_of_three(a: Circle, b: Circle, c: Circle) -> list[Circle]:
    """Apollonius: |centre - disc_i| = R - r_i for three discs; a linear pair and a quadratic."""
    m11, m12 = 2 * (b[0] - a[0]), 2 * (b[1] - a[1])
    m21, m22 = 2 * (c[0] - a[0]), 2 * (c[1] - a[1])
    det = m11 * m22 - m12 * m21
    if abs(det) < 1e-14 * (abs(m11) + abs(m12)) * (abs(m21) + abs(m22)):
        return []

    def solve(p: float, q: float) -> tuple[float, float]:
        return (p * m22 - q * m12) / det, (m11 * q - m21 * p) / det

    def side(d: Circle) -> float:
        return (d[0] ** 2 - a[0] ** 2) + (d[1] ** 2 - a[1] ** 2) - d[2] ** 2 + a[2] ** 2

    x0, y0 = solve(side(b), side(c))
    x1, y1 = solve(2 * (b[2] - a[2]), 2 * (c[2] - a[2]))
    ux, uy = x0 - a[0], y0 - a[1]
    qa = x1 * x1 + y1 * y1 - 1.0
    qb = ux * x1 + uy * y1 + a[2]
    qc = ux * ux + uy * uy - a[2] ** 2
    roots = [-qc / (2 * qb)] if abs(qa) < 1e-15 and qb else _quadratic(qa, qb, qc)
    floor = max(a[2], b[2], c[2])
    return [(x0 + x1 * r, y0 + y1 * r, r) for r in roots if r >= floor * (1 - 1e-12)]


def _quadratic(a: float, half_b: float, c: float) -> list[float]:
    """Roots of a t^2 + 2 half_b t + c without cancellation; touching roots count once."""
    if a == 0:
        return []
    under = half_b * half_b - a * c
    if under < -1e-12 * half_b * half_b:
        return []
    q = -(half_b + math.copysign(math.sqrt(max(under, 0.0)), half_b))
    return [q / a] + ([c / q] if q else [])
