"""Changes that throw a packing out of its place: discs into holes, discs that change places, discs shaken."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

MOST_SWAPS_TRIED = 12
"""A swap is the cheapest of 1 to this many drawn at random: neither blind nor always the same one."""

MOST_TAKEN = 4
"""A disc to insert elsewhere is the hardest pressed of 1 to this many drawn at random."""


def changed(centres: Floats, radius: float, unit: Floats, kind: str, rng: np.random.Generator) -> Floats:
    """A changed copy of a packing in a circle of this radius; the kind is swap, insert, near, jump or two."""
    if kind == "swap":
        return _swapped(centres, radius, unit, rng)
    if kind == "insert":
        return _inserted(centres, radius, unit, rng)
    if kind == "near":
        return _shaken_near(centres, radius, rng)
    return _jumped(centres, radius, unit, 2 if kind == "two" else 1, rng)


def _jumped(centres: Floats, radius: float, unit: Floats, many: int, rng: np.random.Generator) -> Floats:
    """One or two discs, taken at random, put into the widest holes."""
    moved = centres.copy()
    for disc in rng.choice(len(unit), size=min(many, len(unit)), replace=False):
        spots = _spots(radius, 300, rng)
        away = np.hypot(spots[:, None, 0] - moved[None, :, 0], spots[:, None, 1] - moved[None, :, 1]) - unit
        away[:, disc] = np.inf
        room = np.minimum(away.min(axis=1), radius - np.hypot(spots[:, 0], spots[:, 1]))
        widest = np.argsort(-room, kind="stable")[:8]
        moved[disc] = spots[widest[rng.integers(len(widest))]]
    return moved


def _spots(radius: float, count: int, rng: np.random.Generator) -> Floats:
    """Places spread evenly over a circle."""
    reach = radius * np.sqrt(rng.random(count))
    angle = 2 * np.pi * rng.random(count)
    return np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])


def _shaken_near(centres: Floats, radius: float, rng: np.random.Generator) -> Floats:
    """Discs near a random place shaken hard, the others left."""
    spot = _spots(radius, 1, rng)[0]
    near = np.exp(-np.sum((centres - spot) ** 2, axis=1) / (2 * (0.35 * radius + 1.0) ** 2))
    return np.asarray(centres + 0.9 * near[:, None] * rng.standard_normal(centres.shape), dtype=np.float64)


def _swapped(centres: Floats, radius: float, unit: Floats, rng: np.random.Generator) -> Floats:
    """Two discs of unequal size change places: the pair, of a few drawn, that adds least overlap."""
    tries = int(rng.integers(1, MOST_SWAPS_TRIED + 1))
    one = rng.integers(len(unit), size=tries)
    other = np.array([rng.choice(np.flatnonzero(unit != unit[a])) for a in one])
    before = _overlap(centres, radius, unit, one, unit[one]) + _overlap(centres, radius, unit, other, unit[other])
    after = _overlap(centres, radius, unit, one, unit[other], partners=other) + _overlap(
        centres, radius, unit, other, unit[one], partners=one
    )
    best = int(np.argmin(after - before))
    moved = centres.copy()
    moved[[one[best], other[best]]] = moved[[other[best], one[best]]]
    return moved


def _overlap(
    centres: Floats, radius: float, unit: Floats, places: Ints, sizes: Floats, *, partners: Ints | None = None
) -> Floats:
    """Sum of squared overlaps of a disc of each size at each place; a partner counts with the radius it gets there."""
    row = np.arange(len(places))
    at = centres[places]
    apart = np.hypot(at[:, None, 0] - centres[None, :, 0], at[:, None, 1] - centres[None, :, 1])
    touch = sizes[:, None] + unit[None, :]
    if partners is not None:
        touch[row, partners] = sizes + unit[places]
    over = np.maximum(touch - apart, 0.0)
    over[row, places] = 0.0
    wall = np.maximum(np.hypot(at[:, 0], at[:, 1]) + sizes - radius, 0.0)
    return np.asarray((over**2).sum(axis=1) + wall**2, dtype=np.float64)


def _inserted(centres: Floats, radius: float, unit: Floats, rng: np.random.Generator) -> Floats:
    """A hard-pressed disc put where, of many places drawn, it overlaps least."""
    drawn = rng.integers(len(unit), size=int(rng.integers(1, MOST_TAKEN + 1)))
    pressed = _overlap(centres, radius, unit, drawn, unit[drawn]) / unit[drawn]
    disc = int(drawn[np.argmax(pressed)])
    spots = _spots(max(radius - float(unit[disc]), 0.0), int(rng.integers(20, 420)), rng)
    apart = np.hypot(spots[:, None, 0] - centres[None, :, 0], spots[:, None, 1] - centres[None, :, 1])
    over = np.maximum(unit[disc] + unit - apart, 0.0) ** 2
    over[:, disc] = 0.0
    # Where it was is no new place.
    cost = np.where(apart[:, disc] < unit[disc], np.inf, over.sum(axis=1))
    moved = centres.copy()
    moved[disc] = spots[int(np.argmin(cost))]
    return moved
