"""Easing a fibre's ends."""

from __future__ import annotations

import math

from rushlight.geometry.bends import bends
from rushlight.geometry.ease import eased
from rushlight.geometry.outline import Shape

HULL = (Shape(((0.0, 0.0), (200.0, 0.0), (200.0, 50.0), (0.0, 50.0))),)
POSTED = (Shape(HULL[0].exterior_mm, (((8.0, 20.0), (8.0, 30.0), (40.0, 30.0), (40.0, 20.0)),)),)
STUB = ((10.0, 2.0), (10.0, 15.0), (150.0, 25.0))


def least(points: tuple[tuple[float, float], ...]) -> float:
    return min((bend.radius_mm for bend in bends(points, grow_mm=10.0)), default=math.inf)


def test_a_right_angled_stub_becomes_a_slanting_run() -> None:
    gentle = eased(STUB, HULL, grow_mm=10.0)
    assert gentle == (STUB[0], STUB[-1])  # derived: nothing lies between the lamp and the end
    assert least(gentle) == math.inf


def test_an_end_is_not_drawn_through_a_post() -> None:
    route = ((10.0, 35.0), (44.0, 35.0), (44.0, 10.0))
    kept = eased(route, POSTED, grow_mm=2.0)
    assert kept == route  # derived: the straight line would cross the post


def test_the_least_bend_never_gets_tighter_and_ends_stay() -> None:
    for far in (30.0, 60.0, 120.0):
        route = ((10.0, 1.0), (10.0, 12.0), (far, 14.0), (far, 45.0))
        gentle = eased(route, HULL, grow_mm=10.0)
        assert least(gentle) >= least(route)
        assert (gentle[0], gentle[-1]) == (route[0], route[-1])


def test_a_straight_route_is_left_alone() -> None:
    assert eased(((0.0, 1.0), (9.0, 1.0)), HULL, grow_mm=1.0) == ((0.0, 1.0), (9.0, 1.0))
