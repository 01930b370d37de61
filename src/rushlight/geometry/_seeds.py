"""Starting arrangements of discs: hexagonal at several offsets, curved hexagonal, rings, random."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SEED = 20250101
"""Every random number of a search comes from this seed and the number of discs."""

HEX_OFFSETS = ((0.0, 0.0), (0.5, 0.0), (0.5, math.sqrt(3) / 6), (0.25, 0.0), (0.25, math.sqrt(3) / 4))
"""Centre of the cut, in spacings: on a disc, between two, between three, and two lopsided ones."""


def hexagonal(n: int, offset: tuple[float, float], spacing: float = 2.0) -> Floats:
    """The n points of a hexagonal lattice nearest to an offset, about the origin."""
    side = math.ceil(math.sqrt(n)) + 3
    i, j = np.meshgrid(np.arange(-side, side + 1), np.arange(-side, side + 1))
    x = (i + 0.5 * j).ravel() - offset[0]
    y = (math.sqrt(3) / 2 * j).ravel() - offset[1]
    # Rounding makes the order of equally distant points independent of the last bit.
    order = np.lexsort((np.round(np.arctan2(y, x), 9), np.round(x * x + y * y, 9)))[:n]
    return np.column_stack([x[order], y[order]]) * spacing


def curved_hexagonal(n: int, spacing: float = 2.0) -> Floats:
    """A curved hexagonal packing, cut to n (Lubachevsky and Graham 1997): rings of 6 k discs, twisted."""
    points = [(0.0, 0.0)]
    ring = 0
    while len(points) < n:
        ring += 1
        turn = sum(math.asin(1 / (2 * k)) for k in range(1, ring + 1)) - math.asin(0.5)
        for step in range(6 * ring):
            angle = 2 * math.pi * step / (6 * ring) + turn
            points.append((ring * math.cos(angle), ring * math.sin(angle)))
    return np.array(points[:n]) * spacing


def rings(n: int, inner: int, spacing: float = 2.0) -> Floats:
    """Rings of discs from a core of 1 to 5 outward; the outermost ring takes what is left."""
    points = _ring(inner, 0.0 if inner == 1 else 0.5 / math.sin(math.pi / inner))
    radius = 0.0 if inner == 1 else 0.5 / math.sin(math.pi / inner)
    while len(points) < n:
        radius += 0.95
        full = max(int(math.pi / math.asin(min(0.5 / radius, 1.0)) + 1e-9), 1)
        left = n - len(points)
        points += _ring(left if left <= full * 1.15 else full, radius)
    return np.array(points[:n]) * spacing


def _ring(count: int, radius: float) -> list[tuple[float, float]]:
    turns = [2 * math.pi * k / count for k in range(count)]
    return [(radius * math.cos(t), radius * math.sin(t)) for t in turns]


def scattered(count: int, n: int, rng: np.random.Generator) -> Floats:
    """Random starts in a circle of about the right size, shape (count, n, 2)."""
    radius = 1.1 * math.sqrt(n) * np.sqrt(rng.random((count, n)))
    angle = 2 * math.pi * rng.random((count, n))
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=2)


def starts(radii: Floats, count: int, rng: np.random.Generator) -> Floats:
    """`count` starts for discs of root mean square radius 1: ordered ones first, then random ones."""
    n = len(radii)
    ordered = [hexagonal(n, offset) for offset in HEX_OFFSETS]
    ordered += [curved_hexagonal(n)] + [rings(n, inner) for inner in range(1, 6)]
    if np.ptp(radii) > 0:
        ordered = [points[rng.permutation(n)] for points in ordered]
    ordered = ordered[: max(count // 2, 1)]
    shaken = np.array(ordered) + 0.02 * rng.standard_normal((len(ordered), n, 2))
    return np.concatenate([shaken, scattered(max(count - len(ordered), 0), n, rng)])[:count]
