"""A network made ready to solve: loose ends off, series elements joined to chains, order chosen."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Element, Network
from rushlight.electric.elimination import Elimination, Gather, planned
from rushlight.electric.led import DiodeLaw
from rushlight.electric.network_check import joined
from rushlight.errors import OutOfRange

Index = NDArray[np.int64]
Array = NDArray[np.float64]

CHAINABLE = frozenset(("resistor", "wire", "string"))


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


@dataclass(frozen=True, slots=True)
class Parts:
    """Every junction of the chains: its chain's row, its string's row, its law, and its place.

    leads: true for the first diode of each string; per_chain: junctions in each chain.
    """

    row: Index
    string_row: Index
    slope_v: Array
    log_sat: Array
    leads: NDArray[np.bool_]
    per_chain: Array
    by_row: Gather


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
    index = {node: at for at, node in enumerate(network.nodes)}
    a = np.array([index[e.node_a] for e in network.elements], np.int64)
    b = np.array([index[e.node_b] for e in network.elements], np.int64)
    kinds = network.kinds
    alive, grounds = _reached(len(network.nodes), a, b, kinds == "source")
    loose, graph = _stripped(len(network.nodes), a, b, set(grounds.tolist()))
    used = alive[a]
    used[[at for at, _, _ in loose]] = False
    chains = _chained(kinds, used, graph, grounds)
    return _assembled(network, (a, b), kinds, used=used, alive=alive, grounds=grounds, loose=loose, chains=chains)


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
    return replace(shape, network=network, own_ohm=_own_ohm(network))


def _own_ohm(network: Network) -> Array:
    return np.array([element.ohm + _series_ohm(laws) if (laws := element.laws) else element.ohm
                     for element in network.elements])


def _series_ohm(laws: tuple[DiodeLaw, ...]) -> float:
    return laws[0].series_ohm if len(laws) == 1 else math.fsum(law.series_ohm for law in laws)


def _reached(count: int, a: Index, b: Index, is_source: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], Index]:
    label = joined(count, a, b)
    piece, first = np.unique(label[b[is_source]], return_index=True)
    return np.isin(label, piece), b[is_source][first]


def _stripped(count: int, a: Index, b: Index, keep: set[int]) -> tuple[tuple[tuple[int, int, int], ...], _Graph]:
    """Elements that hang on a node nothing else touches, outermost first: (element, leaf, inner node)."""
    ends = np.concatenate([a, b])
    which = np.concatenate([np.arange(len(a)), np.arange(len(b))])
    together = np.zeros(count, np.int64)
    np.bitwise_xor.at(together, ends, which)
    graph = _Graph(a.tolist(), b.tolist(), np.bincount(ends, minlength=count).tolist(), together.tolist())
    degree, pair = graph.degree, graph.pair
    waiting = [node for node in range(count) if degree[node] == 1 and node not in keep]
    loose = []
    while waiting:
        leaf = waiting.pop()
        if degree[leaf] != 1:
            continue
        at = pair[leaf]
        inner = graph.a[at] + graph.b[at] - leaf
        degree[leaf], pair[leaf] = 0, 0
        degree[inner] -= 1
        pair[inner] ^= at
        loose.append((at, leaf, inner))
        if degree[inner] == 1 and inner not in keep:
            waiting.append(inner)
    return tuple(loose), graph


@dataclass(frozen=True, slots=True)
class _Graph:
    """Ends of each element; for each node how many elements touch it, and their numbers by exclusive or.

    A node of two elements thus gives the one when the other is known, with no list for each node.
    """

    a: list[int]
    b: list[int]
    degree: list[int]
    pair: list[int]


def _chained(kinds: NDArray[np.str_], used: NDArray[np.bool_], graph: _Graph, grounds: Index) -> Chains:
    """Chains of the used elements; `used` is false for the loose ones, and `graph` no longer counts them."""
    can, way = np.isin(kinds, tuple(CHAINABLE)), kinds == "string"
    through = _passed(can & used, way & used, graph, grounds)
    turns, a, b = way.tolist(), graph.a, graph.b
    seen = (~(used & can)).tolist()
    walks = _Walks(seen, [], [], [], [])
    # Chains with an end first; what is left runs in a ring, or behind strings that stand against each other.
    for any_start in (False, True):
        for start, gone in enumerate(seen):
            if not gone and (any_start or not (through[a[start]] and through[b[start]])):
                _follow(start, graph, turns, through, walks)
    return _packed(walks)


def _passed(can: NDArray[np.bool_], way: NDArray[np.bool_], graph: _Graph, grounds: Index) -> list[bool]:
    """For each node: does a chain go on through it? Not where two strings stand head to head."""
    a, b, degree = np.array(graph.a, np.int64), np.array(graph.b, np.int64), np.array(graph.degree, np.int64)

    def touching(*ends: Index) -> Index:
        return np.bincount(np.concatenate(ends), minlength=len(degree))

    through = (degree == 2) & (touching(a[can], b[can]) == 2) & (touching(a[way]) < 2) & (touching(b[way]) < 2)
    through[grounds] = False
    passes: list[bool] = through.tolist()
    return passes


@dataclass(frozen=True, slots=True)
class _Walks:
    """All chains one after the other: elements, their signs, the nodes passed (one more), elements of each.

    `seen`: for each element whether a chain holds it, or none can.
    """

    seen: list[bool]
    members: list[int]
    signs: list[int]
    nodes: list[int]
    sizes: list[int]


def _follow(start: int, graph: _Graph, way: list[bool], through: list[bool], walks: _Walks) -> None:
    """Add the chain from one end of an element on."""
    a, b, pair, seen = graph.a, graph.b, graph.pair, walks.seen
    members, signs, nodes = walks.members, walks.signs, walks.nodes
    first, first_node = len(members), len(nodes)
    at, node, direction = start, b[start] if through[a[start]] else a[start], 0
    nodes.append(node)
    while not seen[at]:
        sign = 1 if a[at] == node else -1
        if way[at]:
            if direction == -sign:
                break
            direction = sign
        seen[at] = True
        node = a[at] + b[at] - node
        members.append(at)
        signs.append(sign)
        nodes.append(node)
        if not through[node]:
            break
        at ^= pair[node]
    walks.sizes.append(len(members) - first)
    if direction < 0:
        members[first:] = members[first:][::-1]
        signs[first:] = [-sign for sign in signs[first:][::-1]]
        nodes[first_node:] = nodes[first_node:][::-1]


def _packed(walks: _Walks) -> Chains:
    sizes = np.array(walks.sizes, np.int64)
    starts, number = np.cumsum(sizes) - sizes, np.arange(len(sizes), dtype=np.int64)
    along, first = np.array(walks.nodes, np.int64), starts + number
    return Chains(
        np.array(walks.members, np.int64), np.array(walks.signs, np.float64), np.repeat(number, sizes), starts,
        along[first], along[first + sizes], _places(along, first, sizes),
    )


def _places(along: Index, first: Index, sizes: Index) -> tuple[tuple[Index, Index, Index], ...]:
    """Inner nodes by their place; a chain's nodes stand together in `along`, one more than its members."""
    out = []
    for place in range(int(sizes.max(initial=1)) - 1):
        chains = np.flatnonzero(sizes > place + 1)
        out.append((chains, first[chains] - chains + place, along[first[chains] + 1 + place]))
    return tuple(out)


