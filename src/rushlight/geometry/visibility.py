"""The reduced visibility graph of one plane: exact shortest ways round its corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from rushlight.geometry.outline import FloatArray, Shape
from rushlight.geometry.sight import BoolArray, IntArray, Walls, see_each_other, sees, walls


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """The corners that a taut line can bend round, with both neighbours on their ring, and their piece."""

    xy_mm: FloatArray
    before_mm: FloatArray
    after_mm: FloatArray
    piece: IntArray


Seen = tuple[IntArray, FloatArray]

FEW_TARGETS = 40
"""Up to so many targets of one point, pairs are tested one by one."""

AT_ONCE = 500
"""Query points that are looked from at once."""

KEPT_POINTS = 5000
"""Query points of one plane whose sights are kept; beyond that they are forgotten and found again."""


KEPT_PAIRS_POINTS = 2000
"""Query points of one plane of whose pairs is kept which see each other (4 MB); asked for more, all is found anew."""


@dataclass(slots=True, eq=False)
class KnownPairs:
    """Which query points are known to see each other (1) and which not (-1): many nets ask of the same places."""

    numbers: dict[tuple[float, float], int] = field(default_factory=dict)
    seen: npt.NDArray[np.int8] = field(default_factory=lambda: np.zeros((0, 0), dtype=np.int8))

    def numbered(self, xy_mm: FloatArray) -> IntArray:
        """The number of each point, with room for all pairs of them."""
        places = map(tuple, xy_mm.tolist())
        found = np.array([self.numbers.setdefault(at, len(self.numbers)) for at in places], dtype=int)
        if (short := len(self.numbers) - len(self.seen)) > 0:
            self.seen = np.pad(self.seen, (0, max(short, len(self.seen))))
        return found


@dataclass(frozen=True, slots=True, eq=False)
class VisibilityGraph:
    """Corners of one plane, the closed matrix of distances between them, and the way back along each.

    `next_corner[i, j]` is the corner after i on the shortest way from i to j (-1: none). `known` keeps what each query
    point was found to see: a lamp is asked about by every net and every route that ends at it.
    """

    shapes: tuple[Shape, ...]
    around: Walls
    corners: Corners
    length_mm: FloatArray
    next_corner: npt.NDArray[np.int32]
    known: dict[tuple[float, float, int], Seen] = field(default_factory=dict, repr=False)
    pairs: KnownPairs = field(default_factory=KnownPairs, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Sights:
    """For each query point, the corners that it sees along a tangent: index and distance, padded with infinity."""

    corner: IntArray
    length_mm: FloatArray


def visibility_graph(shapes: Sequence[Shape]) -> VisibilityGraph:
    """The reduced visibility graph of a region.

    Parameters
    ----------
    shapes : sequence of Shape
        Connected pieces of the region; nothing passes between two of them.
    Returns
    -------
    VisibilityGraph
        Corners that stick into the region, with the closed matrix of distances [mm] (infinite between pieces).
    Notes
    -----
    A shortest path bends at reflex corners only, and touches each along a tangent: both neighbours of the corner
    lie on one side of the line. Other sight lines are dropped before the costly test.
    Source
    ------
    de Berg, Cheong, van Kreveld, Overmars, Computational Geometry (3rd ed. 2008), chapter 15 (lemma 15.1).
    """
    corners = reflex_corners(shapes)
    count = len(corners.xy_mm)
    if not count:
        return VisibilityGraph(tuple(shapes), walls(shapes), corners, *_nothing(0))
    # Tangent at both ends: the corners that each corner sees along a tangent, and is seen from so itself.
    some = range(0, count, AT_ONCE)  # bounds the memory
    touched = np.concatenate([_tangent_from(corners, corners.xy_mm[k : k + AT_ONCE]) for k in some])
    able = np.triu(touched & touched.T & (corners.piece[:, None] == corners.piece[None, :]), 1)
    around = walls(shapes)
    first, second = _seen(around, corners.xy_mm, corners.xy_mm, able)
    length = np.hypot(*(corners.xy_mm[second] - corners.xy_mm[first]).T)
    return _closed(VisibilityGraph(tuple(shapes), around, corners, *_nothing(count)), first, second, length)


def reflex_corners(shapes: Sequence[Shape]) -> Corners:
    """Every corner that sticks into the region."""
    found: list[list[FloatArray]] = []
    owner: list[IntArray] = []
    for index, shape in enumerate(shapes):
        for ring in (shape.exterior_mm, *shape.holes_mm):
            xy = np.asarray(ring, dtype=float)
            before, after = np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0)
            into, out = xy - before, after - xy
            turn = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
            reflex = turn < -1e-12 * np.hypot(*into.T) * np.hypot(*out.T)
            found.append([xy[reflex], before[reflex], after[reflex]])
            owner.append(np.full(int(reflex.sum()), index))
    if not found:
        none = np.zeros((0, 2))
        return Corners(none, none, none, np.zeros(0, dtype=int))
    xy, before, after = (np.concatenate([rings[k] for rings in found]) for k in range(3))
    return Corners(xy, before, after, np.concatenate(owner))


def sights(graph: VisibilityGraph, xy_mm: FloatArray, piece: IntArray) -> Sights:
    """The corners that each query point sees along a tangent.

    Parameters
    ----------
    graph : VisibilityGraph
        The plane's graph.
    xy_mm : array, shape (n, 2)
        Query points inside the region [mm].
    piece : array of int, shape (n,)
        The piece that each lies in.
    Returns
    -------
    Sights
        Shape (n, w), w the largest number of corners that one point sees.
    """
    if not len(graph.corners.xy_mm) or not len(xy_mm):
        return Sights(np.zeros((len(xy_mm), 0), dtype=int), np.zeros((len(xy_mm), 0)))
    keys = [(x, y, p) for (x, y), p in zip(xy_mm.tolist(), piece.tolist(), strict=True)]
    if len(graph.known) + len(keys) > KEPT_POINTS:
        graph.known.clear()
    fresh = [k for k, key in enumerate(keys) if key not in graph.known]
    for k, seen in zip(fresh, _looked(graph, xy_mm[fresh], piece[fresh]), strict=True):
        graph.known[keys[k]] = seen
    return _padded([graph.known[key] for key in keys])


def geodesics(
    graph: VisibilityGraph, a: tuple[FloatArray, IntArray], b: tuple[FloatArray, IntArray]
) -> FloatArray:
    """Shortest distances inside the region between every point of a and every point of b.

    Parameters
    ----------
    graph : VisibilityGraph
        The plane's graph.
    a, b : (points, pieces)
        Query points [mm], shape (n, 2) and (m, 2), with the piece that each lies in. The same object twice is quicker.
    Returns
    -------
    array, shape (n, m)
        Distances [mm]; infinite between pieces.
    """
    if b is a:
        once, where = _without_repeats(*a)
        if len(once[0]) < len(where):
            return geodesics(graph, once, once)[np.ix_(where, where)]
    seen_a = sights(graph, *a)
    seen_b = seen_a if b is a else sights(graph, *b)
    around = _around(graph, seen_a, seen_b)
    straight = np.hypot(a[0][:, None, 0] - b[0][None, :, 0], a[0][:, None, 1] - b[0][None, :, 1])
    worth = (a[1][:, None] == b[1][None, :]) & (straight < around - 1e-9)
    if b is a:
        worth = np.triu(worth)
    who, which = _see_each_other(graph, a[0], b[0], worth)
    around[who, which] = straight[who, which]
    if b is a:
        around[which, who] = straight[who, which]
    return around


def way(
    graph: VisibilityGraph, ends: tuple[FloatArray, FloatArray], piece: int
) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Length and corners of the shortest way between two points of one piece.

    Parameters
    ----------
    graph : VisibilityGraph
        The plane's graph.
    ends : (a, b)
        Two points [mm], each shape (2,).
    piece : int
        The piece that holds both.
    Returns
    -------
    (length_mm, points_mm)
        Length [mm] and every point from a to b.
    """
    start, stop = ends[0].reshape(1, 2), ends[1].reshape(1, 2)
    first, last = _point(ends[0]), _point(ends[1])
    if see_each_other(graph.around, start, stop)[0]:
        return float(np.hypot(*(ends[1] - ends[0]))), (first, last)
    home = np.array([piece])
    near, far = sights(graph, start, home), sights(graph, stop, home)
    i, j, length = _best_pair(graph, near, far)
    middle = [_point(graph.corners.xy_mm[k]) for k in _chain(graph, i, j)]
    return length, (first, *middle, last)


