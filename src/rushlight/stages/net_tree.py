"""The tree of one net: where its splices may lie, which of these places it takes, and the way of each of its edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from rushlight.geometry.lay import splice_sites
from rushlight.geometry.layout import Place, RouteMap
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.region import contains
from rushlight.geometry.routes import NoRoute, Route, distances, shortest_routes
from rushlight.geometry.tree import SplicePrices, SpliceTree, splice_tree
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Crossing
from rushlight.model.plan_part import Part

GRID_MM, MOST_GRID = 25.0, 240
"""Grid of further places for splices, and how many of them at most (as many as ends, where a net has more)."""


def place_of(spot: Spot) -> Place:
    """A spot as the routes take it."""
    return Place(spot.part, spot.x_mm, spot.y_mm)


def grid_points(outline: tuple[tuple[float, float], ...], pitch_mm: float) -> list[tuple[float, float]]:
    """Points of a square grid over the bounds of an outline, half a pitch in from its lower left corner."""
    xs, ys = zip(*outline, strict=True)
    columns = max(int((max(xs) - min(xs)) / pitch_mm), 1)
    rows = max(int((max(ys) - min(ys)) / pitch_mm), 1)
    step_x, step_y = (max(xs) - min(xs)) / columns, (max(ys) - min(ys)) / rows
    return [
        (min(xs) + (i + 0.5) * step_x, min(ys) + (j + 0.5) * step_y) for j in range(rows) for i in range(columns)
    ]


@dataclass(frozen=True, slots=True)
class AskedTree:
    """All that the tree of a net hangs on: the ground, the feed and its ends, splices of other nets, the search.

    The map of the ground is made of the parts and crossings alone, so it is not compared.
    """

    parts: tuple[Part, ...]
    crossings: tuple[Crossing, ...]
    drawer: Drawer
    ends: tuple[Place, ...]
    taken: tuple[Spot, ...]
    rounds: int
    route_map: RouteMap = field(compare=False)


@dataclass(frozen=True, slots=True)
class LaidTree:
    """The tree of a net, the places that its nodes are chosen from, and the route of each of its edges."""

    tree: SpliceTree
    sites: tuple[Place, ...]
    routes: tuple[Route | NoRoute, ...]


@lru_cache(maxsize=64)
def laid_tree(asked: AskedTree) -> LaidTree:
    """Kept, because another supply or another brightness leaves every lamp where it is, and so the trees."""
    drawer, route_map, ends = asked.drawer, asked.route_map, list(asked.ends)
    sites = [*ends, *_free_sites(drawer, route_map, ends, asked.taken)]
    matrix = distances(route_map, sites)
    tree = splice_tree(
        matrix, range(1, len(ends)), 0, prices=_prices(drawer), splice_sites=range(len(ends), len(sites)),
        rounds=asked.rounds,
    )
    tree = _spread(tree, matrix, sites, first=len(ends), apart=_apart_mm(drawer))
    pairs = [(sites[tree.nodes[edge.a].site], sites[tree.nodes[edge.b].site]) for edge in tree.edges]
    return LaidTree(tree, tuple(sites), tuple(shortest_routes(route_map, pairs)))


def _apart_mm(drawer: Drawer) -> float:
    """How far splices keep from each other (habit `stagger`, and a little)."""
    return (drawer.habit("stagger").low or 15.0) + 0.5


def _spread(tree: SpliceTree, matrix: FloatArray, sites: list[Place], *, first: int, apart: float) -> SpliceTree:
    """Splices of one net that crowd each other moved to the free site nearest to what they join."""
    neighbours: dict[int, list[int]] = {}
    for edge in tree.edges:
        neighbours.setdefault(edge.a, []).append(edge.b)
        neighbours.setdefault(edge.b, []).append(edge.a)
    nodes = list(tree.nodes)
    free = list(range(first, len(sites)))
    kept: list[Place] = []
    for number, node in enumerate(nodes):
        if node.kind != "splice":
            continue
        if not _clear_of(sites[node.site], kept, apart):
            ends = [nodes[other].site for other in neighbours[number]]
            nodes[number] = replace(node, site=_nearest(free, ends, matrix, otherwise=node.site))
        kept.append(sites[nodes[number].site])
        free = [k for k in free if _clear_of(sites[k], kept[-1:], apart)]
    return replace(tree, nodes=tuple(nodes))


def _nearest(free: list[int], ends: list[int], matrix: FloatArray, *, otherwise: int) -> int:
    """The free site with the least summed way to some ends."""
    return min(free, key=lambda k: (float(sum(matrix[k, end] for end in ends)), k), default=otherwise)


def _clear_of(place: Place, others: list[Place], apart: float) -> bool:
    return all(other.part != place.part or math.dist(other[1:], place[1:]) >= apart for other in others)


def _free_sites(drawer: Drawer, route_map: RouteMap, ends: list[Place], taken: Sequence[Spot]) -> list[Place]:
    """Where splices may lie: beside ends and between them, or on a grid, away from splices of nets made before."""
    apart = _apart_mm(drawer)
    beside = list(splice_sites(route_map, ends))
    on_part: dict[str, list[Point]] = {}
    for spot in taken:
        on_part.setdefault(spot.part, []).append(spot.at_mm)
    clear = [
        place for place in (*beside, *_grid(route_map, ends))
        if all(math.dist(place[1:], at) >= apart for at in on_part.get(place.part, ()))
    ]
    return clear or beside


def _grid(route_map: RouteMap, ends: list[Place]) -> list[Place]:
    """A grid of places in the free space of the parts that this net touches, reached from its feed."""
    parts = {end.part for end in ends}
    sheets = [sheet for sheet in route_map.sheets if sheet.sheet.name in parts]
    area_mm2 = sum(piece.area_mm2 for sheet in sheets for piece in sheet.space.pieces)
    pitch_mm = max(GRID_MM, math.sqrt(area_mm2 / max(MOST_GRID, len(ends))))  # spread over all parts alike
    places: list[Place] = []
    for sheet in sheets:
        points = grid_points(sheet.sheet.outline_mm, pitch_mm)
        free = contains([piece.shape for piece in sheet.space.pieces], points)
        places += [Place(sheet.sheet.name, x, y) for (x, y), inside in zip(points, free, strict=True) if inside]
    far = distances(route_map, [ends[0]], places)[0] if places else []
    return [place for place, away in zip(places, far, strict=True) if math.isfinite(away)]


def _prices(drawer: Drawer) -> SplicePrices:
    """The habit's three leads a splice, plus the feed."""
    return SplicePrices(max_leads=int(drawer.habit("splice_size").high or 3) + 1)
