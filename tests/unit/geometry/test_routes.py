"""Routes: through crossings, into corners, with reasons when there is none; and a checker that rejects spoiled ones."""

import math
from dataclasses import replace

import numpy as np
import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.geometry import layout, visibility
from rushlight.geometry.check import Rules, check_route
from rushlight.geometry.region import KeepOut
from rushlight.geometry.routes import (
    Crossing,
    NoRoute,
    Place,
    Route,
    Sheet,
    build_layout,
    distances,
    shortest_route,
    shortest_routes,
)

PLATE = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0))
POST = KeepOut("post", ((40.0, 20.0), (50.0, 20.0), (50.0, 30.0), (40.0, 30.0)))
WALL = KeepOut("wall", ((70.0, -1.0), (72.0, -1.0), (72.0, 51.0), (70.0, 51.0)))
HULL, DECK = Sheet("hull", PLATE, (POST,)), Sheet("deck", PLATE)
HINGE = Crossing("hinge", Place("hull", 99.0, 25.0), Place("deck", 1.0, 25.0), 30.0)


def test_a_route_round_a_post_has_the_tight_string_length():
    layout = build_layout([HULL], margin_mm=0.0)
    route = shortest_route(layout, Place("hull", 30, 25), Place("hull", 60, 25))
    # derived: over the post's two upper (or lower) corners: 2 sqrt(10^2 + 5^2) + 10
    assert route.length_mm == pytest.approx(2 * math.hypot(10, 5) + 10)
    assert route.min_bend_radius_mm == 0
    assert route.turning_deg == pytest.approx(2 * math.degrees(math.atan2(5, 10)))


def test_with_a_radius_the_route_is_tangents_and_an_arc():
    thin = KeepOut("pin", ((49.999, 25.0), (50.001, 25.0), (50.0, 25.001)))
    layout = build_layout([Sheet("hull", PLATE, (thin,))], margin_mm=5.0)
    route = shortest_route(layout, Place("hull", 30, 25), Place("hull", 70, 25))
    half = math.acos(5 / 20)
    tight = 2 * math.sqrt(20**2 - 5**2) + 5 * (math.pi - 2 * half)  # derived: two tangents and the arc between
    assert tight <= route.length_mm <= tight + 0.02
    assert route.min_bend_radius_mm >= 5 * 0.99


def test_a_crossing_adds_its_slack_and_splits_the_route_into_legs():
    layout = build_layout([HULL, DECK], [HINGE], margin_mm=0.5)
    route = shortest_route(layout, Place("hull", 80, 25), Place("deck", 31, 25))
    assert route.length_mm == pytest.approx(19 + 30 + 30)  # derived
    assert [leg.part for leg in route.legs] == ["hull", "deck"]
    assert route.crossings == ("hinge",)
    back = shortest_route(layout, Place("deck", 31, 25), Place("hull", 80, 25))
    assert back.length_mm == pytest.approx(route.length_mm)


def test_stretch_lengthens_a_part_alone():
    layout = build_layout([replace(HULL, stretch=1.25), DECK], [HINGE], margin_mm=0.5)
    route = shortest_route(layout, Place("hull", 79, 25), Place("deck", 31, 25))
    assert route.length_mm == pytest.approx(20 * 1.25 + 30 + 30)  # derived
    assert distances(layout, [Place("hull", 79, 25)], [Place("deck", 31, 25)])[0, 0] == pytest.approx(route.length_mm)


def test_a_shortcut_over_another_part_is_taken():
    walled = Sheet("hull", PLATE, (WALL,))
    bridge = [
        Crossing("there", Place("hull", 60, 25), Place("deck", 20, 25), 5.0),
        Crossing("back", Place("deck", 40, 25), Place("hull", 80, 25), 7.0),
    ]
    layout = build_layout([walled, DECK], bridge, margin_mm=0.5)
    route = shortest_route(layout, Place("hull", 50, 25), Place("hull", 90, 25))
    assert route.crossings == ("there", "back")
    assert route.length_mm == pytest.approx(10 + 5 + 20 + 7 + 10)  # derived
    assert [t.why for t in layout.troubles] == ["split"]


def test_only_crossings_that_carry_the_kind_are_used():
    wires = replace(HINGE, carries=("wire",))
    layout = build_layout([HULL, DECK], [wires], margin_mm=0.5, kind="fibre")
    answer = shortest_route(layout, Place("hull", 80, 25), Place("deck", 31, 25))
    assert isinstance(answer, NoRoute) and answer.why == "no-crossing"


