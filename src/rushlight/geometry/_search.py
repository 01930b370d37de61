"""The search for a small bundle: squeezed starts, then basin hopping on a few survivors, all seeded."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry._seeds import scattered, starts
from rushlight.geometry._squeeze import Squeezed, squeeze

Floats = NDArray[np.float64]

SEED = 20250101
"""Every random number of the search comes from this seed and the number of discs."""

FULL_SQUEEZE = ((2.0, 250), (10.0, 50), (50.0, 40), (300.0, 40))
"""Stiffness and steps of a squeeze from scratch. At 2 discs flow past each other until they have settled: once
that stage has converged, later ones move the radius by less than 0.1 %, so it is the one worth its steps."""

SHORT_SQUEEZE = ((10.0, 60), (50.0, 30), (300.0, 40))
"""Stiffness and steps after a small change to a good packing of equal discs."""

MIXED_SQUEEZE = ((2.0, 80), (10.0, 40), (50.0, 30), (300.0, 40))
"""The same for discs of several sizes: softer, since a swap leaves a wide disc in a narrow place."""

HOPELESS = 1.0013
"""A changed packing whose estimate at the first stage lies this far above the worst survivor is dropped."""

ALIKE = 2e-4
"""Survivors whose estimates lie nearer than this share of R count as copies of one packing; the best one stays."""

FINISH = ((2000.0, 150), (2e4, 200))
"""Stiffness and steps of the last press."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How much work a search does: starts, survivors, children of each a round, rounds, patience."""

    starts: int
    survivors: int
    children: int
    rounds: int
    patience: int = 8


def effort_for(n: int, rounds: int | None, mixed: bool) -> Effort:
    """The usual effort for n discs; `rounds` replaces the number of rounds."""
    if n <= 10:
        usual = Effort(24, 4, 5, 6 if mixed else 4)
    elif n <= 20:
        usual = Effort(96, 6, 6, 8) if mixed else Effort(24, 3, 5, 4)
    elif n <= 64:
        usual = Effort(96, 6, 6, 8) if mixed else Effort(48, 4, 5, 10)
    elif n <= 120:
        usual = Effort(16, 3, 4, 14)
    elif n <= 220:
        usual = Effort(12, 2, 4, 10)
    elif n <= 500:
        usual = Effort(4, 1, 2, 2)
    else:
        usual = Effort(1, 1, 1, 0)
    if rounds is None:
        return usual
    return Effort(usual.starts, usual.survivors, usual.children, rounds)


def search(radii: Floats, effort: Effort, extra_starts: Floats | None = None) -> Floats:
    """Centres of the best packing found for radii (largest first), shape (n, 2); overlaps are tiny, not nil."""
    scale = float(np.sqrt(np.mean(radii**2)))
    unit = radii / scale
    rng = np.random.default_rng([SEED, len(radii)])
    seeds = starts(unit, effort.starts, rng)
    if extra_starts is not None:
        seeds = np.concatenate([extra_starts / scale, seeds])
    pool = _settled(seeds, unit, effort.survivors)
    best = pool
    stale = 0
    for _ in range(effort.rounds):
        hopped = _hopped(pool, unit, effort.children, rng)
        pool, gained = _survive(pool, hopped)
        stale = 0 if gained else stale + 1
        if stale >= effort.patience:
            best = _joined(best, pool).best(effort.survivors)
            pool = _settled(scattered(effort.starts, len(unit), rng), unit, effort.survivors)
            stale = 0
    finalists = _joined(best, pool).best(3)
    pressed = _pressed(finalists, unit, FINISH).best(1)
    return np.asarray(pressed.centres[0] * scale, dtype=np.float64)


