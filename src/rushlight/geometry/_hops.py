"""The search for a bundle of up to 200 discs: hops between soft packings, many in flight at once, all seeded.

Hops never leave the soft state, where a packing settles in a third of the steps; only the best of the search are
pressed hard. A place whose packing has settled, or looks hopeless, takes the next changed packing at once. Where
the wide discs alone set the width, every other start is around one of their own best packings. More discs than a few,
of several sizes, are searched twice, with other random numbers, side by side where there are two cores (`_second.py`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry import _hop_moves, _second
from rushlight.geometry._hop_moves import Discs
from rushlight.geometry._seeds import SEED
from rushlight.geometry._soft import SoftPress
from rushlight.geometry._squeeze import FINISH, Squeezed, pressed

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Ints = NDArray[np.intp]

ROUND_STEPS = 12
"""Steps of a round; after each the settled and the hopeless packings are replaced."""

START_ROUNDS = 12
"""Rounds that new starts settle in."""

HOPELESS = (np.inf, 1.03, 1.012, 1.004)
"""After so many rounds, a packing whose estimate lies this far above the worst survivor is dropped."""

OLDEST = 7
"""Rounds after which a packing counts as settled."""

SETTLED = 1e-3
"""Largest slope of a packing that has settled."""

SURVIVORS = 6
FINALISTS = 12
"""Packings that changes start from, and packings pressed hard at the end."""

ALIKE = 2e-4
"""Packings whose estimates lie nearer than this share of R count as copies of one; the best one stays."""

TURNS = ("swap", "insert", "swap", "near", "swap", "cross", "insert", "swap", "swap", "insert",
         "swap", "near", "swap", "cross", "swap", "insert", "swap", "cross", "swap", "swap")
EQUAL_TURNS = ("insert", "near", "insert", "cross", "near")
"""Changes, by turns; equal discs have nothing to swap."""

CORE_SHARE = 0.9
"""Where all but the narrowest discs cover this share of the area of all, their own packing sets the width: it is
searched first, and the narrowest are put between them. Chosen by trials on 36 mixes."""

CORE_LEAST = 5
"""Fewer wide discs than this find their places anyway."""

CORE_ROUNDS = 0.5
"""Share of the rounds that such a core is searched with."""

SECOND_SHARE = 0.9
"""Share of the rounds that the second search does: its process begins about a quarter of a second later."""

PRESS = ((10.0, 40), (50.0, 40), (300.0, 60))
"""Stiffness and steps that the finalists are pressed with, before the three best of them get the last press."""


@dataclass(frozen=True, slots=True)
class HopEffort:
    """How much work a search does: packings in flight, rounds, changes without a better leader before a new start.

    `twice`: discs of several sizes are searched a second time, from the next seed.
    """

    places: int
    rounds: int
    patience: int = 500
    twice: bool = False


EFFORTS = (
    (6, HopEffort(64, 40)), (10, HopEffort(64, 100)), (24, HopEffort(64, 200)),
    (36, HopEffort(64, 360, twice=True)), (64, HopEffort(64, 300, twice=True)),
    (120, HopEffort(32, 120)), (math.inf, HopEffort(16, 40)),
)
"""The usual effort by the most discs: about two seconds to 50 on a plain computer of two cores; beyond 64 memory
counts."""


def effort_for(n: int, rounds: int | None) -> HopEffort:
    """The usual effort for n discs; `rounds` replaces the number of rounds, and the search is not repeated."""
    usual = next(effort for most, effort in EFFORTS if n <= most)
    return usual if rounds is None else HopEffort(usual.places, rounds, usual.patience)


@dataclass(slots=True)
class _Kept:
    """The best packings seen, no two alike: their estimates and rows."""

    most: int
    estimates: list[float] = field(default_factory=list)
    rows: list[Singles] = field(default_factory=list)

    def offer(self, estimate: float, row: Singles) -> bool:
        """Keep a packing if it is among the best; True if it leads by more than rounding."""
        leads = not self.estimates or estimate < min(self.estimates) - 1e-6
        alike = [k for k, known in enumerate(self.estimates) if abs(known - estimate) < ALIKE * estimate]
        if not alike and len(self.estimates) < self.most:
            self.estimates.append(estimate)
            self.rows.append(row.copy())
            return leads
        place = alike[0] if alike else int(np.argmax(self.estimates))
        if estimate < self.estimates[place]:
            self.estimates[place], self.rows[place] = estimate, row.copy()
        return leads


def search(radii: Floats, effort: HopEffort, seed: int = SEED) -> Floats:
    """Centres of the best packing found for radii (largest first), shape (n, 2); overlaps are tiny, not nil."""
    scale = float(np.sqrt(np.mean(radii**2)))
    unit = radii / scale
    if not effort.twice or np.ptp(unit) == 0:
        return _pressed(_finalists(unit, effort, np.random.default_rng([seed, len(radii)])).rows, unit) * scale
    task = {"unit": unit.tolist(), "places": effort.places, "rounds": int(SECOND_SHARE * effort.rounds),
            "patience": effort.patience, "seed": seed + 1}
    other = _second.begun(task)
    best = _finalists(unit, effort, np.random.default_rng([seed, len(radii)]))
    found = _second.found_by(other)
    for estimate, row in found_for(task) if found is None else found:
        best.offer(estimate, np.array(row, dtype=np.float32))
    return _pressed(best.rows, unit) * scale


def found_for(task: dict[str, Any]) -> list[tuple[float, list[float]]]:
    """Estimates and rows of the finalists of a search told in plain numbers, as another process is told it."""
    unit = np.array(task["unit"])
    effort = HopEffort(int(task["places"]), int(task["rounds"]), int(task["patience"]))
    best = _finalists(unit, effort, np.random.default_rng([int(task["seed"]), len(unit)]))
    return [(estimate, row.tolist()) for estimate, row in zip(best.estimates, best.rows, strict=True)]


def _finalists(unit: Floats, effort: HopEffort, rng: np.random.Generator) -> _Kept:
    """The best packings of one search."""
    cores, left = _cores(unit, effort, rng)
    discs, press = _hop_moves.discs_of(unit), SoftPress(unit, effort.places)
    best, free = _Kept(FINALISTS), np.arange(effort.places)
    pool, turn, stale, starts = _Kept(SURVIVORS), 0, effort.patience, 0
    while True:
        if stale >= effort.patience:
            start = _start(cores if starts % 2 == 0 else None, discs, effort.places, rng)
            pool, stale, left, starts = _started(press, start, best), 0, left - START_ROUNDS, starts + 1
            free = np.arange(effort.places)
        if left <= 0:
            return best
        press.load(free, _children(pool, discs, turn, len(free), rng))
        turn += len(free)
        press.advance(ROUND_STEPS)
        left -= 1
        free, led = _gathered(press, pool, best)
        stale = 0 if led else stale + len(free)


def _cores(unit: Floats, effort: HopEffort, rng: np.random.Generator) -> tuple[Singles | None, int]:
    """Good packings of all but the narrowest discs, where those set the width, and the rounds that are left."""
    wide = unit[unit > unit[-1] * (1 + 1e-9)]
    if len(wide) < CORE_LEAST or np.sum(wide**2) < CORE_SHARE * np.sum(unit**2):
        return None, effort.rounds
    scale, rounds = float(np.sqrt(np.mean(wide**2))), int(CORE_ROUNDS * effort.rounds)
    found = _finalists(wide / scale, HopEffort(effort.places, rounds, effort.patience), rng)
    # A round's time grows slower than the number of discs: counted in proportion, the whole never takes longer.
    return np.array(found.rows) * np.float32(scale), effort.rounds - math.ceil(rounds * len(wide) / len(unit))


def _start(cores: Singles | None, discs: Discs, places: int, rng: np.random.Generator) -> Singles:
    """Packings to start from: around good cores if there are any, else anywhere."""
    if cores is not None:
        return _hop_moves.filled(cores[rng.integers(len(cores), size=places)], discs, rng)
    return _hop_moves.scattered(discs, places, 1.1 * float(np.sqrt(len(discs.radii))), rng)


def _started(press: SoftPress, start: Singles, best: _Kept) -> _Kept:
    """Survivors of these packings, settled."""
    press.load(np.arange(len(start)), start)
    press.advance(START_ROUNDS * ROUND_STEPS)
    pool, estimates = _Kept(SURVIVORS), press.estimate
    for place in np.argsort(estimates, kind="stable"):
        for kept in (pool, best):
            kept.offer(float(estimates[place]), press.packings[place])
    return pool


def _gathered(press: SoftPress, pool: _Kept, best: _Kept) -> tuple[Ints, bool]:
    """Offer what has settled, and give the places that are free again; and whether the leader improved."""
    estimates, rounds = press.estimate, press.age // ROUND_STEPS
    bars = np.array(HOPELESS)[np.minimum(rounds - 1, len(HOPELESS) - 1)] * max(pool.estimates)
    hopeful = estimates < bars
    settled = (rounds >= OLDEST) | (press.steepest < SETTLED)
    led = False
    for place in np.flatnonzero(settled & hopeful):
        led |= pool.offer(float(estimates[place]), press.packings[place])
        best.offer(float(estimates[place]), press.packings[place])
    return np.flatnonzero(settled | ~hopeful), led


def _children(pool: _Kept, discs: Discs, turn: int, count: int, rng: np.random.Generator) -> Singles:
    """Changed copies of survivors drawn at random; what changes goes by turns."""
    rows = np.array(pool.rows)
    parents, others = (rows[rng.integers(len(rows), size=count)] for _ in range(2))
    turns = np.array(TURNS if len(discs.spans) > 1 else EQUAL_TURNS)
    kinds = turns[(turn + np.arange(count)) % len(turns)]
    changed = parents.copy()
    for kind, change in (
        ("swap", _hop_moves.swapped), ("insert", _hop_moves.inserted), ("near", _hop_moves.shaken_near)
    ):
        mine = kinds == kind
        if mine.any():
            changed[mine] = change(parents[mine], discs, rng)
    mine = kinds == "cross"
    changed[mine] = _hop_moves.crossed(parents[mine], others[mine], discs, rng)
    return changed


def _pressed(rows: list[Singles], unit: Floats) -> Floats:
    n, packings = len(unit), np.array(rows, dtype=np.float64)
    centres = np.stack([packings[:, :n], packings[:, n : 2 * n]], axis=2)
    out = Squeezed(centres, packings[:, -1], packings[:, -1])
    for stage, keep in ((PRESS, 3), (FINISH, 1)):
        out = pressed(out, unit, stage).best(keep)
    return np.asarray(out.centres[0], dtype=np.float64)
