"""Solving many conductance networks of one shape at once: star to mesh, in independent sets.

Every network has the same nodes and edges; conductances and currents differ by column. A node is taken
out by replacing its star of conductances with a mesh between its neighbours. Nodes that share no edge
go together, so that a level costs a few array calls however many columns there are. Nothing is ever
subtracted: groups that hang on a picoampere of leakage lose no digits.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, count

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.int64]

LEVEL_DEGREE = 5
"""Nodes of up to this many neighbours may go in one level: some fill for far fewer levels."""


@dataclass(frozen=True, slots=True)
class Gather:
    """Sums of rows by target: out[targets[k]] += sum of values[order] from starts[k] on."""

    order: Index
    starts: Index
    targets: Index

    @classmethod
    def by(cls, targets: Sequence[int] | Index) -> Gather:
        """Group rows by their target, in order of target."""
        wanted = np.asarray(targets, dtype=np.int64)
        order = np.argsort(wanted, kind="stable")
        grouped = wanted[order]
        starts = np.flatnonzero(np.diff(grouped, prepend=grouped[:1] - 1))
        return cls(order, starts, grouped[starts])

    def sums(self, values: Array) -> Array:
        """One sum for each target."""
        # `take` gathers rows four times as fast as an index in brackets.
        rows = values.take(self.order, axis=0)
        if len(self.targets) == len(self.order):
            return rows
        return np.asarray(np.add.reduceat(rows, self.starts, axis=0))

    def add_into(self, out: Array, values: Array) -> None:
        """Add each target's sum to its row."""
        if len(self.targets):
            out[self.targets] = out.take(self.targets, axis=0) + self.sums(values)


@dataclass(frozen=True, slots=True)
class Level:
    """One independent set of nodes to take out, with what that touches."""

    pivots: Index
    spokes: Index
    spoke_pivot: Index
    spoke_from: Index
    spoke_node: Index
    by_pivot: Gather
    by_node: Gather
    pair_left: Index
    pair_right: Index
    pair_into: Gather


@dataclass(frozen=True, slots=True)
class Elimination:
    """The order of elimination of one network shape; node `node_count` is the reference at 0 V."""

    node_count: int
    edge_count: int
    slot_count: int
    slot_of_edge: Gather
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True)
class Factor:
    """A network with its conductances taken out, ready for any currents."""

    plan: Elimination
    shares: tuple[Array, ...]
    star_ohm: tuple[Array, ...]


def planned(node_count: int, edge_from: Sequence[int], edge_to: Sequence[int]) -> Elimination:
    """Choose the order of elimination for a network shape.

    Parameters
    ----------
    node_count : int
        Nodes to solve for; the reference node has this number.
    edge_from, edge_to : sequence of int
        Nodes that each edge joins, 0 to node_count; the two differ.
    Returns
    -------
    Elimination
        Levels of independent nodes of least degree.
    Notes
    -----
    Greedy minimum degree with ties by node number: the same shape gives the same order.
    Source
    ------
    Star-mesh transform (Rosen 1924); nested independent sets as in parallel sparse elimination.
    """
    fresh = count()
    around: list[dict[int, int]] = [{} for _ in range(node_count + 1)]
    slot_of_edge = [_slot(fresh, around, a, b) for a, b in zip(edge_from, edge_to, strict=True)]
    levels = []
    left = list(range(node_count))
    while left:
        chosen = _independent(left, around, node_count)
        levels.append(_level(chosen, fresh, around))
        gone = set(chosen)
        left = [node for node in left if node not in gone]
    return Elimination(node_count, len(slot_of_edge), next(fresh), Gather.by(slot_of_edge), tuple(levels))


def _slot(fresh: Iterator[int], around: list[dict[int, int]], a: int, b: int) -> int:
    """The slot of two nodes' conductance, a fresh one where they were not joined."""
    near = around[a]
    slot = near.get(b)
    if slot is None:
        near[b] = around[b][a] = slot = next(fresh)
    return slot


