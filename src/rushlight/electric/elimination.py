"""Solving many conductance networks of one shape at once: star to mesh, in independent sets.

Every network has the same nodes and edges; conductances and currents differ by column. A node is taken
out by replacing its star of conductances with a mesh between its neighbours. Nodes that share no edge
go together, so that a level costs a few array calls however many columns there are. Nothing is ever
subtracted: groups that hang on a picoampere of leakage lose no digits.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.int64]

LEVEL_DEGREE = 5
"""Nodes of up to this many neighbours may go in one level: some fill for far fewer levels."""

LEAST_LAYER = 12
"""Layers of fewer rows are not added one by one: a call costs more than their sum."""

SHUFFLE = 0x9E3779B1
"""Odd factor that mixes 32-bit node numbers: nodes numbered along a line would else go one in each turn."""

TAKEN = np.int64(2**62)


@dataclass(frozen=True, slots=True)
class Gather:
    """Sums of rows by target.

    Rows are taken in layers, since a whole block is added far faster than row by row: the first row of every target,
    then the second of each that has two, and so on, the targets with the most rows first. What thin layers would hold
    stands behind them, target by target.

    order: rows, layer by layer; sizes: rows in each layer; starts: where each target's rows begin behind the layers;
    targets: the target of each sum, those with the most rows first, else counting up.
    """

    order: Index
    sizes: tuple[int, ...]
    starts: Index
    targets: Index

    @classmethod
    def by(cls, targets: Sequence[int] | Index) -> Gather:
        """Group rows by their target."""
        wanted = np.asarray(targets, dtype=np.int64)
        every = np.bincount(wanted, minlength=1)
        present = every.nonzero()[0]
        ranked = present[(-every[present]).argsort(kind="stable")]
        counts = every[ranked]
        # A short number type, since numpy sorts those far faster.
        place = np.empty(len(every), np.min_scalar_type(len(ranked)))
        place[ranked] = np.arange(len(ranked))
        order = place[wanted].argsort(kind="stable")
        starts = counts.cumsum() - counts
        layers = max(int(counts[LEAST_LAYER - 1]) if len(counts) >= LEAST_LAYER else 0, 1)
        *sizes, crowded = (-counts).searchsorted(-np.arange(layers + 1)).tolist()
        behind = counts[:crowded] - layers
        behind_starts = behind.cumsum() - behind
        rest = np.arange(int(behind.sum())) + (starts[:crowded] + layers - behind_starts).repeat(behind)
        laid = np.concatenate([*(starts[:size] + layer for layer, size in enumerate(sizes)), rest])
        return cls(order[laid], tuple(sizes), behind_starts, ranked)

    def folded(self, rows: Array, add: np.ufunc = np.add) -> Array:
        """One sum for each of `targets`, of rows that stand in `order`; or what another ufunc makes of them."""
        at = self.sizes[0]
        if at == len(rows):
            return rows
        total = rows[:at].copy()
        for size in self.sizes[1:]:
            add(total[:size], rows[at : at + size], out=total[:size])
            at += size
        if len(self.starts):
            first = total[: len(self.starts)]
            add(first, add.reduceat(rows[at:], self.starts, axis=0), out=first)
        return total

    def spread(self, values: Array, count: int, add: np.ufunc = np.add) -> Array:
        """Each target's sum in its row of `count` rows, 0 where a row is no target."""
        # `take` gathers rows four times as fast as an index in brackets.
        total = self.folded(values.take(self.order, axis=0), add)
        if self.sizes[-1] == count and not len(self.starts):
            return total  # As many rows for each: the targets count up.
        out = np.zeros((count, values.shape[1]))
        out[self.targets] = total
        return out

    def add_into(self, out: Array, values: Array) -> None:
        """Add each target's sum to its row."""
        out[self.targets] = out.take(self.targets, axis=0) + self.folded(values.take(self.order, axis=0))


