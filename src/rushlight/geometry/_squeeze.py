"""A soft, slow squeeze of many packings at once: batched L-BFGS on discs in a shrinking circle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

SKIN = 0.8
"""Pairs further apart than this (in mean radii) are left out until something has moved half as far."""

MEMORY = 6
"""Past steps that L-BFGS remembers."""

LONGEST_MOVE = 0.4
"""A disc moves no further than this in one step (mean radii), so that it cannot leap over a neighbour."""


FINISH = ((2000.0, 150), (2e4, 200))
"""Stiffness and steps of a search's last press."""


@dataclass(frozen=True, slots=True)
class Squeezed:
    """A batch of squeezed packings: centres (batch, n, 2), container radius, first-order estimate of it."""

    centres: Floats
    radius: Floats
    estimate: Floats

    def best(self, count: int, *, apart: float = 1e-7) -> Squeezed:
        """The `count` best by estimate, copies of one packing (equal estimates) kept once."""
        keep: list[int] = []
        spare: list[int] = []
        for index in np.argsort(self.estimate, kind="stable"):
            new = not keep or self.estimate[index] - self.estimate[keep[-1]] > apart
            (keep if new else spare).append(int(index))
        return self.at((keep + spare)[:count])

    def at(self, index: Any) -> Squeezed:
        """The members at these places."""
        return Squeezed(self.centres[index], self.radius[index], self.estimate[index])


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Pairs that may touch, as places in the flattened batch, and the distance at which each touches."""

    first: Ints
    second: Ints
    owner: Ints
    touch: Floats
    anchor: Floats
    complete: bool


def squeeze(
    centres: Floats, radii: Floats, stiffness: float, steps: int, start_radius: Floats | None = None
) -> Squeezed:
    """Minimise R + (stiffness / 2) * sum(overlap^2) over the centres and R, for every member of a batch.

    `radii` have root mean square 1. `start_radius` carries R on from a softer stage, whose discs reach
    through the wall; without it R starts where the outermost disc ends. R + stiffness * sum(overlap^2)
    then estimates, to first order, the container without overlaps. Method: D. C. Liu, J. Nocedal, Math.
    Program. 45 (1989) 503-528, one step size a member, backtracking by retrying the same direction in the
    next pass.
    """
    n = len(radii)
    if start_radius is None:
        start_radius = (np.hypot(centres[..., 0], centres[..., 1]) + radii).max(axis=1)
    unknowns = np.concatenate([centres[..., 0], centres[..., 1], start_radius[:, None]], axis=1)
    unknowns, overlap = _minimise(unknowns, radii, stiffness, steps)
    moved = np.stack([unknowns[:, :n], unknowns[:, n : 2 * n]], axis=2)
    return Squeezed(moved, unknowns[:, -1].copy(), unknowns[:, -1] + stiffness * overlap)


def pressed(out: Squeezed, radii: Floats, stages: tuple[tuple[float, int], ...]) -> Squeezed:
    """The same packings after some stages of growing stiffness, each with its most steps."""
    for stiffness, steps in stages:
        out = squeeze(out.centres, radii, stiffness, steps, out.radius)
    return out


def _minimise(z: Floats, radii: Floats, stiffness: float, steps: int) -> tuple[Floats, Floats]:
    batch, size = z.shape
    pairs = _near_pairs(z, radii)
    value, slope, overlap = _energy(z, radii, stiffness, pairs)
    past_z = np.zeros((MEMORY, batch, size))
    past_slope = np.zeros((MEMORY, batch, size))
    past_rho = np.zeros((MEMORY, batch))
    step = np.full(batch, 1.0)
    direction = _clipped(-slope / (2.0 * stiffness))
    for _ in range(steps):
        trial = z + step[:, None] * direction
        pairs = _refreshed(pairs, trial, radii)
        new_value, new_slope, new_overlap = _energy(trial, radii, stiffness, pairs)
        fall = np.einsum("bi,bi->b", slope, direction)
        good = new_value <= value + 1e-4 * step * fall
        step = np.where(good, 1.0, step * 0.35)
        if good.any():
            _remember((past_z, past_slope, past_rho), good, trial - z, new_slope - slope)
            z = np.where(good[:, None], trial, z)
            slope = np.where(good[:, None], new_slope, slope)
            value = np.where(good, new_value, value)
            overlap = np.where(good, new_overlap, overlap)
            fresh = _direction(slope, past_z, past_slope, past_rho, stiffness)
            direction = np.where(good[:, None], fresh, direction)
        stuck = step < 1e-4
        if stuck.any():
            past_rho[:, stuck] = 0.0
            direction[stuck] = _clipped(-slope[stuck] / (2.0 * stiffness))
            step[stuck] = 1.0
        if float(np.abs(slope).max()) < 1e-9:
            break
    return z, overlap


def _remember(past: tuple[Floats, Floats, Floats], good: NDArray[np.bool_], dz: Floats, ds: Floats) -> None:
    """Push one step into the memory of the members that took it (in place: the memory is our own)."""
    curve = np.einsum("bi,bi->b", dz, ds)
    rho = np.where(curve > 1e-14, 1.0 / np.maximum(curve, 1e-14), 0.0)
    for memory, new in zip(past, (dz, ds, rho), strict=True):
        memory[1:, good] = memory[:-1, good]
        memory[0, good] = new[good]


def _direction(
    slope: Floats, past_z: Floats, past_slope: Floats, past_rho: Floats, stiffness: float
) -> Floats:
    """The two-loop recursion, clipped, and turned into steepest descent where it would climb."""
    q = slope.copy()
    alphas = np.empty(past_rho.shape)
    for k in range(MEMORY):
        alphas[k] = past_rho[k] * np.einsum("bi,bi->b", past_z[k], q)
        q -= alphas[k][:, None] * past_slope[k]
    square = np.einsum("bi,bi->b", past_slope[0], past_slope[0])
    known = (past_rho[0] > 0) & (square > 0)
    scale = np.where(known, 1.0 / np.maximum(past_rho[0] * square, 1e-300), 0.5 / stiffness)
    q *= scale[:, None]
    for k in reversed(range(MEMORY)):
        beta = past_rho[k] * np.einsum("bi,bi->b", past_slope[k], q)
        q += (alphas[k] - beta)[:, None] * past_z[k]
    climbs = np.einsum("bi,bi->b", q, slope) <= 0
    q[climbs] = slope[climbs] * (0.5 / stiffness)
    return _clipped(-q)


def _clipped(direction: Floats) -> Floats:
    longest = np.abs(direction).max(axis=1)
    share = np.minimum(1.0, LONGEST_MOVE / np.maximum(longest, 1e-300))
    return np.asarray(direction * share[:, None], dtype=np.float64)


def _energy(z: Floats, radii: Floats, stiffness: float, pairs: _Pairs) -> tuple[Floats, Floats, Floats]:
    """Energy, its slope, and the sum of squared overlaps of each member."""
    batch, size = z.shape
    n = size // 2
    x, y, radius = z[:, :n].ravel(), z[:, n : 2 * n].ravel(), z[:, -1]
    dx, dy = x[pairs.first] - x[pairs.second], y[pairs.first] - y[pairs.second]
    square = dx * dx + dy * dy
    hit = np.flatnonzero(square < pairs.touch * pairs.touch)
    first, second = pairs.first[hit], pairs.second[hit]
    gap = np.sqrt(square[hit]) + 1e-12
    over = pairs.touch[hit] - gap
    push = stiffness * over / gap
    push_x, push_y = push * dx[hit], push * dy[hit]
    count = batch * n
    slope = np.empty_like(z)
    fx = np.bincount(second, push_x, count) - np.bincount(first, push_x, count)
    fy = np.bincount(second, push_y, count) - np.bincount(first, push_y, count)
    out = np.hypot(x, y).reshape(batch, n)
    wall = np.maximum(out + radii - radius[:, None], 0.0)
    pull = stiffness * wall / np.maximum(out, 1e-12)
    slope[:, :n] = fx.reshape(batch, n) + pull * z[:, :n]
    slope[:, n : 2 * n] = fy.reshape(batch, n) + pull * z[:, n : 2 * n]
    slope[:, -1] = 1.0 - stiffness * wall.sum(axis=1)
    overlap = np.bincount(pairs.owner[hit], over * over, batch) + (wall * wall).sum(axis=1)
    return radius + 0.5 * stiffness * overlap, slope, overlap


def _refreshed(pairs: _Pairs, z: Floats, radii: Floats) -> _Pairs:
    """The same pairs, or a new list once something has moved so far that a pair may be missing."""
    if pairs.complete:
        return pairs
    if float(np.abs(z[:, :-1] - pairs.anchor).max()) < SKIN * 0.35:
        return pairs
    return _near_pairs(z, radii)


def _near_pairs(z: Floats, radii: Floats) -> _Pairs:
    batch, size = z.shape
    n = size // 2
    everything = n <= 24
    if n > 400:
        owner, left, right = _tree_pairs(z, n, float(radii.max()) * 2 + SKIN)
    else:
        i, j = np.triu_indices(n, 1)
        if everything:
            owner = np.repeat(np.arange(batch), len(i))
            left, right = np.tile(i, batch), np.tile(j, batch)
        else:
            x, y = z[:, :n], z[:, n : 2 * n]
            square = (x[:, i] - x[:, j]) ** 2 + (y[:, i] - y[:, j]) ** 2
            owner, pair = np.nonzero(square < (radii[i] + radii[j] + SKIN) ** 2)
            left, right = i[pair], j[pair]
    touch = radii[left] + radii[right]
    return _Pairs(owner * n + left, owner * n + right, owner, touch, z[:, :-1].copy(), everything)


def _tree_pairs(z: Floats, n: int, reach: float) -> tuple[Ints, Ints, Ints]:
    """Near pairs of large bundles by a k-d tree, member by member, in sorted order."""
    from scipy.spatial import cKDTree

    found = []
    for member in range(len(z)):
        points = np.column_stack([z[member, :n], z[member, n : 2 * n]])
        near = np.asarray(cKDTree(points).query_pairs(reach, output_type="ndarray"), dtype=np.intp)
        near = near[np.lexsort((near[:, 1], near[:, 0]))]
        found.append((np.full(len(near), member, dtype=np.intp), near[:, 0], near[:, 1]))
    owner, left, right = (np.concatenate(part) for part in zip(*found, strict=True))
    return owner, left, right
