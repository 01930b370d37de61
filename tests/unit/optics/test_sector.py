"""Sectors: what spills beyond them and what reaches their edges."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import sector
from rushlight.optics.sector import edge_share, screened_share, spill_share


def test_a_lambertian_sidelight_spills_and_fades_as_its_cosine() -> None:
    spill = spill_share(1.0, axis_deg=90, from_deg=0, to_deg=112.5)
    assert spill == pytest.approx(math.cos(math.radians(27.5)))  # derived: the near edge is 22.5 deg off, 5 more
    assert edge_share(1.0, axis_deg=90, from_deg=0, to_deg=112.5) == 0.0  # derived: dead ahead is 90 deg off


def test_the_sector_may_lie_across_north() -> None:
    ahead = spill_share(2.0, axis_deg=0, from_deg=300, to_deg=60)
    turned = spill_share(2.0, axis_deg=100, from_deg=40, to_deg=160)
    assert ahead == pytest.approx(turned) == pytest.approx(math.cos(math.radians(65)) ** 2)  # derived
    assert edge_share(2.0, axis_deg=0, from_deg=300, to_deg=60) == pytest.approx(0.25)  # derived: cos(60)^2


def test_an_axis_outside_spills_all_and_reaches_nothing() -> None:
    assert spill_share(5.0, axis_deg=180, from_deg=300, to_deg=60) == 1.0
    assert edge_share(5.0, axis_deg=180, from_deg=300, to_deg=60) == 0.0


def test_all_round_never_spills_and_is_dark_behind() -> None:
    assert spill_share(1.0, axis_deg=10, from_deg=0, to_deg=360) == 0.0
    assert edge_share(1.0, axis_deg=10, from_deg=0, to_deg=360) == 0.0


@pytest.mark.parametrize("order", [0.0, 1.0, 4.8, 45.0])
def test_second_method_bearing_by_bearing(order: float) -> None:
    for start, end, axis in [(0, 112.5, 90), (247.5, 112.5, 0), (350, 20, 5), (30, 60, 45), (112.5, 247.5, 180)]:
        width = (end - start) % 360
        inside, outside = [], []
        for step in range(3600):
            bearing = step / 10
            off = abs((bearing - axis + 180) % 360 - 180)
            share = math.cos(math.radians(off)) ** order if off < 90 else 0.0
            past = (bearing - start) % 360
            if past <= width:
                inside.append(share)
            elif width + 5 <= past <= 355:
                outside.append(share)
        tolerance = 0.02
        assert spill_share(order, axis_deg=axis, from_deg=start, to_deg=end) == pytest.approx(
            max(outside), abs=tolerance)
        assert edge_share(order, axis_deg=axis, from_deg=start, to_deg=end) == pytest.approx(min(inside), abs=tolerance)


def test_a_narrower_beam_spills_less_and_reaches_less() -> None:
    orders = [0.5, 1, 2, 5, 20]
    spills = [spill_share(m, axis_deg=0, from_deg=320, to_deg=40) for m in orders]
    edges = [edge_share(m, axis_deg=0, from_deg=320, to_deg=40) for m in orders]
    assert spills == sorted(spills, reverse=True) and edges == sorted(edges, reverse=True)
    assert all(0 <= share <= 1 for share in spills + edges)


def test_edges_of_the_range_raise() -> None:
    with pytest.raises(OutOfRange, match="order"):
        spill_share(-1.0, axis_deg=0, from_deg=0, to_deg=10)
    with pytest.raises(OutOfRange, match="beyond"):
        spill_share(1.0, axis_deg=0, from_deg=0, to_deg=10, beyond_deg=46)
    with pytest.raises(OutOfRange, match="order"):
        edge_share(-0.1, axis_deg=0, from_deg=0, to_deg=10)


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
