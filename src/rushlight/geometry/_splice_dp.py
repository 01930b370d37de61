"""The cheapest splice tree on a set of sites, exactly: a dynamic programme over subsets of the leaves."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from rushlight.geometry.outline import FloatArray
from rushlight.geometry.sight import IntArray

AT_ONCE = 200_000
"""Numbers worked on at once; bounds the memory and stays within the processor's cache."""


@dataclass(frozen=True, slots=True)
class Branch:
    """A node of a solved tree: a leaf (its number, no children) or a splice (leaf -1) at a site."""

    site: int
    leaf: int
    children: tuple[Branch, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """All subsets of one size, and for each its splits in two, the part with the lowest leaf first."""

    subsets: IntArray
    first: IntArray
    rest: IntArray


@dataclass(frozen=True, slots=True, eq=False)
class _Tables:
    """hang[S, v]: cost of a lead from site v down to all of S; join[m][S, v]: S hung on v by m leads."""

    hang: FloatArray
    top: IntArray
    join: tuple[FloatArray, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """What is to be solved, on local numbers: lead costs among sites (rows), leaf sites, the root's site."""

    lead: FloatArray
    leaf_site: IntArray
    root: int
    splice_cost: float
    max_leads: int
    allowed: IntArray


def solve(task: Task) -> tuple[float, Branch]:
    """Cost and top node of the cheapest tree that hangs every leaf on the root by one lead.

    The root's own lead counts. Work grows as 3^leaves times sites; ten leaves on 250 sites take a fraction of a second.
    """
    count = len(task.leaf_site)
    if count == 1:
        cost = float(task.lead[task.root, task.leaf_site[0]])
        return cost, Branch(int(task.leaf_site[0]), 0)
    tables = _filled(task, count)
    full = (1 << count) - 1
    from_root = task.lead[task.root, task.allowed] + _joined(tables, task, full)
    best = int(np.argmin(from_root))
    return float(from_root[best]), _traced(tables, task, full, best)


@lru_cache(maxsize=16)
def _levels(count: int) -> tuple[_Level, ...]:
    """For each size from 2 to `count`: subsets and their splits. Pure arithmetic, so kept."""
    sizes = np.array([int(s).bit_count() for s in range(1 << count)])
    return tuple(_level(np.flatnonzero(sizes == size), size) for size in range(2, count + 1))


def _level(subsets: IntArray, size: int) -> _Level:
    firsts = []
    for subset in subsets.tolist():
        low = subset & -subset
        rest, part, found = subset ^ low, subset ^ low, []
        while part:  # every non-empty part of the others; the first part is what remains with the lowest leaf
            found.append(subset ^ part)
            part = (part - 1) & rest
        firsts.append(found)
    first = np.array(firsts, dtype=int).reshape(len(subsets), (1 << (size - 1)) - 1)
    return _Level(subsets, first, subsets[:, None] ^ first)


def _filled(task: Task, count: int) -> _Tables:
    """Tables over allowed sites, smallest subsets first."""
    sites = len(task.allowed)
    ways = task.max_leads - 1
    hang = np.full((1 << count, sites), np.inf)
    top = np.full((1 << count, sites), -1)
    join = tuple(np.full((1 << count, sites), np.inf) for _ in range(ways + 1))
    hang[1 << np.arange(count)] = task.lead[np.ix_(task.allowed, task.leaf_site)].T
    join[1][:] = hang
    between = np.ascontiguousarray(task.lead[np.ix_(task.allowed, task.allowed)])
    for level in _levels(count):
        for m in range(2, ways + 1):
            join[m][level.subsets] = _split(hang, join[m - 1], level)
        spliced = np.min([join[m][level.subsets] for m in range(2, ways + 1)], axis=0) + task.splice_cost
        for part in np.array_split(np.arange(len(spliced)), 1 + spliced.size * sites // AT_ONCE):
            over = spliced[part, None, :] + between[None]
            top[level.subsets[part]] = np.argmin(over, axis=2)
            hang[level.subsets[part]] = np.min(over, axis=2)
        join[1][level.subsets] = hang[level.subsets]
    return _Tables(hang, top, join)


def _split(hang: FloatArray, fewer: FloatArray, level: _Level) -> FloatArray:
    """Least cost of one lead to a part of each subset and the rest by fewer leads."""
    if level.first.size * hang.shape[1] <= AT_ONCE:
        return np.asarray((hang[level.first] + fewer[level.rest]).min(axis=1), dtype=float)
    out = np.full((len(level.subsets), hang.shape[1]), np.inf)
    for first, rest in zip(level.first.T, level.rest.T, strict=True):
        np.minimum(out, hang[first] + fewer[rest], out=out)
    return out


def _joined(tables: _Tables, task: Task, subset: int) -> FloatArray:
    """Cost of a splice at each site that carries the subset."""
    options = [tables.join[m][subset] for m in range(2, task.max_leads)]
    return np.asarray(np.min(options, axis=0) + task.splice_cost, dtype=float)


def _traced(tables: _Tables, task: Task, subset: int, site: int) -> Branch:
    """The splice at an allowed site (its number in the tables) that carries the subset."""
    ways = min(range(2, task.max_leads), key=lambda m: float(tables.join[m][subset, site]))
    parts: list[int] = []
    left = subset
    for m in range(ways, 1, -1):
        part = _first_part(tables, left, site, m)
        parts.append(part)
        left ^= part
    children = tuple(_child(tables, task, part, site) for part in (*parts, left))
    return Branch(int(task.allowed[site]), -1, children)


def _first_part(tables: _Tables, subset: int, site: int, ways: int) -> int:
    low = subset & -subset
    rest = subset ^ low
    part, best, cost = rest, 0, np.inf
    while part:
        trial = float(tables.hang[subset ^ part, site] + tables.join[ways - 1][part, site])
        if trial < cost:
            best, cost = subset ^ part, trial
        part = (part - 1) & rest
    return best


def _child(tables: _Tables, task: Task, subset: int, site: int) -> Branch:
    if subset & (subset - 1) == 0:
        leaf = subset.bit_length() - 1
        return Branch(int(task.leaf_site[leaf]), leaf)
    return _traced(tables, task, subset, int(tables.top[subset, site]))
