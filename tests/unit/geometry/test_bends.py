"""Bends: chords of an arc are one bend of its radius; a sharp corner says so."""

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.bends import bends
from rushlight.geometry.region import KeepOut
from rushlight.geometry.routes import Place, Sheet, build_layout, shortest_route


def _arc(radius, turn_deg, chords):
    """Straight in, chords that touch a circle at their middles, straight out."""
    step = math.radians(turn_deg) / chords
    points, heading, at = [(-50.0, 0.0), (0.0, 0.0)], 0.0, (0.0, 0.0)
    for _ in range(chords):
        heading += step
        length = 2 * radius * math.tan(step / 2)
        at = (at[0] + length * math.cos(heading), at[1] + length * math.sin(heading))
        points.append(at)
    heading += step
    return [*points, (at[0] + 50 * math.cos(heading), at[1] + 50 * math.sin(heading))]


@pytest.mark.parametrize("radius", [3.0, 12.0, 40.0])
@pytest.mark.parametrize("turn", [30, 90, 150])
def test_an_arc_is_one_bend_of_its_radius(radius, turn):
    found = bends(_arc(radius, turn, turn // 10), grow_mm=radius)
    assert len(found) == 1
    assert found[0].angle_deg == pytest.approx(turn + turn / (turn // 10))  # derived: one step more than chords
    assert radius * 0.99 <= found[0].radius_mm <= radius * 1.3


def test_a_straight_line_has_no_bend_and_repeats_do_not_matter():
    assert bends([(0, 0), (3, 0), (3, 0), (10, 0)], grow_mm=2) == ()
    assert bends([(0, 0)], grow_mm=2) == ()


def test_a_sharp_corner_without_rounding_has_no_radius():
    (corner,) = bends([(0, 0), (10, 0), (10, 10)], grow_mm=0)
    assert (corner.angle_deg, corner.radius_mm, corner.where_mm) == (pytest.approx(90), 0.0, (10, 0))


def test_a_stub_corner_is_bounded_by_the_shorter_side():
    (corner,) = bends([(0, 0), (2, 0), (2, 30)], grow_mm=1)
    assert corner.radius_mm == pytest.approx(2.0)  # derived: r tan(45 deg) = 2


def test_two_bends_the_opposite_way_are_two():
    found = bends([(0, 0), (20, 0), (40, 3), (60, 3)], grow_mm=5)
    assert [round(b.angle_deg, 3) for b in found] == [round(math.degrees(math.atan2(3, 20)), 3)] * 2


def test_a_negative_radius_raises():
    with pytest.raises(OutOfRange, match="grow_mm is -1"):
        bends([(0, 0), (1, 0), (1, 1)], grow_mm=-1)


@pytest.mark.parametrize("radius", [2.0, 5.0, 9.0])
def test_routes_between_legal_places_never_bend_tighter(radius):
    posts = tuple(
        KeepOut(f"p{k}", ((x, y), (x + 6, y), (x + 5, y + 7))) for k, (x, y) in enumerate([(25, 18), (60, 30), (45, 8)])
    )
    plate = ((0, 0), (120, 0), (120, 60), (0, 60))
    layout = build_layout([Sheet("deck", plate, posts)], margin_mm=1.0, bend_radius_mm=radius)
    shapes = [p.shape for p in layout.sheets[0].space.pieces]
    from rushlight.geometry.region import contains

    trial = np.random.default_rng(2).uniform((0, 0), (120, 60), (300, 2))
    points = trial[contains(shapes, trial)]
    bent = 0
    for a, b in zip(points[:60], points[60:120], strict=True):
        route = shortest_route(layout, Place("deck", *a), Place("deck", *b))
        bent += bool(route.bends)
        assert route.min_bend_radius_mm >= radius * 0.995
    assert bent > 10
