"""A network made ready to solve: loose ends off, series elements joined to chains, order chosen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import chain
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import KINDS, Network
from rushlight.electric.elimination import Elimination, Gather, planned
from rushlight.electric.network_check import joined
from rushlight.errors import OutOfRange

Index = NDArray[np.int64]
Array = NDArray[np.float64]

CHAINABLE = ("resistor", "wire", "string")


@dataclass(frozen=True, slots=True)
class Chains:
    """Elements joined in series through nodes that nothing else touches.

    members, signs: elements in order from the chain's first node, sign -1 where the element lies the
    other way; chain_of, starts: which chain each member belongs to, where each chain begins;
    inner_nodes: for each place along the chains: chains that reach so far, the member passed, the node.
    """

    members: Index
    signs: Array
    chain_of: Index
    starts: Index
    node_from: Index
    node_to: Index
    inner_nodes: tuple[tuple[Index, Index, Index], ...]
    by_chain: Gather


@dataclass(frozen=True, slots=True)
class Parts:
    """Every junction of the chains: its chain's row, its string's row, its law, and its place.

    leads: true for the first diode of each string; per_chain: junctions in each chain; share: for each member of the
    chains its share of its chain's junctions; shared: the members that are strings in a chain of several.
    """

    row: Index
    string_row: Index
    slope_v: Array
    log_sat: Array
    leads: NDArray[np.bool_]
    per_chain: Array
    by_row: Gather
    share: Array
    shared: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Regulators:
    """Every constant-current regulator of the chains: its chain's row, its string's row, its law."""

    row: Index
    string_row: Index
    plateau_a: Array
    knee_v: Array
    slope_siemens: Array


@dataclass(frozen=True, slots=True)
class Shape:
    """Everything about a network that does not change from column to column.

    Edges are the chains without a junction, then switches, then sources, then chains with junctions.
    solved: the nodes that are solved for, in order; edge ends count among these, the reference last.
    """

    network: Network
    end_a: Index
    end_b: Index
    row_of_kind: Index
    alive: NDArray[np.bool_]
    grounds: Index
    loose: tuple[tuple[int, int, int], ...]
    own_ohm: Array
    strings: Index
    chains: Chains
    parts: Parts
    plain: Index
    junction_chains: Index
    switches: Index
    sources: Index
    solved: Index
    edge_from: Index
    edge_to: Index
    into_nodes: Gather
    order: Elimination
    regulators: Regulators


def shape_of(network: Network) -> Shape:
    """Work out a network's shape.

    Parameters
    ----------
    network : Network
        Any network.
    Returns
    -------
    Shape
        For `operating_point`; may be kept and used again for other columns.
    Notes
    -----
    Each connected piece with a source takes the minus node of its first source as its 0 V.
    Source
    ------
    Series combination and star-mesh elimination; any text on circuit theory.
    """
    alive, grounds = _reached(network)
    loose, graph = _stripped(network, set(grounds.tolist()))
    used = alive[network.end_a]
    used[[at for at, _, _ in loose]] = False
    chains = _chained(network, used, graph, _passed(network, used, graph, grounds))
    return _assembled(network, used=used, alive=alive, grounds=grounds, loose=loose, chains=chains)


def refitted(shape: Shape, network: Network) -> Shape:
    """The shape of a network that differs from the one at hand in its resistances and voltages alone.

    Parameters
    ----------
    shape : Shape
        What `shape_of` gave for the other.
    network : Network
        The same elements between the same nodes.
    Returns
    -------
    Shape
        As `shape_of(network)` would give.
    Raises
    ------
    OutOfRange
        If a node, an element, its kind or a law differs.
    """
    old = shape.network
    if old.nodes != network.nodes or len(old.elements) != len(network.elements) or not all(
        (a.kind, a.node_a, a.node_b, a.laws, a.regulator) == (b.kind, b.node_a, b.node_b, b.laws, b.regulator)
        for a, b in zip(old.elements, network.elements, strict=True)
    ):
        raise OutOfRange("network", "other elements", "the elements of the shape, with other values")
    return replace(shape, network=network, own_ohm=_own_ohm(network, _stacked(network)))


def _own_ohm(network: Network, stacks: _Stacks) -> Array:
    ohm = np.fromiter(map(attrgetter("ohm"), network.elements), np.float64)
    strings = network.rows("string")
    ohm[strings] += np.bincount(stacks.string_row, stacks.series_ohm, len(strings))
    return ohm


def _reached(network: Network) -> tuple[NDArray[np.bool_], Index]:
    label = joined(len(network.nodes), network.end_a, network.end_b)
    minus = network.end_b[network.rows("source")]
    piece, first = np.unique(label[minus], return_index=True)
    return np.isin(label, piece), minus[first]


@dataclass(frozen=True, slots=True)
class _Graph:
    """For each node how many elements touch it, and the sum of their rows.

    A node of two elements thus gives the one when the other is known, with no list for each node.
    """

    degree: Index
    sum_of_rows: Index


def _stripped(network: Network, keep: set[int]) -> tuple[tuple[tuple[int, int, int], ...], _Graph]:
    """Elements that hang on a node nothing else touches, outermost first: (element, leaf, inner node)."""
    a, b, count = network.end_a, network.end_b, len(network.nodes)
    ends, rows = np.concatenate([a, b]), np.tile(np.arange(len(a)), 2)
    graph = _Graph(np.bincount(ends, minlength=count), np.bincount(ends, rows, count).astype(np.int64))
    waiting = [node for node in np.flatnonzero(graph.degree == 1).tolist() if node not in keep]
    if not waiting:
        return (), graph
    degree, sums, both = graph.degree.tolist(), graph.sum_of_rows.tolist(), (a + b).tolist()
    loose = []
    while waiting:
        leaf = waiting.pop()
        if degree[leaf] != 1:
            continue
        at = sums[leaf]
        inner = both[at] - leaf
        degree[leaf], sums[leaf] = 0, 0
        degree[inner] -= 1
        sums[inner] -= at
        loose.append((at, leaf, inner))
        if degree[inner] == 1 and inner not in keep:
            waiting.append(inner)
    return tuple(loose), _Graph(np.array(degree, np.int64), np.array(sums, np.int64))


def _passed(network: Network, used: NDArray[np.bool_], graph: _Graph, grounds: Index) -> NDArray[np.bool_]:
    """For each node: does a chain go on through it? Not where two strings stand head to head."""
    def touching(*ends: Index) -> Index:
        return np.bincount(np.concatenate(ends), minlength=len(network.nodes))

    a, b, can, way = network.end_a, network.end_b, _chainable(network, used), network.rows("string")
    way = way[used[way]]
    through: NDArray[np.bool_] = (graph.degree == 2) & (touching(a[can], b[can]) == 2)
    through &= (touching(a[way]) < 2) & (touching(b[way]) < 2)
    through[grounds] = False
    return through


def _chainable(network: Network, used: NDArray[np.bool_]) -> Index:
    rows = np.concatenate([network.rows(kind) for kind in CHAINABLE])
    return np.sort(rows[used[rows]])


@dataclass(frozen=True, slots=True)
class _Passages:
    """Every chainable element twice, first all from node_a to node_b, then all the other way.

    last: where the chain that way on ends, and how many passages lie before that.
    """

    element: Index
    leaves: Index
    enters: Index
    last: Index
    to_last: Index


def _passages(network: Network, rows: Index, graph: _Graph, through: NDArray[np.bool_]) -> _Passages:
    a, b, element = network.end_a[rows], network.end_b[rows], np.tile(rows, 2)
    leaves, enters = np.concatenate([a, b]), np.concatenate([b, a])
    place = np.zeros(len(network.elements), np.int64)
    place[rows] = np.arange(len(rows))
    last, goes_on = np.arange(len(element)), np.flatnonzero(through[enters])
    node = enters[goes_on]
    following = place[graph.sum_of_rows[node] - element[goes_on]]
    last[goes_on] = following + np.where(a[following] == node, 0, len(rows))
    to_last = np.zeros_like(last)
    to_last[goes_on] = 1
    # Each turn doubles how far every passage looks ahead.
    for _ in range(len(last).bit_length()):
        further = last[last]
        if np.array_equal(further, last):
            break
        to_last += to_last[last]
        last = further
    return _Passages(element, leaves, enters, last, to_last)


def _chained(network: Network, used: NDArray[np.bool_], graph: _Graph, through: NDArray[np.bool_]) -> Chains:
    """Chains of the used elements, each the way that its strings stand; `used` is false for the loose ones."""
    rows = _chainable(network, used)
    ways = _passages(network, rows, graph, through)
    is_string = np.zeros(len(network.elements), bool)
    is_string[network.rows("string")] = True
    onward, backward = ways.last, np.roll(ways.last, len(rows))
    passed = np.bincount(onward[: len(rows)], is_string[rows], len(onward))
    with_it, against = passed[onward], passed[backward]
    opposed = ways.element[is_string[ways.element] & (with_it > 0) & (against > 0)]
    if len(opposed):
        # Strings that stand against each other with something between: each becomes a chain of its own.
        apart = through.copy()
        apart[network.end_a[opposed]] = apart[network.end_b[opposed]] = False
        return _chained(network, used, graph, apart)
    return _packed(ways, (with_it > against) | ((with_it == against) & (onward < backward)))


def _packed(ways: _Passages, taken: NDArray[np.bool_]) -> Chains:
    """The chains of the passages taken, one after the other."""
    last, to_last = ways.last[taken], ways.to_last[taken]
    sizes = np.bincount(last, minlength=len(taken))
    starts = np.cumsum(sizes) - sizes
    order = np.empty_like(last)
    order[starts[last] + sizes[last] - 1 - to_last] = np.flatnonzero(taken)
    starts, sizes = starts[sizes > 0], sizes[sizes > 0]
    ahead = 2 * order < len(taken)
    return Chains(
        ways.element[order], np.where(ahead, 1.0, -1.0), np.repeat(np.arange(len(sizes)), sizes), starts,
        ways.leaves[order[starts]], ways.enters[order[starts + sizes - 1]],
        _places(ways.enters[order], starts, sizes), Gather.by(np.repeat(np.arange(len(sizes)), sizes)),
    )


def _places(entered: Index, starts: Index, sizes: Index) -> tuple[tuple[Index, Index, Index], ...]:
    """Inner nodes by their place along the chains."""
    out = []
    for place in range(int(sizes.max(initial=1)) - 1):
        chains = np.flatnonzero(sizes > place + 1)
        out.append((chains, starts[chains] + place, entered[starts[chains] + place]))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class _Stacks:
    """The junctions of all strings, one string after the other."""

    string_row: Index
    slope_v: Array
    saturation_a: Array
    series_ohm: Array
    leads: NDArray[np.bool_]


def _stacked(network: Network) -> _Stacks:
    elements = network.elements
    stacks = [elements[at].laws for at in network.rows("string").tolist()]
    laws = list(chain.from_iterable(stacks))
    # Most LEDs of a loom share a few laws: their numbers are read once for each.
    _, first, which = np.unique(np.fromiter(map(id, laws), np.int64), return_index=True, return_inverse=True)
    facts = np.array([(law.slope_v, law.saturation_a, law.series_ohm) for law in (laws[at] for at in first.tolist())])
    string_row = np.repeat(np.arange(len(stacks)), np.fromiter(map(len, stacks), np.int64))
    slope_v, saturation_a, series_ohm = facts.reshape(-1, 3)[which].T
    return _Stacks(string_row, slope_v, saturation_a, series_ohm, np.diff(string_row, prepend=-1) > 0)


def _parts(network: Network, stacks: _Stacks, chain_of_string: Index, chains: Chains) -> Parts:
    """Those in chains whose ends lie apart."""
    kept = chain_of_string[stacks.string_row] >= 0
    string_row = stacks.string_row[kept]
    row = chain_of_string[string_row]
    count = np.maximum(np.bincount(row, minlength=int(chain_of_string.max(initial=-1)) + 1), 1.0)
    return Parts(
        row, string_row, stacks.slope_v[kept, None], np.log(stacks.saturation_a[kept, None]),
        stacks.leads[kept, None], count[:, None], Gather.by(row), *_shares(network, string_row, chains),
    )


def _shares(network: Network, string_row: Index, chains: Chains) -> tuple[Array, tuple[int, ...]]:
    """`share` and `shared` of `Parts`."""
    strings, count = network.rows("string"), np.zeros((2, len(network.elements)))
    count[0, strings], count[1, strings] = np.bincount(string_row, minlength=len(strings)), 1
    junctions, is_string = count[:, chains.members]
    of_chain, held = (np.bincount(chains.chain_of, part, len(chains.starts)) for part in (junctions, is_string))
    share = junctions / np.maximum(of_chain, 1.0)[chains.chain_of]
    return share[:, None], tuple(np.flatnonzero(is_string * held[chains.chain_of] > 1).tolist())


def _regulators(network: Network, chain_of_string: Index) -> Regulators:
    """Those in chains whose ends lie apart."""
    elements, strings = network.elements, network.rows("string").tolist()
    held = [(row, law) for row, at in enumerate(strings)
            if (law := elements[at].regulator) is not None and chain_of_string[row] >= 0]
    rows = np.array([row for row, _ in held], np.int64)
    laws = np.array([(law.plateau_a, law.knee_v, law.slope_siemens) for _, law in held]).reshape(-1, 3, 1)
    return Regulators(chain_of_string[rows], rows, laws[:, 0], laws[:, 1], laws[:, 2])


def _assembled(
    network: Network, *, used: NDArray[np.bool_], alive: NDArray[np.bool_], grounds: Index,
    loose: tuple[tuple[int, int, int], ...], chains: Chains,
) -> Shape:
    strings = network.rows("string")
    chain_of_element = np.full(len(network.elements), -1, np.int64)
    chain_of_element[chains.members] = chains.chain_of
    open_ended = chains.node_from != chains.node_to
    has_junction = np.zeros(len(chains.starts) + 1, bool)
    has_junction[chain_of_element[strings]] = True
    has_junction = has_junction[:-1]
    plain, junction = np.flatnonzero(~has_junction & open_ended), np.flatnonzero(has_junction & open_ended)
    place = np.full(len(chains.starts) + 1, -1, np.int64)
    place[junction] = np.arange(len(junction))
    chain_of_string = place[chain_of_element[strings]]
    switches, sources = (rows[used[rows]] for rows in (network.rows("switch"), network.rows("source")))
    a, b = network.end_a, network.end_b
    edge_a = np.concatenate([chains.node_from[plain], a[switches], a[sources], chains.node_from[junction]])
    edge_b = np.concatenate([chains.node_to[plain], b[switches], b[sources], chains.node_to[junction]])
    touched = np.bincount(np.concatenate([edge_a, edge_b]), minlength=len(network.nodes)) > 0
    touched[grounds] = False
    solved = np.flatnonzero(touched)
    number = np.full(len(network.nodes), len(solved), np.int64)
    number[solved] = np.arange(len(solved))
    start, stop = number[edge_a], number[edge_b]
    stacks = _stacked(network)
    return Shape(
        network, a, b, _rows_of_kind(network), alive, grounds, loose, _own_ohm(network, stacks), strings, chains,
        _parts(network, stacks, chain_of_string, chains), plain, junction, switches, sources,
        solved, start, stop, Gather.by(np.concatenate([start, stop])), planned(len(solved), start, stop),
        _regulators(network, chain_of_string),
    )


def _rows_of_kind(network: Network) -> Index:
    """For each element its row among the elements of its kind."""
    row = np.zeros(len(network.elements), np.int64)
    for kind in KINDS:
        row[network.rows(kind)] = np.arange(len(network.rows(kind)))
    return row
