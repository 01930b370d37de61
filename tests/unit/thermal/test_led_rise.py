"""Junctions, strips on walls, limits."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import rows
from rushlight.thermal import led_rise
from rushlight.units import Range


def test_worked_junction() -> None:
    junction = led_rise.junction_c(Range(40.0, 45.0, 50.0), 0.04, resistance_k_per_w=Range.exactly(500.0))
    assert junction.typical == pytest.approx(65.0)  # source: data sheet R_thJA 500 K/W; 20 mA x 2 V in 45 C
    assert junction.high - junction.low == pytest.approx(10.0)


@pytest.mark.parametrize("row", rows("led_thermal_resistance"), ids=lambda row: row["package"])
def test_resistances(row: dict[str, str]) -> None:
    assert led_rise.junction_resistance(row["package"]).typical == float(row["typical_k_per_w"])


def _finite_difference(power_w_per_m: float, width_mm: float, wall_mm: float) -> float:
    """Middle of a heated band on a wide fin, on a grid of 0.05 mm over 60 mm."""
    step_m, count = 5e-5, 1201
    place = (np.arange(count) - count // 2) * step_m
    heat = np.where(np.abs(place) <= width_mm / 2000.0, 1.0, 0.0)
    heat *= power_w_per_m / (heat.sum() * step_m)
    conduct = 0.13 * wall_mm / 1000.0 / step_m**2
    matrix = np.diag(np.full(count, 2.0 * conduct + 16.0))
    matrix -= conduct * (np.diag(np.ones(count - 1), 1) + np.diag(np.ones(count - 1), -1))
    return float(np.linalg.solve(matrix, heat)[count // 2])


@pytest.mark.parametrize(("power", "width", "wall"), [(4.8, 10.0, 1.5), (9.6, 8.0, 1.0), (14.4, 5.0, 2.0)])
def test_strip_on_a_wall_by_finite_differences(power: float, width: float, wall: float) -> None:
    got = led_rise.strip_wall_rise_k(power, width_mm=width, wall_mm=wall)
    assert got.typical == pytest.approx(_finite_difference(power, width, wall), rel=0.01)  # derived: second method


@pytest.mark.parametrize("row", rows("strip_on_wall"), ids=lambda row: row["W_per_m"])
def test_table_of_strips(row: dict[str, str]) -> None:
    got = led_rise.strip_wall_rise_k(float(row["W_per_m"]), width_mm=10.0, wall_mm=1.5)
    assert got.typical == pytest.approx(float(row["dT_K"]), abs=0.06)


def test_spreader_and_thicker_wall_are_cooler_and_a_wide_band_is_even() -> None:
    bare = led_rise.strip_wall_rise_k(9.6, width_mm=10.0, wall_mm=1.5).typical
    metal = led_rise.strip_wall_rise_k(9.6, width_mm=10.0, wall_mm=0.5, conductivity_w_per_mk=200.0).typical
    assert metal < bare / 3.0
    assert led_rise.strip_wall_rise_k(9.6, width_mm=10.0, wall_mm=3.0).typical < bare
    wide = led_rise.strip_wall_rise_k(16.0, width_mm=1000.0, wall_mm=1.5).typical
    assert wide == pytest.approx(1.0)  # derived: P' / (w h), 16 / (1 x 16)


def test_fin_length() -> None:
    assert led_rise.fin_length_mm(1.5) == pytest.approx(3.5, abs=0.05)  # derived: sqrt(0.13 x 0.0015 / 16)


def test_a_hull_settles_in_minutes() -> None:
    assert 120.0 < led_rise.settling_s(100.0, area_m2=0.108) < 240.0  # derived: m c / (U A)


def test_limits() -> None:
    wall = led_rise.limit_of("styrene wall")
    assert (wall.advise_c, wall.stop_c) == (50.0, 60.0)  # source: thermal_limits.csv, below the lowest HDT of 70 C
    lowest_hdt_c = min(float(row["value"].split("-")[0]) for row in rows("polystyrene_thermal")
                       if "heat deflection" in row["quantity"])
    assert wall.stop_c < lowest_hdt_c
    for row in rows("thermal_limits"):
        assert led_rise.limit_of(row["what"]).advise_c < led_rise.limit_of(row["what"]).stop_c
    with pytest.raises(UnknownName, match="styrene wall"):
        led_rise.limit_of("styrene wal")
    with pytest.raises(UnknownName, match="lamp"):
        led_rise.junction_resistance("5 mm lamp")


@pytest.mark.parametrize("call", [
    lambda: led_rise.junction_c(Range.exactly(20.0), -1.0, resistance_k_per_w=Range.exactly(300.0)),
    lambda: led_rise.fin_length_mm(0.0), lambda: led_rise.strip_wall_rise_k(60.0, width_mm=10.0, wall_mm=1.5),
    lambda: led_rise.strip_wall_rise_k(5.0, width_mm=0.0, wall_mm=1.5), lambda: led_rise.settling_s(0.0, area_m2=0.1),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
