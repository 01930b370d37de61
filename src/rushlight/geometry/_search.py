"""The search for a small bundle: squeezed starts, then basin hopping on a few survivors, all seeded."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry._moves import changed
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

SOFTENED = (10.0, 40)
"""Stiffness and steps that bring a packing of discs of several sizes to where changes are chosen."""

MIXED_KINDS = ("swap", "insert", "swap", "jump", "swap", "near")
"""Changes of a packing of discs of several sizes, by turns."""

EQUAL_KINDS = ("jump", "jump", "near", "jump", "two")
"""Changes of a packing of equal discs, by turns."""

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
        usual = Effort(24, 6, 6, 24, 12) if mixed else Effort(24, 3, 5, 4)
    elif n <= 64:
        usual = Effort(24, 6, 6, 24, 12) if mixed else Effort(48, 4, 5, 10)
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
    children, radius = _children(pool, unit, count, rng)
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


def _children(pool: Squeezed, unit: Floats, count: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """`count` changed copies of each survivor and their radii. Discs of several sizes are changed in their softened
    state, where overlaps tell which disc is wide for its place."""
    softened = squeeze(pool.centres, unit, *SOFTENED, pool.radius) if np.ptp(unit) > 1e-6 else pool
    kinds = MIXED_KINDS if np.ptp(unit) > 1e-6 else EQUAL_KINDS
    out = [
        changed(centres, float(radius), unit, kinds[number % len(kinds)], rng)
        for centres, radius in zip(softened.centres, softened.radius, strict=True)
        for number in range(count)
    ]
    return np.array(out), np.repeat(softened.radius, count)
