"""The search for a bundle of up to 200 discs: hops between soft packings, many in flight at once, all seeded.

Hops never leave the soft state, where a packing settles in a third of the steps; only the best of the search are
pressed hard. A place whose packing has settled, or looks hopeless, takes the next changed packing at once. Places
stand in islands: each has its own survivors and starts anew by itself when it finds no better ones. Where
the wide discs alone set the width, every other start is around one of their own best packings. More discs than a few,
of several sizes, are searched twice, with other random numbers and at another stiffness, side by side where there are
two cores (`_second.py`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry import _hop_moves, _second
from rushlight.geometry._hop_moves import Discs
from rushlight.geometry._seeds import SEED
from rushlight.geometry._soft import STIFFNESS, SoftPress
from rushlight.geometry._squeeze import FINISH, Squeezed, pressed

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Ints = NDArray[np.intp]
Found = list[tuple[float, list[float]]]
"""Estimates and rows of packings that were pressed hard."""

ROUND_STEPS = 10
"""Steps of a round; after each the settled and the hopeless packings are replaced."""

START_ROUNDS = 12
"""Rounds that new starts settle in."""

HOPELESS = (np.inf, 1.03, 1.012, 1.004)
"""After so many rounds, a packing whose estimate lies this far above the worst survivor is dropped."""

OLDEST = 7
"""Rounds after which a packing counts as settled."""

SETTLED = 1e-3
"""Largest slope of a packing that has settled."""

SURVIVORS = 10
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

JOINED_SHARE = 0.15
"""Share of the rounds, the last ones, in which the islands are one: the best of all are changed further."""

SECOND_STIFFNESS = 1.0
"""Stiffness of the second search: which of the two finds a mix's best packing more often differs from mix to mix."""

PRESS = ((2.0, 40), (10.0, 40), (50.0, 40), (300.0, 60))
"""Stiffness and steps that the finalists are pressed with, as far as it is more than that of the search."""

LAST = 3
"""Finalists of a search that get the last press."""


@dataclass(frozen=True, slots=True)
class HopEffort:
    """How much work a search does: packings in flight, rounds, changes without a better leader before a new start.

    `twice`: discs of several sizes are searched a second time, from the next seed. `islands`: groups of places of
    equal size, each with its own survivors. `stiffness`: that of the soft state.
    """

    places: int
    rounds: int
    patience: int = 800
    twice: bool = False
    islands: int = 1
    stiffness: float = float(STIFFNESS)


EFFORTS = (
    (6, HopEffort(64, 60)), (10, HopEffort(64, 150)), (24, HopEffort(64, 300)), (36, HopEffort(64, 540)),
    (64, HopEffort(64, 450)), (120, HopEffort(32, 180)), (math.inf, HopEffort(16, 60)),
)
MIXED_EFFORTS = (
    *EFFORTS[:2], (36, HopEffort(128, 385, twice=True, islands=4)), (64, HopEffort(128, 275, twice=True, islands=4)),
    *EFFORTS[5:],
)
"""The usual effort by the most discs, all equal or of several sizes: about two seconds to 50 on a plain computer of two
cores; beyond 64 memory counts. Chosen by trials on 36 mixes: a step of 128 packings takes a quarter less time each than
one of 64, and four islands of them begin anew more often."""


def effort_for(radii: Floats, rounds: int | None) -> HopEffort:
    """The usual effort for these discs; `rounds` replaces the number of rounds, and the search is not repeated."""
    efforts = MIXED_EFFORTS if np.ptp(radii) > 0 else EFFORTS
    usual = next(effort for most, effort in efforts if len(radii) <= most)
    return usual if rounds is None else replace(usual, rounds=rounds, twice=False)


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
        return _last_pressed(_found(unit, effort, seed), unit) * scale
    task = {"unit": unit.tolist(), "places": effort.places, "rounds": int(SECOND_SHARE * effort.rounds),
            "patience": effort.patience, "islands": effort.islands, "stiffness": SECOND_STIFFNESS, "seed": seed + 1}
    other = _second.begun(task)
    mine = _found(unit, effort, seed)
    found = _second.found_by(other)
    return _last_pressed(mine + (found_for(task) if found is None else found), unit) * scale


