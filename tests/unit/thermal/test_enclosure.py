"""Closed boxes: balance, limits, trends, agreement with a second computation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rushlight.errors import OutOfRange
from rushlight.tables import rows
from rushlight.thermal import enclosure
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.thermal.stack import vent_w
from rushlight.thermal.vents import vents_for_mm2

HULL = Box(300.0, 100.0, 60.0)


def _box(row: dict[str, str]) -> Box:
    return Box(*(float(size) for size in row["box_mm"].split("x")))


@pytest.mark.parametrize("row", rows("hull_examples"), ids=lambda row: f"{row['box_mm']}-{row['power_W']}")
def test_worked_hulls(row: dict[str, str]) -> None:
    heat = box_heat(_box(row), float(row["power_W"]), room_c=20.0)
    # derived: hull_examples.csv, a separate script with tabulated air
    assert heat.without_radiation_k == pytest.approx(float(row["dT_air_K"]), abs=0.1)
    assert heat.with_radiation_k == pytest.approx(float(row["dT_air_K_inner_radiation"]), abs=0.1)


def test_makers_u_values_lie_between_the_two() -> None:
    heat = box_heat(HULL, 5.0, room_c=20.0)
    area_m2 = 0.108
    plastic = next(float(row["k_W_m2K"]) for row in rows("enclosure_u_values") if "plastic" in row["wall"])
    assert 5.0 / (area_m2 * heat.without_radiation_k) < plastic < 5.0 / (area_m2 * heat.with_radiation_k)


@pytest.mark.parametrize("power_w", [1e-3, 0.05, 1.0, 5.0, 12.0])
def test_heat_out_equals_power_in(power_w: float) -> None:
    rise = box_heat(HULL, power_w).without_radiation_k
    assert enclosure._flow(HULL, rise, 22.0, False)[0] == pytest.approx(power_w, rel=1e-4)


def test_more_power_is_warmer_and_less_than_in_proportion() -> None:
    rises = [box_heat(HULL, power).without_radiation_k for power in (0.0, 0.1, 0.5, 1.0, 2.0, 4.0, 8.0)]
    assert rises == sorted(rises)
    assert rises[0] == 0.0
    assert rises[-1] < 2.0 * rises[-2]


def test_larger_box_and_free_base_are_cooler() -> None:
    rise = box_heat(HULL, 3.0).without_radiation_k
    assert box_heat(Box(450.0, 150.0, 90.0), 3.0).without_radiation_k < rise
    assert box_heat(Box(300.0, 100.0, 60.0, base_free=False), 3.0).without_radiation_k > rise


def test_wall_is_cooler_than_the_air_and_ranges_are_in_order() -> None:
    heat = box_heat(HULL, 5.0)
    assert heat.wall_k.typical < heat.with_radiation_k < heat.without_radiation_k
    assert heat.inside_air_k.high == pytest.approx(1.3 * heat.without_radiation_k)
    assert heat.inside_air_k.low == pytest.approx(0.7 * heat.with_radiation_k)


@pytest.mark.parametrize("rayleigh", [0.0, 1e2, 1e4, 1e6])
def test_convection_fits_agree_and_rise(rayleigh: float) -> None:
    laminar = enclosure.nusselt_vertical(rayleigh, 0.71, laminar=True)
    whole = enclosure.nusselt_vertical(rayleigh, 0.71)
    assert whole == pytest.approx(laminar, rel=0.2)  # source: Churchill & Chu 1975, two fits of one set of data
    assert enclosure.nusselt_vertical(rayleigh + 1e3, 0.71) > whole
    up, down = (enclosure.nusselt_level(rayleigh, hot_side_up=side) for side in (True, False))
    assert up >= 1.0
    assert down >= 1.0


def test_level_face_at_its_seam() -> None:
    below, above = (enclosure.nusselt_level(number, hot_side_up=True) for number in (1e7, 1.001e7))
    assert above == pytest.approx(below, rel=0.08)  # source: the published pieces meet within a few per cent


def test_conductivity_of_the_wall_hardly_matters() -> None:
    thin, thick = (box_heat(Box(300.0, 100.0, 60.0, wall_mm=mm), 5.0).without_radiation_k for mm in (0.5, 2.5))
    assert thick == pytest.approx(thin, rel=0.06)


@pytest.mark.parametrize("call", [
    lambda: box_heat(Box(0.0, 100.0, 60.0), 1.0), lambda: box_heat(HULL, -1.0), lambda: box_heat(HULL, 201.0),
    lambda: box_heat(HULL, 1.0, room_c=60.0), lambda: box_heat(Box(20.0, 20.0, 20.0), 50.0),
    lambda: enclosure.air_at(200.0), lambda: enclosure.nusselt_vertical(1e10, 0.7, laminar=True),
    lambda: enclosure.nusselt_level(1e12, hot_side_up=True), lambda: enclosure.radiation_w_per_m2k(20.0, 1.1),
    lambda: enclosure.rayleigh(enclosure.air_at(20.0), -1.0, length_m=0.1, film_k=300.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


def test_vents_cool_and_their_heat_is_part_of_the_balance() -> None:
    rises = [box_heat(replace(HULL, vents_mm2=area), 8.0).without_radiation_k for area in (0.0, 200.0, 2000.0, 20000.0)]
    assert rises == sorted(rises, reverse=True)
    assert rises[0] - rises[1] < 0.2 * rises[0]  # a few small holes hardly help
    open_hull = replace(HULL, vents_mm2=2000.0)
    rise = box_heat(open_hull, 8.0).without_radiation_k
    walls = enclosure._flow(HULL, rise, 22.0, False)[0]
    assert walls + vent_w(2000.0, rise, height_mm=60.0) == pytest.approx(8.0, rel=1e-4)
    assert [vent_w(area, rise, height_mm=60.0) for area, rise in ((2000.0, 0.0), (2000.0, -1.0), (0.0, 20.0))] == [0.0] * 3


def test_vents_that_are_needed_are_just_enough() -> None:
    allowed = 0.9 * box_heat(HULL, 10.0).wall_k.high
    needed = vents_for_mm2(HULL, 10.0, allowed)
    assert needed is not None
    assert box_heat(replace(HULL, vents_mm2=needed), 10.0).wall_k.high <= allowed
    assert box_heat(replace(HULL, vents_mm2=0.95 * needed), 10.0).wall_k.high > allowed
    assert vents_for_mm2(HULL, 1.0, 60.0) == 0.0
    assert vents_for_mm2(HULL, 100.0, 5.0) is None
    with pytest.raises(OutOfRange):
        vents_for_mm2(HULL, 1.0, 0.0)
