"""Screens of sector lights."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import sector
from rushlight.optics.sector import screened_share


@pytest.mark.parametrize("width", [112.5, 135.0, 180.0, 225.0])
@pytest.mark.parametrize("size", [0.5, 3.0])
def test_a_folded_screen_cuts_where_it_says(size: float, width: float) -> None:
    """Rays one by one: parallel rays to a far eye from points of the lamp's disc, against the two flanks."""
    length = sector.screen_length_mm(size, 5.0)
    assert sector.penumbra_deg(size, length) == pytest.approx(5.0)
    flank, half = sector.screen_flank_mm(size, length, width), math.radians(width / 2)
    centre = np.array([0.0, size / 2 / math.sin(half)])
    grid = np.linspace(-0.499, 0.499, 41) * size
    disc = np.array([(x, y) for x in grid for y in grid if math.hypot(x, y) < 0.499 * size]) + centre
    flanks = [np.array([side * math.sin(half), math.cos(half)]) * flank for side in (-1, 1)]

    def seen(bearing_deg: float) -> float:
        way = np.array([math.sin(math.radians(bearing_deg)), math.cos(math.radians(bearing_deg))])
        free = np.ones(len(disc), dtype=bool)
        for end in flanks:
            cross = way[0] * end[1] - way[1] * end[0]
            if abs(cross) < 1e-9:
                continue
            along = -(disc[:, 0] * end[1] - disc[:, 1] * end[0]) / cross
            part = -(disc[:, 0] * way[1] - disc[:, 1] * way[0]) / cross
            free &= ~((along > 0) & (part >= 0) & (part <= 1))
        return float(free.mean())

    for side in (-1, 1):
        assert seen(side * (width / 2 - 0.01)) == 1.0
        assert 0.3 < seen(side * (width / 2 + 2.5)) < 0.7
        assert seen(side * (width / 2 + 5.01)) == 0.0
    assert seen(0.0) == 1.0 and (seen(180.0) == 0.0)


def test_a_screen_out_of_range() -> None:
    for wrong in (lambda: sector.screen_length_mm(0.0, 5.0), lambda: sector.screen_length_mm(1.0, 0.1),
                  lambda: sector.penumbra_deg(1.0, 0.0), lambda: sector.screen_flank_mm(1.0, 1.0, 5.0)):
        with pytest.raises(OutOfRange):
            wrong()


@pytest.mark.parametrize("past", [0.0, 0.4, 1.0, 2.5, 3.7, 4.9, 5.0])
def test_second_method_what_is_left_of_a_disc_past_a_screen(past: float) -> None:
    grid = np.linspace(-1.0, 1.0, 1401)
    x, y = np.meshgrid(grid, grid)
    disc = x * x + y * y < 1.0
    covered = -1.0 + 2.0 * math.tan(math.radians(past)) / math.tan(math.radians(5.0))  # derived: straight rays
    counted = float((disc & (x > covered)).sum() / disc.sum())
    for bearing in (112.5 + past, -past):
        assert screened_share(bearing, 0.0, 112.5, cut_deg=5.0) == pytest.approx(counted, abs=2e-3)


def test_a_screen_leaves_its_sector_alone_and_all_round_has_none() -> None:
    inside = [screened_share(at, 247.5, 112.5, cut_deg=5.0) for at in (247.5, 300.0, 0.0, 360.0, 112.5)]
    assert inside == [1.0] * 5 and screened_share(180.0, 247.5, 112.5, cut_deg=5.0) == 0.0
    assert all(screened_share(at, 40.0, 40.0, cut_deg=5.0) == 1.0 for at in range(0, 360, 30))
    with pytest.raises(OutOfRange, match="cut-off"):
        screened_share(0.0, 10.0, 20.0, cut_deg=0.0)