def _settled(centres: Floats, unit: Floats, keep: int) -> Squeezed:
    """Squeeze starts from scratch; after each stage the worse part is dropped, down to `keep`."""
    soft, steps = FULL_SQUEEZE[0]
    out = squeeze(centres, unit, soft, steps)
    for share, (stiffness, steps) in zip((2, 3, 4), FULL_SQUEEZE[1:], strict=True):
        out = squeeze(out.centres, unit, stiffness, steps, out.radius)
        out = out.best(max(keep, len(centres) // share))
    return out.best(keep, apart=ALIKE * float(out.estimate.min()))


def _hopped(pool: Squeezed, unit: Floats, count: int, rng: np.random.Generator) -> Squeezed:
    """Changed copies of the survivors, squeezed; the hopeless ones are dropped after the first stage."""
    children = _children(pool, unit, count, rng)
    radius = np.repeat(pool.radius, count)
    stages = MIXED_SQUEEZE if np.ptp(unit) > 1e-6 else SHORT_SQUEEZE
    out = Squeezed(children, radius, radius)
    out = _pressed(out, unit, stages[:-2])
    hopeful = out.estimate < pool.estimate.max() * HOPELESS
    if not hopeful.any():
        return out.at(slice(0, 0))
    return _pressed(out.at(hopeful), unit, stages[-2:])


def _pressed(out: Squeezed, unit: Floats, stages: tuple[tuple[float, int], ...]) -> Squeezed:
    for stiffness, steps in stages:
        out = squeeze(out.centres, unit, stiffness, steps, out.radius)
    return out


def _survive(parents: Squeezed, children: Squeezed) -> tuple[Squeezed, bool]:
    """The best of both, as many as there were parents; and whether the leader improved."""
    together = _joined(parents, children).best(len(parents.estimate), apart=ALIKE * float(parents.estimate.min()))
    gained = together.estimate[0] < parents.estimate.min() - 1e-7
    return together, bool(gained)


def _joined(a: Squeezed, b: Squeezed) -> Squeezed:
    return Squeezed(
        np.concatenate([a.centres, b.centres]),
        np.concatenate([a.radius, b.radius]),
        np.concatenate([a.estimate, b.estimate]),
    )


def _children(pool: Squeezed, unit: Floats, count: int, rng: np.random.Generator) -> Floats:
    """`count` changed copies of each survivor, by the four kinds of change in turn."""
    out = []
    mixed = bool(np.ptp(unit) > 1e-6)
    kinds = ("swap", "jump", "swap", "near") if mixed else ("jump", "jump", "near", "jump", "two")
    for centres, radius in zip(pool.centres, pool.radius, strict=True):
        for number in range(count):
            kind = kinds[number % len(kinds)]
            if kind == "swap":
                out.append(_swapped(centres, unit, rng))
            elif kind == "near":
                out.append(_shaken_near(centres, float(radius), rng))
            else:
                out.append(_jumped(centres, float(radius), unit, 2 if kind == "two" else 1, rng))
    return np.array(out)


def _jumped(centres: Floats, radius: float, unit: Floats, many: int, rng: np.random.Generator) -> Floats:
    """One or two discs, taken at random, put into the widest holes."""
    moved = centres.copy()
    for disc in rng.choice(len(unit), size=min(many, len(unit)), replace=False):
        reach = radius * np.sqrt(rng.random(300))
        angle = 2 * np.pi * rng.random(300)
        spots = np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])
        away = np.hypot(spots[:, None, 0] - moved[None, :, 0], spots[:, None, 1] - moved[None, :, 1]) - unit
        away[:, disc] = np.inf
        room = np.minimum(away.min(axis=1), radius - reach)
        widest = np.argsort(-room, kind="stable")[:8]
        moved[disc] = spots[widest[rng.integers(len(widest))]]
    return moved


def _shaken_near(centres: Floats, radius: float, rng: np.random.Generator) -> Floats:
    """Discs near a random place shaken hard, the others left."""
    angle, reach = 2 * np.pi * rng.random(), radius * np.sqrt(rng.random())
    spot = np.array([reach * np.cos(angle), reach * np.sin(angle)])
    near = np.exp(-np.sum((centres - spot) ** 2, axis=1) / (2 * (0.35 * radius + 1.0) ** 2))
    return np.asarray(centres + 0.9 * near[:, None] * rng.standard_normal(centres.shape), dtype=np.float64)


def _swapped(centres: Floats, unit: Floats, rng: np.random.Generator) -> Floats:
    """Discs of unequal, near size change places (one to three swaps); radii are sorted."""
    moved = centres.copy()
    levels = np.flatnonzero(np.diff(unit) != 0)
    for _ in range(int(rng.integers(1, 4))):
        edge = int(levels[rng.integers(len(levels))])
        size_a, size_b = unit[edge], unit[edge + 1]
        a = rng.choice(np.flatnonzero(unit == size_a))
        b = rng.choice(np.flatnonzero(unit == size_b))
        moved[[a, b]] = moved[[b, a]]
    return moved
