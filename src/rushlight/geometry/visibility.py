"""The reduced visibility graph of one plane: exact shortest ways round its corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.geometry.outline import FloatArray, Shape
from rushlight.geometry.region import EASE_MM, geometry

IntArray = npt.NDArray[np.int_]
BoolArray = npt.NDArray[np.bool_]

CHUNK = 200_000
"""Sight lines tested at once; bounds the memory."""


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """The corners that a taut line can bend round, with both neighbours on their ring, and their piece."""

    xy_mm: FloatArray
    before_mm: FloatArray
    after_mm: FloatArray
    piece: IntArray


@dataclass(frozen=True, slots=True, eq=False)
class VisibilityGraph:
    """Corners of one plane, the closed matrix of distances between them, and the way back along each.

    `next_corner[i, j]` is the corner after i on the shortest way from i to j (-1: none).
    """

    shapes: tuple[Shape, ...]
    corners: Corners
    length_mm: FloatArray
    next_corner: IntArray


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
        return VisibilityGraph(tuple(shapes), corners, np.zeros((0, 0)), np.zeros((0, 0), dtype=int))
    first, second = np.triu_indices(count, 1)
    keep = (corners.piece[first] == corners.piece[second]) & _tangent_pairs(corners, first, second)
    first, second = first[keep], second[keep]
    a, b = corners.xy_mm[first], corners.xy_mm[second]
    seen = sees(sight_area(shapes), a, b)
    length = np.hypot(*(b - a).T)
    return _closed(tuple(shapes), corners, first[seen], second[seen], length[seen])


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


def sight_area(shapes: Sequence[Shape]) -> Any:
    """The region, eased by a millionth of a millimetre so that lines along its edge count as inside."""
    import shapely

    area = shapely.buffer(geometry(shapes), EASE_MM, join_style="mitre")
    shapely.prepare(area)
    return area


def sees(area: Any, a_mm: FloatArray, b_mm: FloatArray) -> BoolArray:
    """Whether the straight line from each a to its b stays in the area.

    Parameters
    ----------
    area : prepared geometry
        From `sight_area`.
    a_mm, b_mm : array, shape (n, 2)
        Ends [mm].
    Returns
    -------
    array of bool, shape (n,)
    """
    import shapely

    out = np.zeros(len(a_mm), dtype=bool)
    for start in range(0, len(a_mm), CHUNK):
        part = slice(start, start + CHUNK)
        lines = shapely.linestrings(np.stack([a_mm[part], b_mm[part]], axis=1))
        out[part] = shapely.covers(area, lines)
    same = np.all(a_mm == b_mm, axis=1)
    return np.asarray(out | same, dtype=bool)


def sights(graph: VisibilityGraph, area: Any, xy_mm: FloatArray, piece: IntArray) -> Sights:
    """The corners that each query point sees along a tangent.

    Parameters
    ----------
    graph : VisibilityGraph
        The plane's graph.
    area : prepared geometry
        From `sight_area` of the same shapes.
    xy_mm : array, shape (n, 2)
        Query points inside the region [mm].
    piece : array of int, shape (n,)
        The piece that each lies in.
    Returns
    -------
    Sights
        Shape (n, w), w the largest number of corners that one point sees.
    """
    corners = graph.corners
    if not len(corners.xy_mm) or not len(xy_mm):
        return Sights(np.zeros((len(xy_mm), 0), dtype=int), np.zeros((len(xy_mm), 0)))
    able = (piece[:, None] == corners.piece[None, :]) & _tangent_from(corners, xy_mm)
    who, which = np.nonzero(able)
    seen = sees(area, xy_mm[who], corners.xy_mm[which])
    who, which = who[seen], which[seen]
    return _padded(who, which, np.hypot(*(corners.xy_mm[which] - xy_mm[who]).T), len(xy_mm))


def geodesics(
    graph: VisibilityGraph, area: Any, a: tuple[FloatArray, IntArray], b: tuple[FloatArray, IntArray]
) -> FloatArray:
    """Shortest distances inside the region between every point of a and every point of b.

    Parameters
    ----------
    graph, area
        The plane's graph and its `sight_area`.
    a, b : (points, pieces)
        Query points [mm], shape (n, 2) and (m, 2), with the piece that each lies in. The same object twice is quicker.
    Returns
    -------
    array, shape (n, m)
        Distances [mm]; infinite between pieces.
    """
    seen_a = sights(graph, area, *a)
    seen_b = seen_a if b is a else sights(graph, area, *b)
    around = _around(graph, seen_a, seen_b)
    straight = np.hypot(a[0][:, None, 0] - b[0][None, :, 0], a[0][:, None, 1] - b[0][None, :, 1])
    worth = (a[1][:, None] == b[1][None, :]) & (straight < around - 1e-9)
    if b is a:
        worth = np.triu(worth)
    who, which = np.nonzero(worth)
    seen = sees(area, a[0][who], b[0][which])
    who, which = who[seen], which[seen]
    around[who, which] = straight[who, which]
    if b is a:
        around[which, who] = straight[who, which]
    return around


def way(
    graph: VisibilityGraph, area: Any, ends: tuple[FloatArray, FloatArray], piece: int
) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Length and corners of the shortest way between two points of one piece.

    Parameters
    ----------
    graph, area
        The plane's graph and its `sight_area`.
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
    if bool(sees(area, start, stop)[0]):
        return float(np.hypot(*(ends[1] - ends[0]))), (first, last)
    home = np.array([piece])
    near, far = sights(graph, area, start, home), sights(graph, area, stop, home)
    i, j, length = _best_pair(graph, near, far)
    middle = [_point(graph.corners.xy_mm[k]) for k in _chain(graph, i, j)]
    return length, (first, *middle, last)


# --- inner functions ----------------------------------------------------------------------------


def _point(xy: FloatArray) -> tuple[float, float]:
    return (float(xy[0]), float(xy[1]))


def _side(origin: FloatArray, target: FloatArray, other: FloatArray) -> FloatArray:
    """Which side of the line origin-target the other point lies on: -1, 0, 1 with a tolerance."""
    along, off = target - origin, other - target
    cross = along[..., 0] * off[..., 1] - along[..., 1] * off[..., 0]
    scale = np.hypot(along[..., 0], along[..., 1]) * np.hypot(off[..., 0], off[..., 1])
    return np.where(np.abs(cross) <= 1e-9 * scale, 0.0, np.sign(cross))


def _tangent_from(corners: Corners, xy: FloatArray) -> BoolArray:
    origin = xy[:, None, :]
    before = _side(origin, corners.xy_mm[None], corners.before_mm[None])
    after = _side(origin, corners.xy_mm[None], corners.after_mm[None])
    return np.asarray(before * after >= 0, dtype=bool)


def _tangent_pairs(corners: Corners, first: IntArray, second: IntArray) -> BoolArray:
    xy = corners.xy_mm

    def touches(origin: IntArray, target: IntArray) -> BoolArray:
        before = _side(xy[origin], xy[target], corners.before_mm[target])
        after = _side(xy[origin], xy[target], corners.after_mm[target])
        return np.asarray(before * after >= 0, dtype=bool)

    return touches(first, second) & touches(second, first)


def _closed(
    shapes: tuple[Shape, ...], corners: Corners, first: IntArray, second: IntArray, length: FloatArray
) -> VisibilityGraph:
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import dijkstra

    count = len(corners.xy_mm)
    weights = np.maximum(length, 1e-12)  # a zero would mean "no edge"
    edges = coo_array((weights, (first, second)), shape=(count, count)).tocsr()
    closed, before = dijkstra(edges, directed=False, return_predecessors=True)
    # The graph is undirected, so "the corner before i on the way from j" is "the corner after i on the way to j".
    following = np.where(before < 0, -1, before).T
    return VisibilityGraph(shapes, corners, np.asarray(closed), np.ascontiguousarray(following))


def _padded(who: IntArray, which: IntArray, length: FloatArray, count: int) -> Sights:
    held = np.bincount(who, minlength=count)
    wide = int(held.max(initial=0))
    slot = np.arange(len(who)) - np.repeat(np.cumsum(held) - held, held)
    corner = np.zeros((count, wide), dtype=int)
    away = np.full((count, wide), np.inf)
    corner[who, slot], away[who, slot] = which, length
    return Sights(corner, away)


def _around(graph: VisibilityGraph, seen_a: Sights, seen_b: Sights) -> FloatArray:
    """Least length from a over corners to b: min-plus of short vectors."""
    count = len(graph.corners.xy_mm)
    to_corner = np.full((len(seen_a.corner), count), np.inf)
    for k in range(seen_a.corner.shape[1]):
        way_on = seen_a.length_mm[:, k, None] + graph.length_mm[seen_a.corner[:, k]]
        np.minimum(to_corner, way_on, out=to_corner)
    out = np.full((len(seen_a.corner), len(seen_b.corner)), np.inf)
    for k in range(seen_b.corner.shape[1]):
        # A gather along the last axis per column block: rows stay contiguous.
        np.minimum(out, to_corner[:, seen_b.corner[:, k]] + seen_b.length_mm[None, :, k], out=out)
    return out


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