# --- inner functions ----------------------------------------------------------------------------


def _without_repeats(xy: FloatArray, piece: IntArray) -> tuple[tuple[FloatArray, IntArray], IntArray]:
    """Every different point once, and where each is found among them."""
    _, first, where = np.unique(np.column_stack([xy, piece]), axis=0, return_index=True, return_inverse=True)
    return (xy[first], piece[first]), where.reshape(-1)


def _point(xy: FloatArray) -> tuple[float, float]:
    return (float(xy[0]), float(xy[1]))


def _tangent_from(corners: Corners, xy: FloatArray) -> BoolArray:
    """Whether a line from each point touches each corner: both its neighbours on one side, or on the line itself."""
    x = corners.xy_mm[None, :, 0] - xy[:, None, 0]
    y = corners.xy_mm[None, :, 1] - xy[:, None, 1]
    square = 1e-18 * (x * x + y * y)
    before, on_before = _side(x, y, square, corners.before_mm - corners.xy_mm)
    after, on_after = _side(x, y, square, corners.after_mm - corners.xy_mm)
    return np.asarray((before * after >= 0) | on_before | on_after, dtype=bool)


def _side(x: FloatArray, y: FloatArray, square: FloatArray, off: FloatArray) -> tuple[FloatArray, BoolArray]:
    """Which side of each line a corner's neighbour lies on, by sign, and whether it lies on the line."""
    cross = x * off[None, :, 1] - y * off[None, :, 0]
    return cross, cross * cross <= square * np.sum(off * off, axis=1)[None, :]