@pytest.mark.parametrize(
    ("a", "b", "why", "part"),
    [
        (("hull", 45, 25), ("hull", 10, 10), "in-keep-out", "hull"),
        (("hull", 10, 10), ("hull", -5, 10), "outside", "hull"),
        (("walled", 10, 10), ("walled", 90, 10), "split", "walled"),
        (("hull", 10, 10), ("walled", 10, 10), "no-crossing", "walled"),
        (("broken", 1, 1), ("hull", 10, 10), "bad-part", "broken"),
    ],
)
def test_no_route_says_why_and_where(a, b, why, part):
    broken = Sheet("broken", ((0, 0), (10, 10), (10, 0), (0, 10)))
    layout = build_layout([HULL, Sheet("walled", PLATE, (WALL,)), broken], margin_mm=0.5)
    answer = shortest_route(layout, a, b)
    assert isinstance(answer, NoRoute)
    assert (answer.why, answer.part) == (why, part)
    assert part in answer.text
    assert math.isinf(distances(layout, [a, b])[0, 1])


def test_troubles_name_split_parts_and_dead_crossings():
    dead = Crossing("hatch", Place("hull", 45.0, 25.0), Place("deck", 5.0, 5.0), 10.0)
    layout = build_layout([HULL, DECK, Sheet("walled", PLATE, (WALL,))], [dead, HINGE], margin_mm=0.5)
    assert [(t.why, t.where) for t in layout.troubles] == [("split", "walled"), ("crossing-end", "hatch")]
    assert "post" in layout.troubles[1].text
    assert isinstance(shortest_route(layout, ("hull", 5, 5), ("deck", 5, 5)), Route)


def test_callers_mistakes_raise():
    with pytest.raises(UnknownName, match=r"part 'hul' is not known\. Did you mean 'hull'"):
        distances(build_layout([HULL], margin_mm=1), [("hul", 1, 1)])
    with pytest.raises(UnknownName, match="part 'deck'"):
        build_layout([HULL], [HINGE], margin_mm=1)
    with pytest.raises(OutOfRange, match="a name used once"):
        build_layout([HULL, HULL], margin_mm=1)
    with pytest.raises(OutOfRange, match="length_mm is -1"):
        build_layout([HULL, DECK], [replace(HINGE, length_mm=-1.0)], margin_mm=1)
    with pytest.raises(OutOfRange, match="stretch"):
        build_layout([replace(HULL, stretch=0.9)], margin_mm=1)
    with pytest.raises(OutOfRange, match="finite coordinates"):
        distances(build_layout([HULL], margin_mm=1), [("hull", math.nan, 1)])


def _random_layout(seed, radius=0.0):
    rng = np.random.default_rng(seed)
    posts = []
    for k in range(5):
        angles = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(3, 7)))
        ring = rng.uniform((10, 8), (90, 42)) + rng.uniform(2, 6) * np.c_[np.cos(angles), np.sin(angles)]
        posts.append(KeepOut(f"k{k}", tuple(map(tuple, ring.tolist()))))
    parts = [Sheet("hull", PLATE, tuple(posts), 1.1), DECK]
    hinge = Crossing("hinge", Place("hull", 99.9, 25.0), Place("deck", 0.0, 25.0), 30.0)
    return parts, [hinge], build_layout(parts, [hinge], margin_mm=1.0, bend_radius_mm=radius)


@pytest.mark.parametrize(("seed", "radius"), [(1, 0.0), (2, 0.0), (3, 4.0), (4, 4.0)])
def test_every_route_passes_the_checker_and_equals_the_matrix(seed, radius):
    parts, crossings, layout = _random_layout(seed, radius)
    rng = np.random.default_rng(seed)
    places = [Place(rng.choice(["hull", "deck"]), *rng.uniform((0.1, 0.1), (99.9, 49.9))) for _ in range(16)]
    matrix = distances(layout, places)
    assert matrix == pytest.approx(matrix.T)
    pairs = [(i, j) for i in range(16) for j in range(i)]
    routes = shortest_routes(layout, [(places[i], places[j]) for i, j in pairs])
    rules = Rules(1.0, radius, "wire")
    good = 0
    for (i, j), route in zip(pairs, routes, strict=True):
        if isinstance(route, NoRoute):
            assert math.isinf(matrix[i, j])
            continue
        good += 1
        assert route.length_mm == pytest.approx(matrix[i, j], abs=1e-9)
        assert check_route(route, (places[i], places[j]), parts, crossings, rules=rules) == ()
    assert good > 40


