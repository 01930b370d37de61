"""A splice tree laid on the parts of a model: candidate sites for splices, then the tree over true route lengths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rushlight.geometry.approach import Approach, approaches
from rushlight.geometry.layout import Place, RouteMap
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.region import contains
from rushlight.geometry.routes import distances
from rushlight.geometry.tree import SplicePrices, SpliceTree, splice_tree

FERMAT_LAMPS = 60
"""Above this many lamps, Fermat points are not worth their time: splices near the lamps do as well."""

NEIGHBOURS = 5
"""Nearest neighbours of a lamp whose triples are tried."""


@dataclass(frozen=True, slots=True)
class LaidTree:
    """A splice tree with the place of every site; `unreached` lists lamps (by number) that no route reaches."""

    places: tuple[Place, ...]
    tree: SpliceTree
    unreached: tuple[int, ...]

    def place(self, node: int) -> Place:
        """Where a node of the tree lies."""
        return self.places[self.tree.nodes[node].site]


def lay_tree(
    route_map: RouteMap,
    lamps: Sequence[Place],
    feed: Place,
    *,
    prices: SplicePrices | None = None,
    rounds: int | None = None,
    seed: int = 1,
) -> LaidTree:
    """The cheapest splice tree from a feed to lamps, over true routes round keep-outs and through crossings.

    Parameters
    ----------
    route_map : RouteMap
        From `build_layout`.
    lamps : sequence of Place
        The lamps.
    feed : Place
        Where the trunk comes from.
    prices : SplicePrices or None
        Costs of ends and splices.
    rounds, seed : int
        As in `splice_tree`.
    Returns
    -------
    LaidTree
        Node numbers of its tree; a lamp's number is its place in `lamps`, unreached lamps left out of the tree.
    Raises
    ------
    UnknownName
        If a place names a part that is not there.
    """
    from_feed = distances(route_map, [feed], lamps)[0] if lamps else np.zeros(0)
    reached = np.flatnonzero(np.isfinite(from_feed)).tolist()
    unreached = tuple(np.flatnonzero(~np.isfinite(from_feed)).tolist())
    ends = [feed, *(lamps[k] for k in reached)]
    candidates = splice_sites(route_map, ends)
    away = distances(route_map, [feed], candidates)[0] if candidates else np.zeros(0)
    sites = [site for site, length in zip(candidates, away, strict=True) if np.isfinite(length)]
    places = (*(Place(*p) for p in ends), *sites)
    matrix = distances(route_map, places)
    splices = range(len(ends), len(places)) if sites else range(len(ends))
    tree = splice_tree(
        matrix, range(1, len(ends)), 0, prices=prices, splice_sites=splices, rounds=rounds, seed=seed
    )
    return LaidTree(places, _renumbered(tree, reached), unreached)


def splice_sites(route_map: RouteMap, ends: Sequence[Place]) -> tuple[Place, ...]:
    """Places where a splice may lie: beside each end, at both ends of each crossing, and at Fermat points between ends.

    Parameters
    ----------
    route_map : RouteMap
        From `build_layout`.
    ends : sequence of Place
        The feed and the lamps.
    Returns
    -------
    tuple of Place
        Legal places without repeats, in a fixed order.
    """
    found: list[Place] = []
    for routed in route_map.sheets:
        here = np.array([p[1:] for p in ends if p[0] == routed.sheet.name], dtype=float).reshape(-1, 2)
        beside = [a.legal_mm for a in approaches(routed.space, here) if isinstance(a, Approach)]
        between = fermat_points(here) if len(ends) <= FERMAT_LAMPS else np.zeros((0, 2))
        legal = contains([piece.shape for piece in routed.space.pieces], between)
        spots = [*beside, *(tuple(p) for p in between[legal].tolist())]
        found += [Place(routed.sheet.name, x, y) for x, y in spots]
    found += [Place(p.place.part, *p.approach.legal_mm) for p in route_map.net.portals]
    return tuple(dict.fromkeys(found))


def fermat_points(points_mm: FloatArray) -> FloatArray:
    """The point of least summed distance for each triple of near neighbours whose angles are all below 120 degrees.

    Parameters
    ----------
    points_mm : array, shape (n, 2)
        Points [mm].
    Returns
    -------
    array, shape (m, 2)
        Fermat points [mm], inside their triangles.
    Notes
    -----
    Closed form by barycentric weights a / sin(A + 60 deg), with A the angle opposite to side a.
    Source
    ------
    C. Kimberling, "Central points and central lines in the plane of a triangle", Mathematics Magazine 67 (1994)
    163-187, centre X(13).
    """
    triples = _triples(points_mm)
    corner = points_mm[triples]
    side = np.stack([np.hypot(*(corner[:, (k + 1) % 3] - corner[:, (k + 2) % 3]).T) for k in range(3)], axis=1)
    a, b, c = side.T
    with np.errstate(invalid="ignore", divide="ignore"):
        cosine = np.stack([(b * b + c * c - a * a) / (2 * b * c), (c * c + a * a - b * b) / (2 * c * a),
                           (a * a + b * b - c * c) / (2 * a * b)], axis=1)  # fmt: skip
        wide = ~(np.nanmin(np.where(np.isnan(cosine), -1.0, cosine), axis=1) > -0.5)
        weight = side / np.sin(np.arccos(np.clip(cosine, -1, 1)) + np.pi / 3)
        spot = np.sum(weight[:, :, None] * corner, axis=1) / weight.sum(axis=1)[:, None]
    return np.asarray(spot[~wide], dtype=float)


def _triples(points: FloatArray) -> np.ndarray[tuple[int, int], np.dtype[np.int_]]:
    """Each point with each pair of its nearest neighbours, without repeats."""
    count = len(points)
    if count < 3:
        return np.zeros((0, 3), dtype=int)
    away = np.hypot(points[:, None, 0] - points[None, :, 0], points[:, None, 1] - points[None, :, 1])
    near = np.argsort(away, axis=1, kind="stable")[:, : NEIGHBOURS + 1]
    found = {tuple(sorted({k, int(i), int(j)})) for k, row in enumerate(near) for i in row for j in row}
    return np.array(sorted(t for t in found if len(t) == 3), dtype=int).reshape(-1, 3)


def _renumbered(tree: SpliceTree, reached: Sequence[int]) -> SpliceTree:
    """The tree with lamps numbered as the caller numbers them."""
    from dataclasses import replace

    nodes = tuple(replace(n, lamp=reached[n.lamp]) if n.kind == "lamp" else n for n in tree.nodes)
    return replace(tree, nodes=nodes)