def found_for(task: dict[str, Any]) -> Found:
    """What a search finds that is told in plain numbers, as another process is told it."""
    places, rounds, patience, islands = (int(task[key]) for key in ("places", "rounds", "patience", "islands"))
    effort = HopEffort(places, rounds, patience, islands=islands, stiffness=float(task["stiffness"]))
    return _found(np.array(task["unit"]), effort, int(task["seed"]))


def _found(unit: Floats, effort: HopEffort, seed: int) -> Found:
    """Estimates and rows of the best of one search, pressed hard: from then on they compare at any stiffness."""
    best = _finalists(unit, effort, np.random.default_rng([seed, len(unit)]))
    rows = np.array(best.rows, dtype=np.float64)
    stages = tuple(stage for stage in PRESS if stage[0] > effort.stiffness)
    out = pressed(_squeezed(rows), unit, stages).best(LAST)
    rows = np.column_stack([out.centres[..., 0], out.centres[..., 1], out.radius])
    return [(float(estimate), row.tolist()) for estimate, row in zip(out.estimate, rows, strict=True)]


def _last_pressed(found: Found, unit: Floats) -> Floats:
    """The best of these, pressed for the last time."""
    few = sorted(found)[:LAST]
    out = pressed(_squeezed(np.array([row for _, row in few])), unit, FINISH).best(1)
    return np.asarray(out.centres[0], dtype=np.float64)


def _squeezed(rows: Floats) -> Squeezed:
    """Packings told as rows, as the hard press takes them."""
    n = rows.shape[1] // 2
    return Squeezed(np.stack([rows[:, :n], rows[:, n : 2 * n]], axis=2), rows[:, -1], rows[:, -1])


def _finalists(unit: Floats, effort: HopEffort, rng: np.random.Generator) -> _Kept:
    """The best packings of one search."""
    cores, left = _cores(unit, effort, rng)
    under_way = _UnderWay(unit, effort, cores, rng)
    left = max(left, START_ROUNDS)
    for round_left in range(left, 0, -1):
        if effort.islands > 1 and round_left == int(JOINED_SHARE * left):
            under_way.join()
        under_way.go_on()
    return under_way.best


def _cores(unit: Floats, effort: HopEffort, rng: np.random.Generator) -> tuple[Singles | None, int]:
    """Good packings of all but the narrowest discs, where those set the width, and the rounds that are left."""
    wide = unit[unit > unit[-1] * (1 + 1e-9)]
    if len(wide) < CORE_LEAST or np.sum(wide**2) < CORE_SHARE * np.sum(unit**2):
        return None, effort.rounds
    scale, rounds = float(np.sqrt(np.mean(wide**2))), int(CORE_ROUNDS * effort.rounds)
    found = _finalists(wide / scale, replace(effort, rounds=rounds), rng)
    # A round's time grows slower than the number of discs: counted in proportion, the whole never takes longer.
    return np.array(found.rows) * np.float32(scale), effort.rounds - math.ceil(rounds * len(wide) / len(unit))