def _seen(around: Walls, a: FloatArray, b: FloatArray, able: BoolArray) -> tuple[IntArray, IntArray]:
    """Row and column of every able pair that sees each other, rows in order.

    Rows with few targets are asked pair by pair, rows with many from their point, whichever is quicker.
    """
    open_ = able.copy()
    asked = able.sum(axis=1)
    few, many = np.flatnonzero((asked > 0) & (asked <= FEW_TARGETS)), np.flatnonzero(asked > FEW_TARGETS)
    row, column = np.nonzero(able[few])
    open_[few[row], column] = see_each_other(around, a[few[row]], b[column])
    for k in many.tolist():
        wanted = np.flatnonzero(able[k])
        open_[k, wanted] = sees(around, a[k], b[wanted])
    rows, columns = np.nonzero(open_)
    return rows, columns


def _see_each_other(
    graph: VisibilityGraph, a: FloatArray, b: FloatArray, worth: BoolArray
) -> tuple[IntArray, IntArray]:
    """Row and column of every pair worth asking of that sees each other; what was asked before is known."""
    pairs = graph.pairs
    if len(a) + len(b) > KEPT_PAIRS_POINTS:
        return _seen(graph.around, a, b, worth)
    if len(pairs.numbers) + len(a) + len(b) > KEPT_PAIRS_POINTS:
        pairs.numbers.clear()
        pairs.seen = np.zeros((0, 0), dtype=np.int8)
    rows, columns = pairs.numbered(a), pairs.numbered(b)
    fresh = worth & (pairs.seen[np.ix_(rows, columns)] == 0)
    asked = np.nonzero(fresh)
    seeing = _seen(graph.around, a, b, fresh)
    for (row, column), answer in ((asked, -1), (seeing, 1)):
        pairs.seen[rows[row], columns[column]] = answer
        pairs.seen[columns[column], rows[row]] = answer
    who, which = np.nonzero(worth & (pairs.seen[np.ix_(rows, columns)] > 0))
    return who, which


