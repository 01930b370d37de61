"""Walls, coats, leaks."""

from __future__ import annotations

import math

import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics import wall
from rushlight.units import Range


def test_white_halves_where_black_squares() -> None:
    white = [wall.wall_transmittance(10.0, 0.0, thickness_mm=t) for t in (1.0, 2.0)]
    black = [wall.wall_transmittance(0.0, 3.0, thickness_mm=t) for t in (1.0, 2.0)]
    assert white[1] / white[0] == pytest.approx(0.5, abs=0.03)  # derived: 1 / (1 + SX)
    assert black[1] == pytest.approx(black[0] ** 2)  # source: Beer's law


@pytest.mark.parametrize("scatter", [0.0, 0.5, 5.0, 50.0])
@pytest.mark.parametrize("absorb", [0.0, 0.01, 1.0, 30.0])
def test_sheet_keeps_within_one_and_fades_with_thickness(scatter: float, absorb: float) -> None:
    last = 1.0
    for thickness in (0.0, 0.01, 0.3, 1.5, 20.0):
        through = wall.wall_transmittance(scatter, absorb, thickness_mm=thickness)
        back = wall.wall_reflectance(scatter, absorb, thickness_mm=thickness)
        assert through <= last + 1e-12
        assert through >= 0.0
        assert back >= 0.0
        assert through + back <= 1.0 + 1e-12
        last = through


def test_tiny_absorption_tends_to_none() -> None:
    near = wall.wall_transmittance(5.0, 1e-9, thickness_mm=1.0)
    assert near == pytest.approx(wall.wall_transmittance(5.0, 0.0, thickness_mm=1.0), rel=1e-4)


def test_stacking_never_gains_and_does_not_mind_the_order() -> None:
    ab = wall.stacked(0.5, 0.3, first_reflectance=0.4, second_reflectance=0.6)
    ba = wall.stacked(0.3, 0.5, first_reflectance=0.6, second_reflectance=0.4)
    assert ab == pytest.approx(ba)
    assert 0.15 < ab < 0.3
    assert wall.stacked(0.0, 0.5, first_reflectance=1.0, second_reflectance=0.5) == 0.0


def test_worked_leak() -> None:
    inside = wall.cavity_lx(2.0, area_m2=0.02, reflectance=0.7)
    assert inside == pytest.approx(333.3, abs=0.1)  # derived: 2 / (0.02 x 0.3)
    leak = wall.leak_luminance_cd_m2(inside, 0.05)
    assert leak == pytest.approx(5.305, abs=0.001)  # derived: 333.3 x 0.05 / pi
    allowed = 0.02 * 0.5 * 100.0 / math.pi
    assert math.log10(leak / allowed) == pytest.approx(1.22, abs=0.005)  # derived: room of 100 lx, rho 0.5, 2 %
    assert wall.coats_needed(leak, allowed, density=0.9) == 2


def test_coats_needed_are_enough_and_one_fewer_is_not() -> None:
    for leak in (0.3, 5.0, 80.0):
        coats = wall.coats_needed(leak, 0.1, density=0.35)
        assert leak * wall.absorbing_coats(1.0, 0.35, coats=coats) <= 0.1 * (1 + 1e-9)
        assert leak * wall.absorbing_coats(1.0, 0.35, coats=coats - 1) > 0.1
    assert wall.coats_needed(0.05, 0.1, density=0.9) == 0


def test_white_coats_work_slowly() -> None:
    coated = [wall.white_coats(0.2, 0.63, coats=n) for n in range(5)]
    assert coated == sorted(coated, reverse=True)
    assert coated[1] / coated[0] > 0.63  # worse than the coat alone: the wall throws the light back again


def test_density_from_readings() -> None:
    assert wall.optical_density(1000.0, 10.0) == pytest.approx(2.0)  # derived: log10 of 100
    assert wall.absorbing_coats(0.2, 2.0, coats=1) == pytest.approx(0.002)


def test_known_walls() -> None:
    assert wall.known_transmittance("white kit styrene 1.0 mm") == Range(0.08, 0.2, 0.4)
    with pytest.raises(UnknownName, match="white kit styrene"):
        wall.known_transmittance("white kit stirene 1.0 mm")
    with pytest.raises(UnknownName):
        wall.known_transmittance("kitchen aluminium foil")  # its typical value is only a bound


@pytest.mark.parametrize("call", [
    lambda: wall.wall_transmittance(-1.0, 0.0, thickness_mm=1.0),
    lambda: wall.cavity_lx(1.0, area_m2=0.0, reflectance=0.5),
    lambda: wall.cavity_lx(1.0, area_m2=0.1, reflectance=0.99), lambda: wall.direct_lx(1.0, distance_mm=0.0),
    lambda: wall.stacked(0.5, 0.5, first_reflectance=0.6, second_reflectance=0.1),
    lambda: wall.reflectance_from_readings(0.5, 0.2), lambda: wall.reflectance_from_readings(0.5, 0.6),
    lambda: wall.optical_density(1.0, 2.0), lambda: wall.coats_needed(1e9, 1e-4, density=0.2),
    lambda: wall.coats_needed(1.0, 0.0, density=0.2), lambda: wall.leak_luminance_cd_m2(1.0, 1.2),
    lambda: wall.white_coats(0.0, 0.5, coats=1), lambda: wall.absorbing_coats(0.5, 0.9, coats=-1),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