class _UnderWay:
    """A search under way: its packings in flight, the survivors of each island, and the best of all."""

    def __init__(self, unit: Floats, effort: HopEffort, cores: Singles | None, rng: np.random.Generator) -> None:
        self.best = _Kept(FINALISTS)
        self._discs, self._cores, self._rng = _hop_moves.discs_of(unit), cores, rng
        self._press = SoftPress(unit, effort.places, effort.stiffness)
        self._patience: float = effort.patience
        self._island_of = np.arange(effort.places) * effort.islands // effort.places
        self._pools = [_Kept(SURVIVORS) for _ in range(effort.islands)]
        self._stale = [0] * effort.islands
        self._starts = self._turn = 0
        for island in range(effort.islands):
            self._begin(island)

    def go_on(self) -> None:
        """One round: press on, gather what has settled, and give free places the next changed packings."""
        self._press.advance(ROUND_STEPS)
        free = np.concatenate([self._freed(island) for island in range(len(self._pools))])
        if len(free):
            children = _children(self._pools, self._island_of[free], self._discs, self._turn, self._rng)
            self._press.load(free, children)
            self._turn += len(free)

    def join(self) -> None:
        """From now on all places are one island, whose survivors are the best of all; nothing begins anew."""
        self._island_of[:] = 0
        self._pools, self._stale, self._patience = [self.best], [0], math.inf

    def _begin(self, island: int) -> None:
        """A new start on an island: around good cores every other time if there are any, else anywhere."""
        places, n = np.flatnonzero(self._island_of == island), len(self._discs.radii)
        if self._cores is not None and self._starts % 2 == 0:
            drawn = self._cores[self._rng.integers(len(self._cores), size=len(places))]
            start = _hop_moves.filled(drawn, self._discs, self._rng)
        else:
            start = _hop_moves.scattered(self._discs, len(places), 1.1 * math.sqrt(n), self._rng)
        self._press.load(places, start)
        self._pools[island], self._stale[island] = _Kept(SURVIVORS), 0
        self._starts += 1

    def _freed(self, island: int) -> Ints:
        """Offer what has settled on an island; its places that can be given away."""
        mine = np.flatnonzero(self._island_of == island)
        rounds, estimates = self._press.age[mine] // ROUND_STEPS, self._press.estimate[mine]
        if not self._pools[island].rows:
            if rounds[0] < START_ROUNDS:
                return mine[:0]
            self._offer(island, mine[np.argsort(estimates, kind="stable")])
            return mine
        bars = np.array(HOPELESS)[np.minimum(rounds - 1, len(HOPELESS) - 1)] * max(self._pools[island].estimates)
        hopeful = estimates < bars
        settled = (rounds >= OLDEST) | (self._press.steepest[mine] < SETTLED)
        led = self._offer(island, mine[settled & hopeful])
        free = mine[settled | ~hopeful]
        self._stale[island] = 0 if led else self._stale[island] + len(free)
        if self._stale[island] < self._patience:
            return free
        self._begin(island)
        return mine[:0]

    def _offer(self, island: int, places: Ints) -> bool:
        """Offer packings to an island's survivors and to the best; True if the island's leader improved."""
        led, estimates = False, self._press.estimate
        for place in places:
            led |= self._pools[island].offer(float(estimates[place]), self._press.packings[place])
            self.best.offer(float(estimates[place]), self._press.packings[place])
        return led


def _children(
    pools: list[_Kept], island_of: Ints, discs: Discs, turn: int, rng: np.random.Generator
) -> Singles:
    """Changed copies of survivors drawn at random, each from its own island; what changes goes by turns."""
    rows = np.array([row for pool in pools for row in pool.rows])
    drawn, first = np.empty((2, len(island_of)), dtype=np.intp), 0
    for island, pool in enumerate(pools):
        mine = island_of == island
        drawn[:, mine] = first + rng.integers(len(pool.rows), size=(2, int(mine.sum()))) if mine.any() else 0
        first += len(pool.rows)
    parents, others = rows[drawn[0]], rows[drawn[1]]
    turns = np.array(TURNS if len(discs.spans) > 1 else EQUAL_TURNS)
    kinds = turns[(turn + np.arange(len(parents))) % len(turns)]
    changed: Singles = parents.copy()
    for kind, change in (
        ("swap", _hop_moves.swapped), ("insert", _hop_moves.inserted), ("near", _hop_moves.shaken_near)
    ):
        mine = kinds == kind
        if mine.any():
            changed[mine] = change(parents[mine], discs, rng)
    mine = kinds == "cross"
    changed[mine] = _hop_moves.crossed(parents[mine], others[mine], discs, rng)
    return changed