def _looked(graph: VisibilityGraph, xy: FloatArray, piece: IntArray) -> list[Seen]:
    """What each point sees along a tangent."""
    corners = graph.corners
    found: list[Seen] = []
    for start in range(0, len(xy), AT_ONCE):  # bounds the memory
        some = slice(start, start + AT_ONCE)
        able = (piece[some, None] == corners.piece[None, :]) & _tangent_from(corners, xy[some])
        row, column = _seen(graph.around, xy[some], corners.xy_mm, able)
        away = np.hypot(*(corners.xy_mm[column] - xy[some][row]).T)
        cut = np.searchsorted(row, np.arange(1, len(able)))
        found += zip(np.split(column, cut), np.split(away, cut), strict=True)
    return found


def _nothing(count: int) -> tuple[FloatArray, npt.NDArray[np.int32]]:
    return np.zeros((count, count)), np.full((count, count), -1, dtype=np.int32)


def _closed(graph: VisibilityGraph, first: IntArray, second: IntArray, length: FloatArray) -> VisibilityGraph:
    """The graph with all distances between its corners, from its edges."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import dijkstra

    count = len(graph.corners.xy_mm)
    weights = np.maximum(length, 1e-12)  # a zero would mean "no edge"
    edges = coo_array((weights, (first, second)), shape=(count, count)).tocsr()
    closed, before = dijkstra(edges, directed=False, return_predecessors=True)
    # The graph is undirected, so "the corner before i on the way from j" is "the corner after i on the way to j".
    following = np.where(before < 0, -1, before).T.astype(np.int32)
    return replace(graph, length_mm=np.asarray(closed), next_corner=np.ascontiguousarray(following))


def _padded(seen: list[Seen]) -> Sights:
    wide = max(len(corner) for corner, _ in seen)
    corner = np.zeros((len(seen), wide), dtype=int)
    away = np.full((len(seen), wide), np.inf)
    for row, (which, length) in enumerate(seen):
        corner[row, : len(which)], away[row, : len(which)] = which, length
    return Sights(corner, away)


def _around(graph: VisibilityGraph, seen_a: Sights, seen_b: Sights) -> FloatArray:
    """Least length from a over corners to b: min-plus of short vectors, one row at a time."""
    count = len(graph.corners.xy_mm)
    from_a = np.full((len(seen_a.corner), count), np.inf)
    for row, corner, away in zip(from_a, seen_a.corner, seen_a.length_mm, strict=True):
        near = np.isfinite(away)
        row[:] = np.min(graph.length_mm[corner[near]] + away[near, None], axis=0, initial=np.inf)
    to_b = np.ascontiguousarray(from_a.T)
    out = np.full((len(seen_b.corner), len(seen_a.corner)), np.inf)
    for row, corner, away in zip(out, seen_b.corner, seen_b.length_mm, strict=True):
        near = np.isfinite(away)
        row[:] = np.min(to_b[corner[near]] + away[near, None], axis=0, initial=np.inf)
    return np.ascontiguousarray(out.T)


def _best_pair(graph: VisibilityGraph, near: Sights, far: Sights) -> tuple[int, int, float]:
    i, j = near.corner[0], far.corner[0]
    if not len(i) or not len(j):
        return -1, -1, float("inf")
    total = near.length_mm[0][:, None] + graph.length_mm[np.ix_(i, j)] + far.length_mm[0][None, :]
    flat = int(np.argmin(total))
    row, column = divmod(flat, len(j))
    return int(i[row]), int(j[column]), float(total[row, column])


def _chain(graph: VisibilityGraph, i: int, j: int) -> list[int]:
    if i < 0:
        return []
    chain = [i]
    while chain[-1] != j:
        chain.append(int(graph.next_corner[chain[-1], j]))
    return chain
