"""Splice trees laid on parts."""

import numpy as np

from rushlight.geometry.check import Rules, check_route, check_tree
from rushlight.geometry.lay import lay_tree, splice_sites
from rushlight.geometry.region import KeepOut, contains
from rushlight.geometry.routes import Crossing, Place, Route, Sheet, build_layout, distances, shortest_routes
from rushlight.geometry.tree import SplicePrices

PLATE = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0))
POST = KeepOut("post", ((40.0, 20.0), (50.0, 20.0), (50.0, 30.0), (40.0, 30.0)))
PARTS = [Sheet("hull", PLATE, (POST,)), Sheet("deck", PLATE)]
HINGE = Crossing("hinge", Place("hull", 99.0, 25.0), Place("deck", 1.0, 25.0), 30.0)
LAYOUT = build_layout(PARTS, [HINGE], margin_mm=1.0)
FEED = Place("hull", 5.0, 5.0)


def _lamps(count, seed=1):
    rng = np.random.default_rng(seed)
    return [Place(("hull", "deck")[k % 2], *rng.uniform((55, 2), (98, 48))) for k in range(count)]


def test_a_tree_over_two_parts_is_sound_and_its_leads_can_be_routed():
    lamps = _lamps(12)
    laid = lay_tree(LAYOUT, lamps, FEED, rounds=100)
    assert laid.unreached == ()
    matrix = distances(LAYOUT, laid.places)
    assert check_tree(laid.tree, matrix, range(1, 13), 0, prices=SplicePrices()) == ()
    ends = [(laid.place(e.a), laid.place(e.b)) for e in laid.tree.edges]
    for (a, b), edge, route in zip(ends, laid.tree.edges, shortest_routes(LAYOUT, ends), strict=True):
        assert isinstance(route, Route)
        assert abs(route.length_mm - edge.length_mm) < 1e-6
        assert check_route(route, (a, b), PARTS, [HINGE], rules=Rules(1.0)) == ()


def test_splices_lie_in_free_space():
    laid = lay_tree(LAYOUT, [*_lamps(6), Place("hull", 70.0, 0.1)], FEED)
    for k, node in enumerate(laid.tree.nodes):
        if node.kind == "splice":
            place = laid.place(k)
            space = LAYOUT.sheets[[s.sheet.name for s in LAYOUT.sheets].index(place.part)].space
            assert contains([p.shape for p in space.pieces], [place[1:]])[0]


def test_lamps_that_no_route_reaches_are_listed_and_numbers_stay_the_callers():
    lamps = [Place("hull", 45.0, 25.0), Place("hull", 70.0, 25.0), Place("deck", -5.0, 3.0), Place("deck", 50.0, 25.0)]
    laid = lay_tree(LAYOUT, lamps, FEED)
    assert laid.unreached == (0, 2)
    assert sorted(n.lamp for n in laid.tree.nodes if n.kind == "lamp") == [1, 3]
    assert {laid.place(k) for k, n in enumerate(laid.tree.nodes) if n.kind == "lamp"} == {lamps[1], lamps[3]}


def test_no_lamps_at_all():
    laid = lay_tree(LAYOUT, [], FEED)
    assert (laid.tree.edges, laid.unreached, laid.place(0)) == ((), (), FEED)


def test_sites_hold_fermat_points_and_crossing_ends_without_repeats():
    ends = [Place("deck", 20.0, 10.0), Place("deck", 60.0, 10.0), Place("deck", 40.0, 40.0)]
    sites = splice_sites(LAYOUT, ends)
    assert len(set(sites)) == len(sites)
    assert any(abs(s.x_mm - 40) < 1e-9 and 10 < s.y_mm < 40 for s in sites)  # derived: on the axis of symmetry
    assert len(sites) == 3 + 1 + 2
