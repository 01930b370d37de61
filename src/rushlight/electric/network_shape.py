"""A network made ready to solve: loose ends off, series elements joined to chains, order chosen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Element, Network
from rushlight.electric.elimination import Elimination, Gather, planned
from rushlight.electric.network_check import joined

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
    kinds = np.array([e.kind for e in network.elements], dtype="U8")
    alive, grounds = _reached(len(network.nodes), a, b, kinds == "source")
    loose, touching = _stripped(len(network.nodes), a, b, set(grounds.tolist()))
    used = alive[a]
    used[[at for at, _, _ in loose]] = False
    chains = _chained(network.elements, (a, b), used, touching, set(grounds.tolist()))
    return _assembled(network, (a, b), kinds, used=used, alive=alive, grounds=grounds, loose=loose, chains=chains)


def _reached(count: int, a: Index, b: Index, is_source: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], Index]:
    label = joined(count, a, b)
    piece, first = np.unique(label[b[is_source]], return_index=True)
    return np.isin(label, piece), b[is_source][first]


def _stripped(
    count: int, a: Index, b: Index, keep: set[int]
) -> tuple[tuple[tuple[int, int, int], ...], list[list[int]]]:
    """Elements that hang on a node nothing else touches, outermost first: (element, leaf, inner node)."""
    touching: list[list[int]] = [[] for _ in range(count)]
    ends = list(zip(a.tolist(), b.tolist(), strict=True))
    for at, (one, two) in enumerate(ends):
        touching[one].append(at)
        touching[two].append(at)
    waiting = [node for node in range(count) if len(touching[node]) == 1 and node not in keep]
    loose = []
    while waiting:
        leaf = waiting.pop()
        if len(touching[leaf]) != 1:
            continue
        at = touching[leaf].pop()
        inner = ends[at][0] + ends[at][1] - leaf
        touching[inner].remove(at)
        loose.append((at, leaf, inner))
        if len(touching[inner]) == 1 and inner not in keep:
            waiting.append(inner)
    return tuple(loose), touching


def _chained(
    elements: tuple[Element, ...], ends: tuple[Index, Index], used: NDArray[np.bool_],
    touching: list[list[int]], grounds: set[int],
) -> Chains:
    a, b = ends[0].tolist(), ends[1].tolist()
    can = [element.kind in CHAINABLE for element in elements]
    way = [element.kind == "string" for element in elements]
    through = [
        len(at) == 2 and can[at[0]] and can[at[1]] and node not in grounds for node, at in enumerate(touching)
    ]
    for node, pair in enumerate(touching):
        if through[node] and way[pair[0]] and way[pair[1]] and (a[pair[0]] == node) == (a[pair[1]] == node):
            through[node] = False
    seen = [not (ok and fit) for ok, fit in zip(used.tolist(), can, strict=True)]
    built = []
    for start in range(len(elements)):
        if not seen[start]:
            built.append(_walked(start, _Graph(a, b, way, touching, through), seen))
    return _packed(built)


Walk = tuple[list[int], list[int], list[int]]


@dataclass(frozen=True, slots=True)
class _Graph:
    """Ends of each element, which ones have a way, what touches each node, which nodes to pass through."""

    a: list[int]
    b: list[int]
    way: list[bool]
    touching: list[list[int]]
    through: list[bool]


def _walked(start: int, graph: _Graph, seen: list[bool]) -> Walk:
    """One chain: its elements, their signs, and its nodes from end to end."""
    a, b, way, touching, through = graph.a, graph.b, graph.way, graph.touching, graph.through
    seen[start] = True
    nodes, members, signs = [a[start], b[start]], [start], [1]
    direction = 1 if way[start] else 0
    for front in (False, True):
        while True:
            node = nodes[0] if front else nodes[-1]
            if not through[node]:
                break
            step = next((at for at in touching[node] if not seen[at]), None)
            if step is None:
                break
            far = a[step] + b[step] - node
            sign = (1 if a[step] == node else -1) * (-1 if front else 1)
            if way[step]:
                if direction not in (0, sign):
                    break
                direction = sign
            seen[step] = True
            if front:
                nodes, members, signs = [far, *nodes], [step, *members], [sign, *signs]
            else:
                nodes, members, signs = [*nodes, far], [*members, step], [*signs, sign]
    if direction < 0:
        return members[::-1], [-sign for sign in signs[::-1]], nodes[::-1]
    return members, signs, nodes


def _packed(walks: list[Walk]) -> Chains:
    sizes = np.array([len(members) for members, _, _ in walks], np.int64)
    return Chains(
        np.array([at for members, _, _ in walks for at in members], np.int64),
        np.array([sign for _, signs, _ in walks for sign in signs], np.float64),
        np.repeat(np.arange(len(walks), dtype=np.int64), sizes),
        np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.int64) if len(walks) else sizes,
        np.array([nodes[0] for _, _, nodes in walks], np.int64),
        np.array([nodes[-1] for _, _, nodes in walks], np.int64),
        _places([nodes[1:-1] for _, _, nodes in walks], sizes),
    )


def _places(inner: list[list[int]], sizes: Index) -> tuple[tuple[Index, Index, Index], ...]:
    starts = np.cumsum(sizes) - sizes
    out = []
    for place in range(max((len(nodes) for nodes in inner), default=0)):
        chains = np.array([at for at, nodes in enumerate(inner) if len(nodes) > place], np.int64)
        out.append((chains, starts[chains] + place, np.array([inner[at][place] for at in chains], np.int64)))
    return tuple(out)


def _parts(elements: tuple[Element, ...], chains: Chains, junction: Index, row_of_kind: Index) -> Parts:
    place = np.full(len(chains.node_from), -1, np.int64)
    place[junction] = np.arange(len(junction))
    rows, string_rows, laws, leads = [], [], [], []
    strings = row_of_kind.tolist()
    for at, chain in zip(chains.members.tolist(), place[chains.chain_of].tolist(), strict=True):
        if chain >= 0:
            for k, law in enumerate(elements[at].laws):
                rows.append(chain)
                string_rows.append(strings[at])
                laws.append(law)
                leads.append(k == 0)
    row = np.array(rows, np.int64)
    count = np.maximum(np.bincount(row, minlength=len(junction)), 1).reshape(-1, 1).astype(np.float64)
    slope = np.array([law.slope_v for law in laws]).reshape(-1, 1)
    log_sat = np.log(np.array([law.saturation_a for law in laws])).reshape(-1, 1)
    lead = np.array(leads, bool).reshape(-1, 1)
    return Parts(row, np.array(string_rows, np.int64), slope, log_sat, lead, count, Gather.by(row))


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
    own_ohm = np.array([e.ohm + sum(law.series_ohm for law in e.laws) for e in network.elements])
    return Shape(
        network, a, b, row_of_kind, alive, grounds, loose, own_ohm, np.flatnonzero(kinds == "string"), chains,
        _parts(network.elements, chains, junction, row_of_kind), plain, junction, switches, sources,
        solved, start, stop, Gather.by(np.concatenate([start, stop])), order,
    )


def _rows_of_kind(kinds: NDArray[np.str_]) -> Index:
    """For each element its row among the elements of its kind."""
    row = np.zeros(len(kinds), np.int64)
    for kind in np.unique(kinds):
        at = np.flatnonzero(kinds == kind)
        row[at] = np.arange(len(at))
    return row