def test_the_same_question_gives_the_same_answer():
    assert _random_layout(1, 4.0)[2] == _random_layout(1, 4.0)[2]
    layout = _random_layout(1, 4.0)[2]
    ends = (Place("hull", 3, 3), Place("deck", 90, 40))
    assert shortest_route(layout, *ends) == shortest_route(_random_layout(1, 4.0)[2], *ends)


# --- the checker must reject spoiled answers ------------------------------------------------------

ENDS = (Place("hull", 20.0, 25.0), Place("deck", 31.0, 25.0))
PARTS, CROSSINGS, RULES = [HULL, DECK], [HINGE], Rules(1.0, 4.0, "wire")


def _good():
    route = shortest_route(build_layout(PARTS, CROSSINGS, margin_mm=1.0, bend_radius_mm=4.0), *ENDS)
    assert check_route(route, ENDS, PARTS, CROSSINGS, rules=RULES) == ()
    return route


def _with_points(route, points):
    legs = (replace(route.legs[0], points_mm=tuple(points)), *route.legs[1:])
    return replace(route, legs=legs)


SPOILS = {
    "ends": lambda r: _with_points(r, [(21.0, 25.0), *r.legs[0].points_mm[1:]]),
    "outside": lambda r: _with_points(r, [r.legs[0].points_mm[0], (50.0, -3.0), r.legs[0].points_mm[-1]]),
    "keep-out": lambda r: _with_points(r, [r.legs[0].points_mm[0], r.legs[0].points_mm[-1]]),
    "clearance": lambda r: _with_points(
        r, [r.legs[0].points_mm[0], (39.5, 30.5), (50.5, 30.5), r.legs[0].points_mm[-1]]
    ),
    "crossing": lambda r: _with_points(r, [*r.legs[0].points_mm[:-1], (98.0, 20.0)]),
    "length": lambda r: replace(r, length_mm=r.length_mm - 1.0),
    "bend": lambda r: _with_points(r, [r.legs[0].points_mm[0], (30.0, 40.0), (60.0, 40.0), r.legs[0].points_mm[-1]]),
}


@pytest.mark.parametrize("key", sorted(SPOILS))
def test_the_checker_rejects_each_kind_of_spoiled_route(key):
    faults = check_route(SPOILS[key](_good()), ENDS, PARTS, CROSSINGS, rules=RULES)
    assert key in {f.key for f in faults}


def test_the_checker_rejects_more_spoiled_routes():
    route = _good()

    def keys(bad, parts=PARTS, crossings=CROSSINGS, rules=RULES):
        return {f.key for f in check_route(bad, ENDS, parts, crossings, rules=rules)}

    assert keys(replace(route, crossings=("door",))) == {"crossing", "length"}
    assert "crossing" in keys(replace(route, crossings=()))
    assert keys(route, rules=replace(RULES, kind="steam")) == {"kind"}
    assert "length" in keys(replace(route, legs=(replace(route.legs[0], length_mm=1.0), route.legs[1])))
    assert keys(Route(0.0, (), ())) == {"ends"}
    assert "bend" in keys(route, rules=replace(RULES, bend_radius_mm=12.0))


def _asked_places():
    """A map that was never asked: sheets are kept between maps."""
    layout._routed.cache_clear()
    rng = np.random.default_rng(7)
    return _random_layout(7)[2], [Place("hull", *rng.uniform((0.1, 0.1), (99.9, 49.9))) for _ in range(16)]


def test_what_was_asked_once_is_known_and_changes_nothing(monkeypatch):
    """Any order of asking gives what a map that was never asked gives; the same pairs are not looked at again."""
    known_map, places = _asked_places()
    distances(known_map, places[8:])
    distances(known_map, places[:8], places[8:])
    fresh = distances(_asked_places()[0], places)
    assert np.array_equal(distances(known_map, places), fresh)
    asked = []
    real = visibility._seen
    monkeypatch.setattr(visibility, "_seen", lambda *of: asked.append(int(of[3].sum())) or real(*of))
    again = distances(known_map, places[::-1])
    assert sum(asked) == 0 and np.array_equal(again[::-1, ::-1], fresh)
    distances(_asked_places()[0], places)
    assert sum(asked) > 0


def test_points_beyond_what_is_kept_are_found_all_the_same(monkeypatch):
    known_map, places = _asked_places()
    whole = distances(known_map, places)
    for kept in (0, len(places), 2 * len(places) + 1):
        monkeypatch.setattr(visibility, "KEPT_PAIRS_POINTS", kept)
        small, _ = _asked_places()
        for part in (places[:5], places[5:], places):
            distances(small, part)
        assert np.array_equal(distances(small, places), whole)
