"""Fibre tails to illuminators: which illuminators to fit, where, and which tails each one feeds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.sight import IntArray

EXACT_CELLS = 1_500
"""Tails times candidate sites of one class up to which the integer programme is solved; above it, the search."""

NODE_LIMIT = 100
"""Nodes of the branch and bound: a count, never seconds, so that the answer is the same everywhere."""

SEARCH_ROUNDS = 4
"""Rounds of the search of large classes."""

MOVES = 6
"""Sites to which one illuminator is tried to move."""

FAR = 1e12
"""A length [mm] that stands for no route where infinity cannot be summed."""


@dataclass(frozen=True, slots=True)
class Illuminator:
    """One illuminator: its candidate site, the class that it serves, its tails (numbers, in order)."""

    site: int
    key: str
    tails: tuple[int, ...]
    fibres: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class Assignment:
    """Illuminators with their tails; `unreached` lists tails that no site can feed.

    `gap` is the share of the cost that a better answer on the same sites could still save (0: proven best; NaN: not
    bounded).
    """

    illuminators: tuple[Illuminator, ...]
    unreached: tuple[int, ...]
    length_mm: float
    cost_mm: float
    gap: float


@dataclass(frozen=True, slots=True, eq=False)
class _Class:
    """The tails of one class: their numbers, lengths to each site, fibres, and the prices."""

    key: str
    tails: IntArray
    length: FloatArray
    fibres: IntArray
    capacity: int
    open_cost: float


def assign_tails(
    length_mm: npt.ArrayLike,
    keys: Sequence[str],
    *,
    capacity: int,
    open_mm: float,
    fibres: Sequence[int] | None = None,
    longest_mm: float = math.inf,
) -> Assignment:
    """The cheapest set of illuminators and the tails that each feeds.

    Parameters
    ----------
    length_mm : array, shape (tails, sites)
        Route length of each tail to each candidate site [mm]; infinite where there is no route.
    keys : sequence of str
        The class of each tail (colour and state, say): an illuminator serves one class.
    capacity : int
        Fibres that one illuminator holds, 1 or more.
    open_mm : float
        Length of fibre that one more illuminator is worth [mm], 0 or more.
    fibres : sequence of int or None
        Fibres of each tail, 1 to `capacity`; None means 1 each.
    longest_mm : float
        Longest tail allowed [mm].
    Returns
    -------
    Assignment
        Each reachable tail in exactly one illuminator; several illuminators may share a site.
    Raises
    ------
    OutOfRange
        For lengths that are negative or NaN, a tail with more fibres than an illuminator holds, or lists that differ.
    Notes
    -----
    Minimise the summed tail lengths (times fibres) + open_mm for each illuminator, class by class. Small classes: an
    integer programme (HiGHS) with x <= y links, a least count of illuminators, and a limit on nodes.
    Large ones: illuminators are opened greedily, then closed and moved while that saves; no bound.
    Source
    ------
    Single-source capacitated facility location: R. Sridharan, European Journal of Operational Research 87 (1995)
    203-213. Checked against enumeration in tests/outside/.
    """
    length, counts = _checked(length_mm, keys, fibres, (capacity, open_mm))
    length = np.asarray(np.where(length <= longest_mm, length, math.inf), dtype=float)
    reached = np.asarray(np.isfinite(length).any(axis=1))
    found: list[Illuminator] = []
    gaps: list[tuple[float, float]] = []
    for key in sorted(set(keys)):
        tails = np.flatnonzero(np.array([name == key for name in keys]) & reached)
        if not len(tails):
            continue
        group = _Class(key, tails, length[tails] * counts[tails, None], counts[tails], capacity, open_mm)
        where, gap = _solve_class(group)
        lit = _illuminators(group, where)
        found += lit
        gaps.append((gap, sum(i.length_mm + open_mm for i in lit)))
    total = math.fsum(i.length_mm for i in found)
    cost = total + open_mm * len(found)
    gap = math.fsum(g * c for g, c in gaps) / cost if cost > 0 else 0.0
    return Assignment(tuple(found), tuple(np.flatnonzero(~reached).tolist()), total, cost, gap)


# --- inner functions ----------------------------------------------------------------------------


def _checked(
    length_mm: npt.ArrayLike, keys: Sequence[str], fibres: Sequence[int] | None, prices: tuple[int, float]
) -> tuple[FloatArray, IntArray]:
    length = np.asarray(length_mm, dtype=float)
    counts = np.ones(len(keys), dtype=int) if fibres is None else np.asarray(fibres, dtype=int)
    capacity, open_mm = prices
    if length.ndim != 2 or len(length) != len(keys) or len(counts) != len(keys):
        raise OutOfRange("length_mm", f"of shape {length.shape}", f"a row for each of the {len(keys)} tails")
    if np.isnan(length).any() or (length < 0).any():
        raise OutOfRange("length_mm", "negative or not a number", "0 or more")
    if capacity < 1:
        raise OutOfRange("capacity", capacity, "1 or more")
    if not (math.isfinite(open_mm) and open_mm >= 0):
        raise OutOfRange("open_mm", open_mm, "0 or more, finite")
    if len(counts) and not (counts.min() >= 1 and counts.max() <= capacity):
        raise OutOfRange("fibres", (int(counts.min()), int(counts.max())), f"1 to the capacity ({capacity})")
    return length, counts


def _solve_class(group: _Class) -> tuple[IntArray, float]:
    """Site of each tail and the proven gap."""
    start = _search(group)
    if group.length.size > EXACT_CELLS:
        return start, math.nan
    solved = _milp(group)
    if solved is None or _cost(group, solved[0]) > _cost(group, start) + 1e-9:
        return start, math.nan
    return solved


def _cost(group: _Class, site: IntArray) -> float:
    count = int(_counts(group, site).sum())
    return float(group.length[np.arange(len(site)), site].sum()) + group.open_cost * count


def _counts(group: _Class, site: IntArray) -> IntArray:
    """Illuminators that each site needs."""
    sites = group.length.shape[1]
    if int(group.fibres.max()) == 1:
        return -(-np.bincount(site, minlength=sites) // group.capacity)
    bins = _bins(group, site)
    return np.array([len(bins.get(k, [])) for k in range(sites)], dtype=int)


def _bins(group: _Class, site: IntArray) -> dict[int, list[list[int]]]:
    """The tails of each site shared out to illuminators: largest first, each to the first with room."""
    out: dict[int, list[list[int]]] = {}
    for k in np.unique(site).tolist():
        bins: list[list[int]] = []
        held = np.flatnonzero(site == k)
        for tail in held[np.argsort(-group.fibres[held], kind="stable")].tolist():
            need = int(group.fibres[tail])
            room = (b for b in bins if int(group.fibres[b].sum()) + need <= group.capacity)
            into = next(room, None)
            if into is None:
                bins.append([tail])
            else:
                into.append(tail)
        out[k] = bins
    return out


def _milp(group: _Class) -> tuple[IntArray, float] | None:
    """The integer programme: x[tail, site] in {0, 1}, y[site] illuminators at a site."""
    from scipy.optimize import Bounds, milp

    tails, sites = group.length.shape
    able = np.isfinite(group.length)
    cost = np.concatenate([np.where(able, group.length, 0.0).ravel(), np.full(sites, group.open_cost)])
    most = math.ceil(int(group.fibres.sum()) / group.capacity)
    top = np.concatenate([able.ravel().astype(float), np.full(sites, float(most))])
    answer = milp(
        cost,
        integrality=np.ones(len(cost), dtype=int),
        bounds=Bounds(0, top),
        constraints=_constraints(group),
        options={"node_limit": NODE_LIMIT, "mip_rel_gap": 0.0},
    )
    if answer.x is None:
        return None
    chosen = np.asarray(answer.x[: tails * sites]).reshape(tails, sites).argmax(axis=1)
    return chosen, float(answer.mip_gap or 0.0)


def _constraints(group: _Class) -> list[Any]:
    """Each tail once; no more fibres than the illuminators hold; x <= y; at least as many as the fibres need."""
    from scipy import sparse
    from scipy.optimize import LinearConstraint

    tails, sites = group.length.shape
    eye = sparse.identity(sites, format="csr")
    cells = sparse.identity(tails * sites, format="csr")
    once = sparse.kron(sparse.identity(tails), np.ones((1, sites)))
    load = sparse.kron(group.fibres[None].astype(float), eye)
    least = math.ceil(int(group.fibres.sum()) / group.capacity)
    rows: list[tuple[Any, Any, float, float]] = [
        (once, sparse.csr_matrix((tails, sites)), 1.0, 1.0),
        (load, -group.capacity * eye, -math.inf, 0.0),
        (cells, -sparse.kron(np.ones((tails, 1)), eye), -math.inf, 0.0),
        (sparse.csr_matrix((1, tails * sites)), np.ones((1, sites)), float(least), math.inf),
    ]
    return [LinearConstraint(sparse.hstack([x, y], format="csr"), low, high) for x, y, low, high in rows]


def _search(group: _Class) -> IntArray:
    """Open illuminators where they save most, then close and move them while that saves."""
    opened = _opened(group)
    site = _filled(group, opened)
    while site is None:  # capacity that the greedy choice left in the wrong place: one more where tails are left
        opened = opened + (np.isfinite(group.length).sum(axis=0) > 0)
        site = _filled(group, opened)
    for _ in range(SEARCH_ROUNDS):
        before = _cost(group, site)
        for old in np.unique(site).tolist():
            site = _best_move(group, site, old)
        if _cost(group, site) >= before - 1e-9:
            break
    return site


def _opened(group: _Class) -> IntArray:
    """Illuminators at each site, opened one by one: each serves the tails that it saves most, up to its capacity."""
    finite = group.length[np.isfinite(group.length)]
    far = 10 * (float(finite.max(initial=0.0)) + group.open_cost + 1.0)
    best = np.full(len(group.tails), far)
    opened = np.zeros(group.length.shape[1], dtype=int)
    for _ in range(len(group.tails)):
        saved = np.maximum(best[:, None] - group.length, 0.0)
        order = np.argsort(-saved, axis=0, kind="stable")
        taken = np.cumsum(group.fibres[order], axis=0) <= group.capacity
        gain = np.sum(np.take_along_axis(saved, order, axis=0) * taken, axis=0)
        k = int(gain.argmax())
        if gain[k] <= group.open_cost + 1e-9:
            break
        opened[k] += 1
        mine = order[:, k][taken[:, k]]
        best[mine] = np.minimum(best[mine], group.length[mine, k])
    return opened


def _filled(group: _Class, opened: IntArray) -> IntArray | None:
    """Tails ask the nearest site with room; a site takes those with the most to lose. None: some found no room."""
    use = np.flatnonzero(opened)
    away = group.length[:, use]
    order = np.sort(np.where(np.isfinite(away), away, FAR), axis=1)
    regret = order[:, min(1, order.shape[1] - 1)] - order[:, 0]
    room = opened[use] * group.capacity
    site = np.full(len(group.tails), -1)
    while (left := np.flatnonzero(site < 0)).size:
        able = np.where(room[None, :] >= group.fibres[left, None], away[left], np.inf)
        wish = able.argmin(axis=1)
        asks = np.isfinite(able[np.arange(len(left)), wish])
        if not asks.all():
            return None
        for k in np.unique(wish).tolist():
            here = left[wish == k]
            here = here[np.lexsort((-regret[here], -group.fibres[here]))]
            taken = here[np.cumsum(group.fibres[here]) <= room[k]]
            site[taken] = use[k]
            room[k] -= int(group.fibres[taken].sum())
    return site


def _best_move(group: _Class, site: IntArray, old: int) -> IntArray:
    """One illuminator of a site closed, or moved to a site near it, if that saves."""
    opened = _counts(group, site).copy()
    if not opened[old]:
        return site
    opened[old] -= 1
    trials = [opened] if opened.any() else []
    trials += [opened + (np.arange(len(opened)) == k) for k in _alternatives(group, site == old)]
    found = [f for f in (_filled(group, t) for t in trials) if f is not None]
    return min([site, *found], key=lambda s: _cost(group, s))


def _alternatives(group: _Class, mine: npt.NDArray[np.bool_]) -> list[int]:
    """The few sites that serve these tails with the least length."""
    total = np.where(np.isfinite(group.length), group.length, FAR)[mine].sum(axis=0)
    return [int(k) for k in np.argsort(total, kind="stable")[:MOVES]]


def _illuminators(group: _Class, site: IntArray) -> list[Illuminator]:
    found = []
    for k, bins in sorted(_bins(group, site).items()):
        for held in bins:
            length = float(group.length[held, k].sum())
            tails = tuple(sorted(int(t) for t in group.tails[held]))
            found.append(Illuminator(k, group.key, tails, int(group.fibres[held].sum()), length))
    return found
