"""The search for more than 200 discs: squeezed starts, then basin hopping on a few survivors, all seeded."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry._moves import changed
from rushlight.geometry._seeds import SEED, scattered, starts
from rushlight.geometry._squeeze import FINISH, Squeezed, pressed, squeeze

Floats = NDArray[np.float64]

FULL_SQUEEZE = ((2.0, 250), (10.0, 50), (50.0, 40), (300.0, 40))
"""Stiffness and steps of a squeeze from scratch. At 2 discs flow past each other until they have settled: once
that stage has converged, later ones move the radius by less than 0.1 %, so it is the one worth its steps."""

SHORT_SQUEEZE = ((10.0, 60), (50.0, 30), (300.0, 40))
"""Stiffness and steps after a small change to a good packing."""

KINDS = ("jump", "jump", "near", "jump", "two")
"""Changes of a packing, by turns."""

HOPELESS = 1.0013
"""A changed packing whose estimate at the first stage lies this far above the worst survivor is dropped."""

ALIKE = 2e-4
"""Survivors whose estimates lie nearer than this share of R count as copies of one packing; the best one stays."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How much work a search does: starts, survivors, children of each a round, rounds, patience."""

    starts: int
    survivors: int
    children: int
    rounds: int
    patience: int = 8


def effort_for(radii: Floats, rounds: int | None) -> Effort:
    """The usual effort for these discs; `rounds` replaces the number of rounds."""
    usual = Effort(4, 1, 2, 2) if len(radii) <= 500 else Effort(1, 1, 1, 0)
    if rounds is None:
        return usual
    return Effort(usual.starts, usual.survivors, usual.children, rounds)


def search(radii: Floats, effort: Effort) -> Floats:
    """Centres of the best packing found for radii (largest first), shape (n, 2); overlaps are tiny, not nil."""
    scale = float(np.sqrt(np.mean(radii**2)))
    unit = radii / scale
    rng = np.random.default_rng([SEED, len(radii)])
    pool = _settled(starts(unit, effort.starts, rng), unit, effort.survivors)
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
    final = pressed(finalists, unit, FINISH).best(1)
    return np.asarray(final.centres[0] * scale, dtype=np.float64)


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
    children = [
        changed(centres, float(radius), unit, KINDS[number % len(KINDS)], rng)
        for centres, radius in zip(pool.centres, pool.radius, strict=True)
        for number in range(count)
    ]
    radius = np.repeat(pool.radius, count)
    out = pressed(Squeezed(np.array(children), radius, radius), unit, SHORT_SQUEEZE[:-2])
    hopeful = out.estimate < pool.estimate.max() * HOPELESS
    if not hopeful.any():
        return out.at(slice(0, 0))
    return pressed(out.at(hopeful), unit, SHORT_SQUEEZE[-2:])


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

