"""How warm a space gets over a range of power, to where the law ends."""

from __future__ import annotations

import pytest

from rushlight.stages.spaces import TOO_HOT_C, rises_over_k
from rushlight.thermal.enclosure import Box
from rushlight.units import Range

SMALL = Box(length_mm=60, width_mm=20, height_mm=20)
ROOM = Range(18.0, 22.0, 26.0)


@pytest.mark.parametrize("watts", [Range(0.1, 0.2, 0.4), Range(0.2, 1.0, 40.0), Range(0.2, 40.0, 50.0), Range(40.0, 50.0, 60.0)])
def test_the_rise_is_a_range_also_where_the_law_ends(watts) -> None:
    """Past the law's end the rise is what is left to it, which is less in a warm room: the ends must not cross."""
    for rise in rises_over_k(SMALL, watts, ROOM):
        assert 0 < rise.low <= rise.typical <= rise.high <= TOO_HOT_C


def test_a_box_far_too_hot_is_at_the_laws_end_in_any_room() -> None:
    air, wall = rises_over_k(SMALL, Range(40.0, 50.0, 60.0), ROOM)
    assert air == wall == Range.exactly(TOO_HOT_C - ROOM.typical)
