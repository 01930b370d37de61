"""Changes that throw packings of discs of several sizes out of their places, many packings at once.

A packing is a row (x of all discs, y of all discs, R), as in `_soft.py`; discs of one size stand side by side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Singles = NDArray[np.float32]
Ints = NDArray[np.intp]

MOST_SWAPS_TRIED = 12
"""A swap is the cheapest of 1 to this many drawn at random: neither blind nor always the same one."""

SIZES_APART = 3
"""Discs that change places are at most so many sizes apart: a wide one never fits where the narrowest was."""

MOST_TAKEN = 20
"""A disc to insert elsewhere is the hardest pressed of 1 to this many drawn at random."""

SPOTS = (60, 256)
"""Places tried for an inserted disc, from and to; the fewer, the more by chance."""

FILLING_SPOTS = 128
"""Places tried for a disc that is put between wide ones."""

OVERLAP_SCALE = np.float32(4.0)
"""An overlap is taken as (t^2 - d^2) / this, as in `_soft.py`: near a touch the true one, without a root."""

NO_NEW_PLACE = np.float32(0.2)
"""An inserted disc goes at least its radius and this (mean radii) from where it was."""

CUT_REACH = np.float32(0.3)
"""The cut between two halves passes the middle within this share of R."""


@dataclass(frozen=True, slots=True)
class Discs:
    """Radii (largest first, root mean square 1), the sizes among them, which size each has, where each size stands."""

    radii: Singles
    sizes: Singles
    size_of: Ints
    spans: tuple[slice, ...]


def discs_of(radii: NDArray[np.float64]) -> Discs:
    """Discs of these radii, the largest first."""
    sizes, size_of, counts = np.unique(-radii, return_inverse=True, return_counts=True)
    ends = np.cumsum(counts)
    spans = tuple(slice(int(end - count), int(end)) for count, end in zip(counts, ends, strict=True))
    return Discs(radii.astype(np.float32), (-sizes).astype(np.float32), size_of.reshape(-1), spans)


def scattered(discs: Discs, count: int, radius: float, rng: np.random.Generator) -> Singles:
    """Packings whose discs lie anywhere in a circle of this radius; R is where the outermost ends."""
    x, y = _spots(np.full(count, radius, dtype=np.float32), len(discs.radii), rng)
    return np.column_stack([x, y, (np.hypot(x, y) + discs.radii).max(axis=1)])


def filled(cores: Singles, discs: Discs, rng: np.random.Generator) -> Singles:
    """The other discs put, one after another, where each overlaps least among packings of the widest ones."""
    count, n, held = len(cores), len(discs.radii), cores.shape[1] // 2
    row, packings = np.arange(count), np.zeros((count, 2 * n + 1), dtype=np.float32)
    x, y = packings[:, :n], packings[:, n : 2 * n]
    x[:, :held], y[:, :held], packings[:, -1] = cores[:, :held], cores[:, held : 2 * held], cores[:, -1]
    for disc in range(held, n):
        size = discs.radii[disc]
        spots = _spots(np.maximum(cores[:, -1] - size, 0.0), FILLING_SPOTS, rng)
        over = _overlaps(spots, (x[:, :disc], y[:, :disc]), (size + discs.radii[:disc]) ** 2)
        best = np.vecdot(over, over).argmin(axis=1)
        x[:, disc], y[:, disc] = spots[0][row, best], spots[1][row, best]
    return packings


def swapped(packings: Singles, discs: Discs, rng: np.random.Generator) -> Singles:
    """Two discs of unequal size change places: the pair, of a few drawn, that adds least overlap."""
    count, n = len(packings), len(discs.radii)
    row, at = np.arange(count), np.arange(count)[:, None]
    cost, square = _costs(packings, discs)
    one, other = _unequal_pairs((count, MOST_SWAPS_TRIED), discs, rng)
    size_one, size_other = discs.size_of[one], discs.size_of[other]
    extra = cost[at, one, size_other] + cost[at, other, size_one]
    extra -= cost[at, one, size_one] + cost[at, other, size_other]
    extra += _partners_right(square[at, one, other], discs.radii[one], discs.radii[other])
    extra[~_first_few(count, MOST_SWAPS_TRIED, rng)] = np.inf
    best = extra.argmin(axis=1)
    a, b = one[row, best], other[row, best]
    moved = packings.copy()
    for column in (0, n):
        moved[row, a + column], moved[row, b + column] = packings[row, b + column], packings[row, a + column]
    return moved


def _partners_right(square: Singles, one: Singles, other: Singles) -> Singles:
    """What the costs of a swap leave out: each of the two meets the other at the radius that it gets there."""
    right = np.maximum((one + other) ** 2 - square, 0.0) ** 2
    counted = np.maximum(4 * one**2 - square, 0.0) ** 2 + np.maximum(4 * other**2 - square, 0.0) ** 2
    return np.asarray((2 * right - counted) / OVERLAP_SCALE**2, dtype=np.float32)


def _unequal_pairs(shape: tuple[int, int], discs: Discs, rng: np.random.Generator) -> tuple[Ints, Ints]:
    """Discs drawn at random, and for each one of another size near its own: discs of one size stand side by side."""
    one = rng.integers(len(discs.radii), size=shape)
    starts, stops = (np.array(ends) for ends in zip(*((s.start, s.stop) for s in discs.spans), strict=True))
    size, last = discs.size_of[one], len(discs.spans) - 1
    first = starts[np.maximum(size - SIZES_APART, 0)]
    before, behind = starts[size] - first, stops[np.minimum(size + SIZES_APART, last)] - stops[size]
    drawn = rng.integers(before + behind)
    return one, np.where(drawn < before, first + drawn, stops[size] + drawn - before)


def _first_few(count: int, most: int, rng: np.random.Generator) -> NDArray[np.bool_]:
    """For each of `count`, which of `most` drawn are looked at: the first 1 to `most`."""
    return np.asarray(np.arange(most) < rng.integers(1, most + 1, size=(count, 1)))


def inserted(packings: Singles, discs: Discs, rng: np.random.Generator) -> Singles:
    """A hard-pressed disc put where, of many places drawn, it overlaps least."""
    count, n = len(packings), len(discs.radii)
    row = np.arange(count)
    disc = _hard_pressed(packings, discs, rng)
    size = discs.radii[disc]
    x, y = _spots(np.maximum(packings[:, -1] - size, 0.0), SPOTS[1], rng)
    touch = (size[:, None] + discs.radii) ** 2
    touch[row, disc] = -np.inf  # where it is now is no hindrance
    over = _overlaps((x, y), (packings[:, :n], packings[:, n : 2 * n]), touch)
    cost = np.vecdot(over, over)
    moved_by = np.hypot(x - packings[row, disc][:, None], y - packings[row, disc + n][:, None])
    cost[moved_by < size[:, None] + NO_NEW_PLACE] = np.inf
    cost[np.arange(SPOTS[1]) >= rng.integers(SPOTS[0], SPOTS[1] + 1, size=(count, 1))] = np.inf
    best = cost.argmin(axis=1)
    moved = packings.copy()
    moved[row, disc], moved[row, disc + n] = x[row, best], y[row, best]
    return moved


def _hard_pressed(packings: Singles, discs: Discs, rng: np.random.Generator) -> Ints:
    cost, _ = _costs(packings, discs)
    count, n = len(packings), len(discs.radii)
    pressed = cost[:, np.arange(n), discs.size_of] / discs.radii
    drawn = rng.integers(n, size=(count, MOST_TAKEN))
    looked_at = np.where(_first_few(count, MOST_TAKEN, rng), pressed[np.arange(count)[:, None], drawn], -1.0)
    return np.asarray(drawn[np.arange(count), looked_at.argmax(axis=1)])


def shaken_near(packings: Singles, discs: Discs, rng: np.random.Generator) -> Singles:
    """Discs near a random place shaken hard, the others left."""
    n = len(discs.radii)
    x, y = _spots(packings[:, -1], 1, rng)
    reach = np.float32(0.35) * packings[:, -1:] + 1
    square = (packings[:, :n] - x) ** 2 + (packings[:, n : 2 * n] - y) ** 2
    amount = np.float32(0.9) * np.exp(-square / (2 * reach * reach))
    moved = packings.copy()
    moved[:, : 2 * n] += np.tile(amount, 2) * rng.standard_normal((len(packings), 2 * n), dtype=np.float32)
    return moved


def crossed(packings: Singles, others: Singles, discs: Discs, rng: np.random.Generator) -> Singles:
    """One side of each packing beside the other side of another one, turned or mirrored at random.

    Of each size, the discs deepest in their own side are kept, as many as there are of it. Method: D. M. Deaven,
    K. M. Ho, Phys. Rev. Lett. 75 (1995) 288-291 (cut and splice).
    """
    count, n = len(packings), len(discs.radii)
    other_x, other_y = _turned(others[:, :n], others[:, n : 2 * n], rng)
    angle = 2 * np.pi * rng.random((count, 1), dtype=np.float32)
    cut = CUT_REACH * (2 * rng.random((count, 1), dtype=np.float32) - 1) * packings[:, -1:]
    mine = np.cos(angle) * packings[:, :n] + np.sin(angle) * packings[:, n : 2 * n] - cut
    theirs = cut - np.cos(angle) * other_x - np.sin(angle) * other_y
    moved = packings.copy()
    for span in discs.spans:
        many = span.stop - span.start
        depth = np.concatenate([mine[:, span], theirs[:, span]], axis=1)
        kept = np.argsort(-depth, axis=1, kind="stable")[:, :many]
        for column, other in ((0, other_x), (n, other_y)):
            both = np.concatenate([packings[:, column : column + n][:, span], other[:, span]], axis=1)
            moved[:, column + span.start : column + span.stop] = np.take_along_axis(both, kept, axis=1)
    return moved


def _turned(x: Singles, y: Singles, rng: np.random.Generator) -> tuple[Singles, Singles]:
    angle = 2 * np.pi * rng.random((len(x), 1), dtype=np.float32)
    mirror = rng.choice(np.array([-1.0, 1.0], dtype=np.float32), size=(len(x), 1))
    return np.cos(angle) * x - np.sin(angle) * mirror * y, np.sin(angle) * x + np.cos(angle) * mirror * y


def _costs(packings: Singles, discs: Discs) -> tuple[Singles, Singles]:
    """Sum of squared overlaps of a disc of each size at each place, shape (packings, places, sizes); and squares of
    distances."""
    count, n = len(packings), len(discs.radii)
    x, y, radius = packings[:, :n], packings[:, n : 2 * n], packings[:, 2 * n :]
    square = -_gaps((x, y), (x, y), np.zeros((count, n), dtype=np.float32))
    square[:, np.arange(n), np.arange(n)] = np.inf
    out = np.hypot(x, y) - radius
    cost = np.empty((count, n, len(discs.sizes)), dtype=np.float32)
    for k, size in enumerate(discs.sizes):
        over = np.maximum((size + discs.radii) ** 2 - square, 0.0)
        cost[:, :, k] = np.vecdot(over, over) / OVERLAP_SCALE**2 + np.maximum(out + size, 0.0) ** 2
    return cost, square


def _overlaps(spots: tuple[Singles, Singles], centres: tuple[Singles, Singles], touch: Singles) -> Singles:
    """t^2 - d^2 of a disc at each spot and each disc that is there, nought where they are apart; `touch` is t^2.

    Shapes (packings, spots), (packings, discs), and (discs,) or (packings, discs); the result is
    (packings, spots, discs).
    """
    over = _gaps(spots, centres, touch)
    return np.maximum(over, 0.0, out=over)


def _gaps(spots: tuple[Singles, Singles], centres: tuple[Singles, Singles], touch: Singles) -> Singles:
    """touch - d^2 as one matrix product of rank 4: 2 (p . q) - |p|^2 + (touch - |q|^2)."""
    (x, y), (other_x, other_y) = spots, centres
    one = np.ones_like(x)
    left = np.stack([x, y, -(x * x + y * y), one], axis=2)
    level = touch - other_x * other_x - other_y * other_y
    right = np.stack([2 * other_x, 2 * other_y, np.ones_like(other_x), level], axis=1)
    return np.asarray(np.matmul(left, right), dtype=np.float32)


def _spots(radius: Singles, count: int, rng: np.random.Generator) -> tuple[Singles, Singles]:
    """Places spread evenly over circles of these radii, shape (circles, count)."""
    reach = radius[:, None] * np.sqrt(rng.random((len(radius), count), dtype=np.float32))
    angle = np.float32(2 * np.pi) * rng.random((len(radius), count), dtype=np.float32)
    return reach * np.cos(angle), reach * np.sin(angle)