def _parts(elements: tuple[Element, ...], chains: Chains, junction: Index, row_of_kind: Index) -> Parts:
    place = np.full(len(chains.node_from), -1, np.int64)
    place[junction] = np.arange(len(junction))
    chain = place[chains.chain_of]
    members, chain = chains.members[chain >= 0], chain[chain >= 0]
    stacks = [elements[at].laws for at in members.tolist()]
    heights = np.array([len(stack) for stack in stacks], np.int64)
    kinds: dict[int, DiodeLaw] = {id(law): law for stack in stacks for law in stack}
    number = {key: at for at, key in enumerate(kinds)}
    of_kind = np.array([number[id(law)] for stack in stacks for law in stack], np.int64)
    slope = np.array([law.slope_v for law in kinds.values()])[of_kind].reshape(-1, 1)
    log_sat = np.log(np.array([law.saturation_a for law in kinds.values()]))[of_kind].reshape(-1, 1)
    row = np.repeat(chain, heights)
    count = np.maximum(np.bincount(row, minlength=len(junction)), 1).reshape(-1, 1).astype(np.float64)
    lead = np.zeros((len(row), 1), bool)
    lead[(np.cumsum(heights) - heights)[heights > 0]] = True
    return Parts(row, np.repeat(row_of_kind[members], heights), slope, log_sat, lead, count, Gather.by(row))


