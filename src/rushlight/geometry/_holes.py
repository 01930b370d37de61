"""Largest first, the rest into holes: gaskets, quick first pictures, and starts for many-size mixtures."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TIGHT = 1e-9
"""Overlap, relative to the disc, that still counts as touching."""


def filled(centres: Floats, radii: Floats, rest: Floats, container: float) -> Floats | None:
    """Centres of all discs if `rest` (largest first) fits into the holes of a packing, else None.

    Each disc goes where it touches two others, or one and the wall, with the least room to spare
    (A. Grosso, A. Jamali, M. Locatelli, F. Schoen, J. Global Optim. 47 (2010) 63-81, last in holes).
    """
    whole = filled_as_far(centres, radii, rest, container)
    return whole if len(whole) == len(centres) + len(rest) else None


def filled_as_far(centres: Floats, radii: Floats, rest: Floats, container: float) -> Floats:
    """As `filled`, but stops at the first disc that does not fit and returns what stands."""
    placed, sizes = centres, radii
    for radius in rest:
        spots = touching_spots(placed, sizes, float(radius), container)
        room = spare_room(spots, placed, sizes, float(radius), container)
        fits = np.flatnonzero(room[:, 0] >= -TIGHT * radius)
        if len(fits) == 0:
            break
        # The third-smallest gap tells how snug the spot is: nought in a hole made for this disc.
        snug = fits[np.argmin(np.round(room[fits, -1], 9))]
        placed = np.vstack([placed, spots[snug]])
        sizes = np.append(sizes, radius)
    return placed


def touching_spots(centres: Floats, radii: Floats, radius: float, container: float) -> Floats:
    """Where a disc touches two discs, or one disc and the wall from inside."""
    i, j = np.triu_indices(len(radii), 1)
    pairs = _crossings(centres[i], radii[i] + radius, centres[j], radii[j] + radius)
    if not math.isfinite(container):
        return pairs
    origin = np.zeros_like(centres)
    walls = _crossings(centres, radii + radius, origin, np.full(len(radii), container - radius))
    return np.vstack([pairs, walls])


def spare_room(spots: Floats, centres: Floats, radii: Floats, radius: float, container: float) -> Floats:
    """The three smallest gaps round a disc at each spot (columns: smallest first), the wall included."""
    away = np.hypot(spots[:, None, 0] - centres[None, :, 0], spots[:, None, 1] - centres[None, :, 1])
    gaps = away - radii - radius
    if math.isfinite(container):
        gaps = np.column_stack([gaps, container - radius - np.hypot(spots[:, 0], spots[:, 1])])
    return np.sort(gaps, axis=1)[:, :3]


def _crossings(a: Floats, from_a: Floats, b: Floats, from_b: Floats) -> Floats:
    """Both points at given distances from two points, for many pairs; pairs out of reach are left out."""
    step = b - a
    base = np.hypot(step[:, 0], step[:, 1])
    ok = base > 1e-12
    step, base, a, from_a, from_b = step[ok], base[ok], a[ok], from_a[ok], from_b[ok]
    along = (from_a**2 - from_b**2 + base**2) / (2 * base)
    under = from_a**2 - along**2
    ok = under > -1e-9 * from_a**2
    up = np.sqrt(np.maximum(under[ok], 0.0))[:, None]
    unit = step[ok] / base[ok, None]
    foot = a[ok] + along[ok, None] * unit
    side = np.column_stack([-unit[:, 1], unit[:, 0]])
    return np.vstack([foot + up * side, foot - up * side])


def grown(radii: Floats) -> Floats:
    """A quick packing, largest first: each disc goes where it touches two others nearest to the middle."""
    centres = np.array([[-radii[1], 0.0], [radii[0], 0.0]])
    for k in range(2, len(radii)):
        radius = float(radii[k])
        spots = touching_spots(centres, radii[:k], radius, math.inf)
        room = spare_room(spots, centres, radii[:k], radius, math.inf)[:, 0]
        fits = spots[room >= -TIGHT * radius]
        near = np.round(np.hypot(fits[:, 0], fits[:, 1]), 9)
        centres = np.vstack([centres, fits[int(np.argmin(near))]])
    return centres


def ringed(radii: Floats) -> Floats:
    """A packing in rings, largest in the middle, for bundles too large to grow in a moment."""
    centres = [(0.0, 0.0)]
    inner, k = float(radii[0]), 1
    while k < len(radii):
        ring = inner + float(radii[k])
        angle, first = 0.0, k
        while k < len(radii):
            turn = 2 * math.asin(min((radii[k - 1 if k > first else k] + radii[k]) / (2 * ring), 1.0))
            angle += turn if k > first else 0.0
            closing = 2 * math.asin(min((radii[k] + radii[first]) / (2 * ring), 1.0))
            if k > first and angle + closing > 2 * math.pi + 1e-9:
                break
            centres.append((ring * math.cos(angle), ring * math.sin(angle)))
            k += 1
        inner = ring + float(radii[first])
    return np.array(centres)