def _independent(left: list[int], around: list[dict[int, int]], reference: int) -> list[int]:
    degrees = [len(around[node]) for node in left]
    least = min(degrees)
    touched: set[int] = set()
    chosen = []
    ranks: list[list[int]] = [[] for _ in range(max(least + 1, LEVEL_DEGREE) - least + 1)]
    for degree, node in zip(degrees, left, strict=True):
        if degree - least < len(ranks):
            ranks[degree - least].append(node)
    for node in chain.from_iterable(ranks):
        if node not in touched:
            chosen.append(node)
            touched.update(around[node])
            touched.discard(reference)
    return chosen


def _level(chosen: list[int], fresh: Iterator[int], around: list[dict[int, int]]) -> Level:
    spokes: list[int] = []
    nodes: list[int] = []
    counts: list[int] = []
    left: list[int] = []
    right: list[int] = []
    into: list[int] = []
    for pivot in chosen:
        star, first = around[pivot], len(spokes)
        counts.append(len(star))
        spokes += star.values()
        nodes += star
        for other in star:
            del around[other][pivot]
        for j in range(first + 1, len(spokes)):
            other, near = nodes[j], around[nodes[j]]
            left += [spokes[j]] * (j - first)
            right += range(first, j)
            for third in nodes[first:j]:
                joint = near.get(third)
                if joint is None:
                    near[third] = around[third][other] = joint = next(fresh)
                into.append(joint)
        star.clear()
    pivots, size = np.array(chosen, np.int64), np.array(counts, np.int64)
    at = np.repeat(np.arange(len(chosen)), size)
    starts = np.cumsum(size) - size
    by_pivot = Gather(np.arange(len(at)), starts, np.arange(len(chosen)))
    return Level(
        pivots, np.array(spokes, np.int64), at, pivots[at], np.array(nodes, np.int64), by_pivot, Gather.by(nodes),
        np.array(left, np.int64), np.array(right, np.int64), Gather.by(into),
    )


def factored(plan: Elimination, conductance_siemens: Array) -> Factor:
    """Take out every node for the given conductances.

    Parameters
    ----------
    plan : Elimination
        The order.
    conductance_siemens : array
        Conductance of each edge in each column [S], shape (edges, columns), above zero.
    Returns
    -------
    Factor
        For `node_voltages`.
    Source
    ------
    Star-mesh transform (Rosen 1924).
    """
    value = np.zeros((plan.slot_count, conductance_siemens.shape[1]))
    plan.slot_of_edge.add_into(value, conductance_siemens)
    shares, star_ohm = [], []
    for level in plan.levels:
        spoke = value.take(level.spokes, axis=0)
        ohm = 1.0 / level.by_pivot.sums(spoke)
        share = spoke * ohm.take(level.spoke_pivot, axis=0)
        joint = value.take(level.pair_left, axis=0)
        joint *= share.take(level.pair_right, axis=0)
        level.pair_into.add_into(value, joint)
        shares.append(share)
        star_ohm.append(ohm)
    return Factor(plan, tuple(shares), tuple(star_ohm))


def node_voltages(factor: Factor, current_a: Array) -> Array:
    """Node voltages for currents fed into the nodes.

    Parameters
    ----------
    factor : Factor
        The network.
    current_a : array
        Current fed into each node [A], shape (nodes + 1, columns); the last row is not read.
    Returns
    -------
    array
        Voltages [V], shape (nodes + 1, columns); the last row, the reference, is zero.
    Source
    ------
    Back substitution in the reverse order of elimination.
    """
    fed = current_a.copy()
    out = np.zeros_like(fed)
    for level, share in zip(factor.plan.levels, factor.shares, strict=True):
        level.by_node.add_into(fed, share * fed.take(level.spoke_from, axis=0))
    for level, share, ohm in zip(
        reversed(factor.plan.levels), reversed(factor.shares), reversed(factor.star_ohm), strict=True
    ):
        at_pivot = fed.take(level.pivots, axis=0)
        at_pivot *= ohm
        out[level.pivots] = at_pivot + level.by_pivot.sums(share * out.take(level.spoke_node, axis=0))
    return out