def _regulators(elements: tuple[Element, ...], chains: Chains, junction: Index, row_of_kind: Index) -> Regulators:
    """Those in chains whose ends lie apart."""
    having = np.array([element.regulator is not None for element in elements], bool)
    place = np.full(len(chains.node_from), -1, np.int64)
    place[junction] = np.arange(len(junction))
    found = np.flatnonzero(having[chains.members] & (place[chains.chain_of] >= 0))
    held = [
        (place[chains.chain_of[k]], row_of_kind[chains.members[k]], law)
        for k in found.tolist() if (law := elements[chains.members[k]].regulator) is not None
    ]
    laws = np.array([(law.plateau_a, law.knee_v, law.slope_siemens) for _, _, law in held]).reshape(-1, 3, 1)
    return Regulators(
        np.array([row for row, _, _ in held], np.int64), np.array([row for _, row, _ in held], np.int64),
        laws[:, 0], laws[:, 1], laws[:, 2],
    )


def _assembled(
    network: Network, ends: tuple[Index, Index], kinds: NDArray[np.str_], *, used: NDArray[np.bool_],
    alive: NDArray[np.bool_], grounds: Index, loose: tuple[tuple[int, int, int], ...], chains: Chains,
) -> Shape:
    a, b = ends
    open_ended = chains.node_from != chains.node_to
    has_junction = np.zeros(len(chains.node_from), bool)
    has_junction[chains.chain_of[kinds[chains.members] == "string"]] = True
    plain, junction = np.flatnonzero(~has_junction & open_ended), np.flatnonzero(has_junction & open_ended)
    switches, sources = np.flatnonzero(used & (kinds == "switch")), np.flatnonzero(used & (kinds == "source"))
    edge_a = np.concatenate([chains.node_from[plain], a[switches], a[sources], chains.node_from[junction]])
    edge_b = np.concatenate([chains.node_to[plain], b[switches], b[sources], chains.node_to[junction]])
    solved = np.setdiff1d(np.unique(np.concatenate([edge_a, edge_b])), grounds)
    place = np.full(len(network.nodes), len(solved), np.int64)
    place[solved] = np.arange(len(solved))
    start, stop = place[edge_a], place[edge_b]
    order = planned(len(solved), start.tolist(), stop.tolist())
    row_of_kind = _rows_of_kind(kinds)
    return Shape(
        network, a, b, row_of_kind, alive, grounds, loose, _own_ohm(network), np.flatnonzero(kinds == "string"), chains,
        _parts(network.elements, chains, junction, row_of_kind), plain, junction, switches, sources,
        solved, start, stop, Gather.by(np.concatenate([start, stop])), order,
        _regulators(network.elements, chains, junction, row_of_kind),
    )


def _rows_of_kind(kinds: NDArray[np.str_]) -> Index:
    """For each element its row among the elements of its kind."""
    row = np.zeros(len(kinds), np.int64)
    for kind in np.unique(kinds):
        at = np.flatnonzero(kinds == kind)
        row[at] = np.arange(len(at))
    return row
