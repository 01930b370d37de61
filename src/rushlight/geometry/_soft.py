"""Many packings pressed softly at once: batched L-BFGS in single precision, its places taken by new ones at will.

The overlap of two discs at distance d that touch at t is taken as (t^2 - d^2) / (2 T), T = 2 root mean square
radii: near a touch it is the true overlap times t / T, and it costs neither root nor division. All t^2 - d^2 of a
packing are one matrix product of rank 5: (r_i^2 - |p_i|^2) + (r_j^2 - |p_j|^2) + 2 (p_i . p_j + r_i r_j).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Singles = NDArray[np.float32]
Ints = NDArray[np.intp]

STIFFNESS = np.float32(2.0)
"""At this stiffness discs flow past each other; the estimate of R then ranks packings as the hard one does
(correlation 0.99 over changed packings of two and three sizes, measured)."""

MEMORY = 2
"""Past steps that L-BFGS remembers: with a good first guess of the curvature, more help no further (measured)."""

DISC_CURVATURE = np.float32(1.5)
WALL_CURVATURE = np.float32(3.0)
"""First guess of the curvature over the stiffness: along a disc's coordinate, times its radius; along R, times the root
of the number of discs (about so many lie at the wall). Chosen by trials: guesses taken from each packing itself helped
changed packings no more, and starts less."""

LONGEST_MOVE = np.float32(0.4)
"""A disc moves no further than this in one step (mean radii), so that it cannot leap over a neighbour."""

SHORTEST = np.float32(1e-3)
"""A step shortened to less than this starts again along the slope."""

ROUNDING = np.float32(2e-7)
"""Share of the energy that single precision cannot tell apart."""

BLOCK = 32
"""Packings whose pairs are worked out at once: with 50 discs the matrix of more leaves the processor's own memory, and
each pass over it then takes twice the time (measured)."""

TOUCH = np.float32(2.0)
"""T above: twice the root mean square radius, which is 1."""


class SoftPress:
    """Packings in `places` of a batch, each of which minimises R + STIFFNESS / 2 sum(overlap^2).

    A packing is a row (x of all discs, y of all discs, R) of single-precision numbers; radii have root mean square 1.
    Method: D. C. Liu, J. Nocedal, Math. Program. 45 (1989) 503-528, one step size a packing, backtracking by
    retrying the same direction in the next pass. The first guess of the curvature differs between R and the discs and
    with their width, where one number for all needs nearly twice the steps (measured).
    """

    def __init__(self, radii: NDArray[np.float64], places: int, stiffness: float = float(STIFFNESS)) -> None:
        n = len(radii)
        self._stiffness = np.float32(stiffness)
        self.radii = radii.astype(np.float32)
        self.age = np.zeros(places, dtype=np.intp)
        self._left, self._right = _factors(self.radii, places)
        self._ones = np.ones((places, 3, n), dtype=np.float32)
        self._over, self._spare = (np.empty((min(places, BLOCK), n, n), dtype=np.float32) for _ in range(2))
        self.packings, self._slope, self._way = (_zeros(places, 2 * n + 1) for _ in range(3))
        self._value, self._overlap, self._step = (_zeros(places) for _ in range(3))
        self._ease = _ease(self.radii, self._stiffness)
        self._moves, self._bends = (_zeros(MEMORY, places, 2 * n + 1) for _ in range(2))
        self._rho = _zeros(MEMORY, places)
        self._newest = 0

    @property
    def estimate(self) -> Singles:
        """R of each packing without its overlaps, to first order."""
        return np.asarray(self.packings[:, -1] + self._stiffness * self._overlap)

    @property
    def steepest(self) -> Singles:
        """The largest slope of each packing; nought where it has settled."""
        return np.asarray(np.abs(self._slope).max(axis=1))

    def load(self, places: Ints, packings: Singles) -> None:
        """Put new packings into these places; what was there is gone."""
        value, slope, overlap = self._energy(packings)
        self.packings[places], self._value[places] = packings, value
        self._slope[places], self._overlap[places] = slope, overlap
        self._rho[:, places] = 0.0
        self.age[places] = 0
        self._step[places] = 1.0
        self._way[places] = _clipped(-slope * self._ease)

    def advance(self, steps: int) -> None:
        """Take so many steps with every packing."""
        for _ in range(steps):
            move = self._way * self._step[:, None]
            trial = self.packings + move
            value, slope, overlap = self._energy(trial)
            fall = np.vecdot(self._slope, self._way)
            good = value <= self._value + 1e-4 * self._step * fall + ROUNDING * self._value
            self._remember(move, slope - self._slope, good)
            for kept, new in (
                (self.packings, trial), (self._slope, slope), (self._value, value), (self._overlap, overlap)
            ):
                np.copyto(kept, new, where=good if kept.ndim == 1 else good[:, None])
            self._step = np.where(good, np.float32(1.0), self._step * np.float32(0.35))
            self._turn(good)
        self.age += steps

    def _turn(self, good: NDArray[np.bool_]) -> None:
        """New directions for those that moved, and for those whose step has become too short."""
        stuck = self._step < SHORTEST
        if stuck.any():
            self._rho[:, stuck] = 0.0
            self._step[stuck] = 1.0
        np.copyto(self._way, self._direction(), where=(good | stuck)[:, None])

    def _remember(self, move: Singles, bend: Singles, good: NDArray[np.bool_]) -> None:
        self._newest = (self._newest + 1) % MEMORY
        self._moves[self._newest], self._bends[self._newest] = move, bend
        curve = np.vecdot(move, bend)
        known = good & (curve > 1e-10)
        self._rho[self._newest] = np.where(known, 1.0 / np.where(known, curve, 1.0), 0.0)

    def _direction(self) -> Singles:
        """The two-loop recursion, clipped, and turned into steepest descent where it would climb."""
        q = self._slope.copy()
        order = [(self._newest - age) % MEMORY for age in range(MEMORY)]
        alphas = {}
        for k in order:
            alphas[k] = self._rho[k] * np.vecdot(self._moves[k], q)
            q -= alphas[k][:, None] * self._bends[k]
        q *= self._ease
        for k in reversed(order):
            beta = self._rho[k] * np.vecdot(self._bends[k], q)
            q += (alphas[k] - beta)[:, None] * self._moves[k]
        climbs = np.vecdot(q, self._slope) <= 0
        q[climbs] = self._slope[climbs] * self._ease
        return _clipped(np.negative(q, out=q))

    def _energy(self, packings: Singles) -> tuple[Singles, Singles, Singles]:
        """Energy, its slope, and the sum of squared overlaps of each packing."""
        n, slope = len(self.radii), np.empty_like(packings)
        x, y, radius = packings[:, :n], packings[:, n : 2 * n], packings[:, 2 * n :]
        square = x * x + y * y
        between, pull = self._between(x, y, square)
        out = np.sqrt(square)
        wall = np.maximum(out + self.radii - radius, 0.0)
        # A disc at the very middle is pushed nowhere by the wall.
        wall_pull = self._stiffness * wall / np.maximum(out, np.float32(1e-9)) - pull[:, 2]
        slope[:, :n] = wall_pull * x + pull[:, 0]
        slope[:, n : 2 * n] = wall_pull * y + pull[:, 1]
        slope[:, 2 * n] = 1.0 - self._stiffness * wall.sum(axis=1)
        overlap = between + np.vecdot(wall, wall)
        return radius[:, 0] + 0.5 * self._stiffness * overlap, slope, overlap

    def _between(self, x: Singles, y: Singles, square: Singles) -> tuple[Singles, Singles]:
        """Sum of squared overlaps between discs, and per disc the sums of push x, push y and push of its partners."""
        count, n = x.shape
        left, right, weights = self._left[:count], self._right[:count], self._ones[:count]
        left[:, :, 0], left[:, :, 1], left[:, :, 3] = x, y, self.radii * self.radii - square
        right[:, 0], right[:, 1], right[:, 4] = 2.0 * x, 2.0 * y, left[:, :, 3]
        weights[:, 0], weights[:, 1] = x, y
        pull, squares = np.empty((count, 3, n), dtype=np.float32), np.empty(count, dtype=np.float32)
        for first in range(0, count, BLOCK):
            part = slice(first, min(first + BLOCK, count))
            over, spare = self._over[: part.stop - first], self._spare[: part.stop - first]
            np.matmul(left[part], right[part], out=over)
            flat = over.reshape(len(over), n * n)
            flat[:, :: n + 1] = 0.0
            # v + |v| is 2 max(v, 0), at a quarter of the time of the maximum.
            np.abs(over, out=spare)
            over += spare
            np.matmul(weights[part], over, out=pull[part])
            np.vecdot(flat, flat, out=squares[part])
        pull *= 0.25 * self._stiffness / (TOUCH * TOUCH)
        # Each pair stands twice in the matrix, and its overlap doubled: an eighth.
        return squares * (0.125 / (4.0 * TOUCH * TOUCH)), pull


def _zeros(*shape: int) -> Singles:
    return np.zeros(shape, dtype=np.float32)


def _ease(radii: Singles, stiffness: np.float32) -> Singles:
    """The inverse of the guessed curvature along each coordinate of a packing."""
    disc = DISC_CURVATURE * radii
    wall = WALL_CURVATURE * np.sqrt(np.float32(len(radii)))
    return np.asarray(1.0 / (stiffness * np.concatenate([disc, disc, [wall]])), dtype=np.float32)


def _factors(radii: Singles, places: int) -> tuple[Singles, Singles]:
    """The two factors of the matrix of t^2 - d^2; what depends on places is filled in at each step."""
    n = len(radii)
    left, right = _zeros(places, n, 5), _zeros(places, 5, n)
    left[:, :, 2], left[:, :, 4] = radii, 1.0
    right[:, 2], right[:, 3] = 2.0 * radii, 1.0
    return left, right


def _clipped(direction: Singles) -> Singles:
    longest = np.abs(direction).max(axis=1)
    direction *= np.minimum(np.float32(1.0), LONGEST_MOVE / np.maximum(longest, np.float32(1e-30)))[:, None]
    return direction