@dataclass(frozen=True, slots=True)
class Level:
    """One independent set of nodes to take out, with what that touches.

    pivots: the nodes, slots: their spokes, both in the order of elimination; spoke_pivot: which pivot each spoke
    leaves; spoke_node: where it leads; pair_left, pair_right: two spokes of one pivot, as `pair_into` folds them.
    """

    pivots: slice
    slots: slice
    spoke_pivot: Index
    spoke_node: Index
    by_pivot: Gather
    by_node: Gather
    pair_left: Index
    pair_right: Index
    pair_into: Gather


@dataclass(frozen=True, slots=True)
class Elimination:
    """The order of elimination of one network shape; node `node_count` is the reference at 0 V.

    nodes: the nodes in the order in which they go, the reference last; turns: the turn of each node.
    """

    node_count: int
    edge_count: int
    slot_count: int
    slot_of_edge: Gather
    nodes: Index
    turns: Index
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True)
class Factor:
    """A network with its conductances taken out, ready for any currents: rows in the order of elimination."""

    plan: Elimination
    share: Array
    star_ohm: Array


@dataclass(frozen=True, slots=True)
class _Links:
    """Pairs of nodes that are joined, sorted: near and far node, and the slot of their conductance."""

    near: Index
    far: Index
    slot: Index


@dataclass(frozen=True, slots=True)
class _Stars:
    """Nodes that go together: their spokes' slots, pivots and far nodes; pairs of spokes and the slots they add to."""

    by_pivot: Gather
    spokes: Index
    pivot: Index
    node: Index
    left: Index
    right: Index
    into: Index


