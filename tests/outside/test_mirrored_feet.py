"""Feet of mirrored floodlights against shapely's affine maps: turned so that the line lies level, flipped, turned back."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from shapely.affinity import rotate, scale

from rushlight.model.plan import Mirror, Row
from rushlight.stages.floods import hung_floods


class _Rows:
    """What `hung_floods` reads of a plan."""

    lamps = ()

    def __init__(self, row: Row) -> None:
        self.rows = (row,)


@pytest.mark.parametrize("seed", range(20))
def test_feet_and_aims_about_any_line(seed: int) -> None:
    rng = random.Random(seed)
    at = [(rng.uniform(-80, 80), rng.uniform(-80, 80)) for _ in range(5)]
    a, b, *feet, by = at
    row = Row(name="r", part="port", along_mm=((0.0, 0.0), (9.0, 0.0)), count=4, colour="white", states=("on",), lights_mm=30.0,
              lights_part="deck", feet_mm=tuple(feet), aim_by_mm=by, mirror=Mirror(part="starboard", lights_line_mm=(a, b)))
    hung = hung_floods(_Rows(row))  # type: ignore[arg-type]
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    for number in range(1, 5):
        first, other = hung[f"r {number}"], hung[f"r m{number}"]
        for mine, theirs in ((first.foot_mm, other.foot_mm), (first.aim_mm, other.aim_mm)):
            level = scale(rotate(shapely.Point(mine), -turn, origin=a), 1.0, -1.0, origin=a)
            want = rotate(level, turn, origin=a)
            assert theirs == pytest.approx((want.x, want.y), abs=1e-9)
        assert (first.ground, other.ground, other.height_mm) == ("deck", "deck", 30.0)
