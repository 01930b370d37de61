"""Free space: clearance and bend radius really hold, pieces are reported, stubs stay legal."""

import math

import numpy as np
import pytest
import shapely

from rushlight.errors import OutOfRange
from rushlight.geometry.approach import Approach, NoApproach, approach, approaches
from rushlight.geometry.region import (
    KeepOut,
    contains,
    distance_to_edge_mm,
    distance_to_region_mm,
    free_space,
    geometry,
)
from rushlight.geometry.visibility import reflex_corners

PLATE = ((0, 0), (100, 0), (100, 50), (0, 50))
NEEDLE = KeepOut("needle", ((30, 20), (60, 20.5), (30, 21)))
POST = KeepOut("post", ((40, 20), (50, 20), (50, 30), (40, 30)))


def _free(space):
    return geometry([piece.shape for piece in space.pieces])


@pytest.mark.parametrize("margin", [0.3, 1.0, 3.0, 8.0])
@pytest.mark.parametrize("keep_out", [NEEDLE, POST, KeepOut("dot", ((50, 25), (50.2, 25), (50, 25.2)))])
def test_the_clearance_holds_even_at_a_needle_and_wastes_little(margin, keep_out):
    space = free_space(PLATE, [keep_out], margin_mm=margin)
    gap = shapely.distance(_free(space), shapely.Polygon(keep_out.points_mm))
    edge = shapely.distance(_free(space), shapely.Polygon(PLATE).exterior)
    assert margin <= gap <= margin * 1.01 + 1e-5  # derived: chords of at most 11.25 deg keep m to within 0.5 %
    assert margin <= edge <= margin * 1.01 + 1e-5
    assert space.clearance_mm == pytest.approx(min(gap, edge))


def test_random_keep_outs_keep_their_clearance():
    rng = np.random.default_rng(4)
    for _ in range(15):
        posts = []
        for k in range(6):
            angles = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(3, 12)))
            ring = rng.uniform((5, 5), (95, 45)) + rng.uniform(0.5, 8) * np.c_[np.cos(angles), np.sin(angles)]
            posts.append(KeepOut(f"k{k}", tuple(map(tuple, ring.tolist()))))
        space = free_space(PLATE, posts, margin_mm=1.5)
        if space.pieces:
            gaps = [shapely.distance(_free(space), shapely.Polygon(p.points_mm)) for p in posts]
            assert min(gaps) >= 1.5 - 1e-6


@pytest.mark.parametrize("radius", [2.0, 6.0, 15.0])
def test_every_corner_of_free_space_is_on_an_arc_of_the_bend_radius(radius):
    space = free_space(PLATE, [POST], margin_mm=1.0, bend_radius_mm=radius)
    corners = reflex_corners([piece.shape for piece in space.pieces])
    centre, before, after = corners.xy_mm, corners.before_mm, corners.after_mm
    into, out = centre - before, after - centre
    turn = np.abs(np.arctan2(into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0], np.sum(into * out, axis=1)))
    assert np.degrees(turn).max() <= 11.3
    # derived: an arc that touches two neighbouring chords turns by t between their middles, l/2 = r tan(t/2).
    reflex = {tuple(p) for p in centre.tolist()}
    both = np.array(
        [tuple(p) in reflex and tuple(q) in reflex for p, q in zip(before.tolist(), after.tolist(), strict=True)]
    )
    fits = np.minimum(np.hypot(*into.T), np.hypot(*out.T)) / 2 / np.tan(turn / 2)
    assert both.sum() > 4
    assert fits[both].min() >= radius * 0.999


def test_a_bend_radius_leaves_a_gap_between_straight_walls_open():
    walls = [
             KeepOut("low", ((30, -1), (70, -1), (70, 21), (30, 21))),
             KeepOut("top", ((30, 29), (70, 29), (70, 51), (30, 51)))]  # fmt: skip
    space = free_space(PLATE, walls, margin_mm=1.0, bend_radius_mm=8.0)
    middle = [(x, 25.0) for x in (35, 50, 65)]
    assert contains([p.shape for p in space.pieces], middle).all()  # the gap is 8 mm, half of 2 R


def test_free_space_never_grows_beyond_growing_by_the_radius():
    space = free_space(PLATE, [POST, NEEDLE], margin_mm=1.0, bend_radius_mm=7.0)
    everything = free_space(PLATE, [POST, NEEDLE], margin_mm=7.1)
    assert shapely.covers(_free(space).buffer(1e-6), _free(everything))


def test_pieces_that_fall_apart_are_all_reported_largest_first():
    wall = KeepOut("wall", ((70, -1), (72, -1), (72, 51), (70, 51)))
    space = free_space(PLATE, [wall], margin_mm=1.0)
    assert [p.area_mm2 for p in space.pieces] == pytest.approx([68 * 48, 26 * 48], rel=1e-3)  # derived
    for piece in space.pieces:
        assert contains([piece.shape], [piece.inside_mm])[0]


def test_a_part_without_room_has_no_pieces():
    assert free_space(PLATE, margin_mm=26).pieces == ()


def test_a_keep_out_that_cannot_be_read_stops_the_part():
    bad = KeepOut("bay", ((0, 0), (10, 10), (10, 0), (0, 10)))
    space = free_space(PLATE, [POST, bad], margin_mm=1.0, name="hull")
    assert space.pieces == ()
    assert [t.text for t in space.troubles] == ["hull, keep-out 'bay': edge 1-2 meets edge 3-4 at (5.00, 5.00) mm"]


@pytest.mark.parametrize(("margin", "radius"), [(-1, 0), (math.nan, 0), (1, -1), (1, math.inf)])
def test_margins_out_of_range_raise(margin, radius):
    with pytest.raises(OutOfRange, match="0 or more, finite"):
        free_space(PLATE, margin_mm=margin, bend_radius_mm=radius)


def test_distances_to_region_and_edge():
    shapes = free_space(PLATE, margin_mm=0).raw
    points = [(50, 25), (-3, 25), (10, 49)]
    assert distance_to_region_mm(shapes, points) == pytest.approx([0, 3, 0])  # derived
    assert distance_to_edge_mm(shapes, points) == pytest.approx([25, -3, 1])  # derived
    assert distance_to_region_mm([], points).tolist() == [math.inf] * 3


def test_stubs():
    space = free_space(PLATE, [POST], margin_mm=2.0)
    legal, at_wall, in_post, outside = approaches(space, [(20, 25), (39, 25), (45, 25), (-4, 10)])
    assert legal == Approach((20.0, 25.0), 0, 0.0)
    assert isinstance(at_wall, Approach)
    assert at_wall.stub_mm == pytest.approx(1.0, abs=0.02)  # derived: 39 to 38
    assert isinstance(in_post, NoApproach) and in_post.why == "in-keep-out"
    assert in_post.distance_mm == pytest.approx(5)
    assert "'post'" in in_post.text
    assert isinstance(outside, NoApproach) and (outside.why, outside.distance_mm) == ("outside", pytest.approx(4))


def test_a_stub_never_passes_through_a_thin_keep_out():
    # The nearest free point lies beyond the thin wall; the stub must go round to the near side.
    wall = KeepOut("wall", ((5, 10), (5.2, 10), (5.2, 40), (5, 40)))
    space = free_space(PLATE, [wall], margin_mm=3.0)
    stub = approach(space, (4.4, 25.0))
    straight = shapely.LineString([(4.4, 25.0), stub.legal_mm])
    assert not straight.intersects(shapely.Polygon(wall.points_mm))


def test_no_free_space_is_said():
    assert approach(free_space(PLATE, margin_mm=26), (50, 25)).why == "no-free-space"