def planned(node_count: int, edge_from: Sequence[int] | Index, edge_to: Sequence[int] | Index) -> Elimination:
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
    Greedy minimum degree with ties by a fixed shuffle of node numbers: the same shape gives the same order.
    Source
    ------
    Star-mesh transform (Rosen 1924); nested independent sets as in parallel sparse elimination; their choice by
    local minima after Luby (1986).
    """
    keys, slot_of_edge = np.unique(_key(np.asarray(edge_from), np.asarray(edge_to), node_count), return_inverse=True)
    links = _Links(*np.divmod(keys, node_count + 1), np.arange(len(keys)))
    slot_count, stars = len(keys), []
    while len(links.slot):
        star, links = _taken_out(links, _independent(links, node_count), node_count, slot_count)
        slot_count = max(slot_count, int(links.slot.max(initial=-1)) + 1)
        stars.append(star)
    nodes = np.concatenate([*(star.by_pivot.targets for star in stars), np.array([node_count])])
    turns, slot_turns = _turns(nodes), _turns(np.concatenate([np.zeros(0, np.int64), *(star.spokes for star in stars)]))
    levels, pivot, slot = [], 0, 0
    for star in stars:
        levels.append(_level(star, turns, slot_turns, first=(pivot, slot)))
        pivot, slot = levels[-1].pivots.stop, levels[-1].slots.stop
    by_slot = Gather.by(slot_turns[slot_of_edge.reshape(-1)])
    return Elimination(node_count, len(slot_of_edge), slot_count, by_slot, nodes, turns, tuple(levels))


def _turns(order: Index) -> Index:
    """Where each number stands in an order of all."""
    turns = np.empty_like(order)
    turns[order] = np.arange(len(order))
    return turns


def _level(star: _Stars, turns: Index, slot_turns: Index, *, first: tuple[int, int]) -> Level:
    into, (pivot, slot) = Gather.by(slot_turns[star.into]), first
    return Level(
        slice(pivot, pivot + len(star.by_pivot.targets)), slice(slot, slot + len(star.spokes)),
        turns[star.pivot] - pivot, turns[star.node], star.by_pivot, Gather.by(turns[star.node]),
        star.left[into.order], star.right[into.order], into,
    )


def _key(one: Index, other: Index, node_count: int) -> Index:
    """One number for two nodes, whichever is first."""
    return np.asarray(np.minimum(one, other) * (node_count + 1) + np.maximum(one, other), np.int64)


def _independent(links: _Links, reference: int) -> NDArray[np.bool_]:
    """For each node whether it goes now: of the least degrees, no two of them joined, and no more could join them."""
    ends, far = np.concatenate([links.near, links.far]), np.concatenate([links.far, links.near])
    degree = np.bincount(ends, minlength=reference + 1)
    degree[reference] = 0
    most = max(int(degree[degree > 0].min()) + 1, LEVEL_DEGREE)
    rank = (degree << 32) + (np.arange(reference + 1) * SHUFFLE & 0xFFFFFFFF)
    rank[(degree == 0) | (degree > most)] = TAKEN
    chosen = np.zeros(reference + 1, bool)
    while True:
        least = np.full(reference + 1, TAKEN)
        np.minimum.at(least, ends, rank[far])
        first = rank < least
        if not first.any():
            return chosen
        chosen |= first
        rank[first] = TAKEN
        rank[far[first[ends]]] = TAKEN


def _taken_out(links: _Links, chosen: NDArray[np.bool_], node_count: int, slot_count: int) -> tuple[_Stars, _Links]:
    """The stars of the chosen nodes, and what is joined once they are meshes."""
    near, far = chosen[links.near], chosen[links.far]
    pivot = np.concatenate([links.near[near], links.far[far]])
    by_pivot = Gather.by(pivot)
    laid = by_pivot.order
    node = np.concatenate([links.far[near], links.near[far]])[laid]
    pivot, spokes = pivot[laid], np.concatenate([links.slot[near], links.slot[far]])[laid]
    left, right = _pairs(pivot)
    stay = ~(near | far)
    old = _key(links.near[stay], links.far[stay], node_count)
    keys = np.concatenate([old, _key(node[left], node[right], node_count)])
    every, first, which = np.unique(keys, return_index=True, return_inverse=True)
    slot = np.empty_like(every)
    known = first < len(old)
    slot[known] = links.slot[stay][first[known]]
    slot[~known] = np.arange(slot_count, slot_count + len(every) - len(old))
    star = _Stars(by_pivot, spokes, pivot, node, left, right, slot[which[len(old):]])
    return star, _Links(*np.divmod(every, node_count + 1), slot)


def _pairs(group: Index) -> tuple[Index, Index]:
    """Every two rows of the same group."""
    order = np.argsort(group, kind="stable")
    grouped = group[order]
    before = np.arange(len(group)) - np.searchsorted(grouped, grouped)
    left = np.repeat(np.arange(len(group)), before)
    within = np.arange(len(left)) - np.repeat(np.cumsum(before) - before, before)
    return order[left], order[left - 1 - within]


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
    value = plan.slot_of_edge.spread(conductance_siemens, plan.slot_count)
    star_ohm = np.empty((plan.node_count, value.shape[1]))
    for level in plan.levels:
        spoke, into = value[level.slots], level.pair_into
        ohm = np.divide(1.0, level.by_pivot.folded(spoke), out=star_ohm[level.pivots])
        share = spoke * ohm.take(level.spoke_pivot, axis=0)
        joint = spoke.take(level.pair_left, axis=0)
        joint *= share.take(level.pair_right, axis=0)
        value[into.targets] = value.take(into.targets, axis=0) + into.folded(joint)
        spoke[:] = share
    return Factor(plan, value, star_ohm)


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
    plan, share = factor.plan, factor.share
    fed = current_a.take(plan.nodes, axis=0)
    for level in plan.levels:
        level.by_node.add_into(fed, share[level.slots] * fed[level.pivots].take(level.spoke_pivot, axis=0))
    fed[:-1] *= factor.star_ohm
    fed[-1] = 0.0
    for level in reversed(plan.levels):
        fed[level.pivots] += level.by_pivot.folded(share[level.slots] * fed.take(level.spoke_node, axis=0))
    return fed.take(plan.turns, axis=0)
