"""Shortest routes against brute force.

Source: networkx 3.x, `single_source_dijkstra_path_length` (A. Hagberg, D. Schult, P. Swart, "Exploring network
structure, dynamics, and function using NetworkX", SciPy 2008), on the full graph of sight lines among all corners of
free space, each tested by `shapely.covers`. Our graph uses reflex corners, tangents and its own line-of-sight test; the
two share the grown region alone, whose clearance and bend radius are tested apart.
"""

from __future__ import annotations

import math
from itertools import combinations

import networkx as nx
import numpy as np
import pytest
import shapely

from rushlight.geometry.region import KeepOut, contains
from rushlight.geometry.routes import Crossing, Place, Sheet, build_layout, distances, shortest_routes

OUTLINE = ((0, 20), (30, 0), (120, 0), (120, 60), (70, 60), (70, 40), (60, 40), (60, 60), (0, 60))


def _posts(rng, count):
    """Convex keep-outs of 3 to 6 corners, some overlapping each other or the outline."""
    posts = []
    for k in range(count):
        centre, radius = rng.uniform((8, 8), (112, 52)), rng.uniform(2, 6)
        angles = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(3, 7)))
        ring = centre + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        posts.append(KeepOut(f"post {k}", tuple((float(x), float(y)) for x, y in ring)))
    return tuple(posts)


def _sheet(seed, count=5, name="deck"):
    return Sheet(name, OUTLINE, _posts(np.random.default_rng(seed), count))


def _legal(route_map, rng, count, sheet=0):
    shapes = [piece.shape for piece in route_map.sheets[sheet].space.pieces]
    trial = rng.uniform((0, 0), (120, 60), (400, 2))
    return [tuple(map(float, p)) for p in trial[contains(shapes, trial)][:count]]


def _brute_graph(shapes, points, label):
    """Every pair of corners and points that shapely says lies in the region."""
    area = shapely.union_all([shapely.Polygon(s.exterior_mm, s.holes_mm) for s in shapes])
    eased = shapely.buffer(area, 1e-6, join_style="mitre")
    shapely.prepare(eased)
    nodes = [*points, *(p for s in shapes for ring in (s.exterior_mm, *s.holes_mm) for p in ring)]
    pairs = list(combinations(range(len(nodes)), 2))
    lines = shapely.linestrings([[nodes[i], nodes[j]] for i, j in pairs])
    graph = nx.Graph()
    graph.add_nodes_from((label, k) for k in range(len(nodes)))
    for (i, j), ok in zip(pairs, shapely.covers(eased, lines), strict=True):
        if ok:
            graph.add_edge((label, i), (label, j), weight=math.dist(nodes[i], nodes[j]))
    return graph


@pytest.mark.parametrize(("seed", "radius"), [(1, 0.0), (2, 0.0), (3, 4.0), (4, 4.0)])
def test_all_pairs_equal_brute_force(seed, radius):
    route_map = build_layout([_sheet(seed)], margin_mm=0.5, bend_radius_mm=radius)
    points = _legal(route_map, np.random.default_rng(seed + 100), 9)
    ours = distances(route_map, [Place("deck", *p) for p in points])
    graph = _brute_graph([p.shape for p in route_map.sheets[0].space.pieces], points, "deck")
    for i in range(len(points)):
        reach = nx.single_source_dijkstra_path_length(graph, ("deck", i))
        theirs = [reach.get(("deck", j), math.inf) for j in range(len(points))]
        assert ours[i] == pytest.approx(theirs, abs=2e-6)  # source: networkx; both ease the edge by 1e-6 mm


def test_routes_over_two_crossings_equal_brute_force():
    parts = [_sheet(5, name="hull"), _sheet(6, name="deck")]
    spots = [((20.0, 30.0), (15.0, 45.0), 12.0), ((110.0, 30.0), (100.0, 50.0), 30.0)]
    bare = build_layout(parts, margin_mm=0.5)
    for a, b, _ in spots:  # the chosen ends are clear of every keep-out
        assert all(contains([p.shape for p in bare.sheets[k].space.pieces], [end])[0] for k, end in ((0, a), (1, b)))
    crossings = [Crossing(f"c{k}", Place("hull", *a), Place("deck", *b), s) for k, (a, b, s) in enumerate(spots)]
    route_map = build_layout(parts, crossings, margin_mm=0.5)
    rng = np.random.default_rng(7)
    here, there = _legal(route_map, rng, 6, 0), _legal(route_map, rng, 6, 1)
    graph = nx.Graph()
    for sheet, points, side in ((0, here, 0), (1, there, 1)):
        ends = [s[side] for s in spots]
        graph.update(_brute_graph([p.shape for p in route_map.sheets[sheet].space.pieces], [*ends, *points], sheet))
    for k, (_, _, slack) in enumerate(spots):
        graph.add_edge((0, k), (1, k), weight=slack)
    places = [*(Place("hull", *p) for p in here), *(Place("deck", *p) for p in there)]
    nodes = [*((0, 2 + k) for k in range(len(here))), *((1, 2 + k) for k in range(len(there)))]
    theirs = [[nx.dijkstra_path_length(graph, u, v) for v in nodes] for u in nodes]
    ours = distances(route_map, places)
    assert ours == pytest.approx(np.array(theirs), abs=2e-6)  # source: networkx
    pairs = list(combinations(range(len(places)), 2))
    routes = shortest_routes(route_map, [(places[i], places[j]) for i, j in pairs])
    assert [r.length_mm for r in routes] == pytest.approx([ours[i, j] for i, j in pairs], abs=1e-9)
