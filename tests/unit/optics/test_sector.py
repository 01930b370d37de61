"""Sectors: what spills beyond them and what reaches their edges."""

from __future__ import annotations

import math

import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.sector import edge_share, spill_share


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
