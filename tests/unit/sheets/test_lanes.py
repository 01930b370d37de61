"""Runs side by side."""

from __future__ import annotations

import itertools
import math

import pytest

from rushlight.sheets.lanes import in_lanes

EAST = ((0.0, 0.0), (10.0, 0.0))


def test_a_run_alone_stays_where_it_is() -> None:
    assert in_lanes([EAST, ((0.0, 5.0), (10.0, 5.0))], 1.0) == (EAST, ((0.0, 5.0), (10.0, 5.0)))


@pytest.mark.parametrize("count", [2, 3, 7])
def test_shared_runs_lie_a_pitch_apart_about_the_middle(count: int) -> None:
    heights = [run[0][1] for run in in_lanes([EAST] * count, 0.5)]
    assert sum(heights) == pytest.approx(0.0)
    assert [b - a for a, b in itertools.pairwise(heights)] == pytest.approx([0.5] * (count - 1))


def test_the_way_of_running_does_not_change_the_lane() -> None:
    """A lead that comes back along the same way keeps off the one that goes out."""
    out, back = in_lanes([EAST, EAST[::-1]], 1.0)
    assert out == ((0.0, -0.5), (10.0, -0.5))
    assert back == ((10.0, 0.5), (0.0, 0.5))


def test_corners_are_mitred_and_branches_leave() -> None:
    corner = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    straight = ((0.0, 0.0), (10.0, 0.0), (20.0, 0.0))
    both = in_lanes([corner, corner], 1.0)
    assert both[0][1] == pytest.approx((10.5, -0.5)) and both[1][1] == pytest.approx((9.5, 0.5))
    first, second = in_lanes([corner, straight], 1.0)
    assert first[-1] == (10.0, 10.0) and second[-1] == (20.0, 0.0)  # unshared ends are not moved
    assert first[0][1] == -0.5 and second[0][1] == 0.5


def test_no_point_moves_farther_than_its_lane_and_mitre() -> None:
    zigzag = tuple((float(k), float((k % 2) * 3)) for k in range(12))
    for run in in_lanes([zigzag] * 4, 0.4):
        for point in run:
            far = min(math.dist(point, other) for other in zigzag)
            assert far <= 0.6 * 2.829  # derived: 1.5 pitches; a mitre is at most 2 / sqrt(0.5) of them


def test_points_on_one_another_are_left_out() -> None:
    assert in_lanes([((0.0, 0.0), (0.0, 0.0), (5.0, 0.0))], 1.0) == (((0.0, 0.0), (5.0, 0.0)),)
    assert in_lanes([((1.0, 1.0), (1.0, 1.0))], 1.0) == (((1.0, 1.0),),)
