"""Sheets laid on one another.

P. Kubelka, New contributions to the optics of intensely light-scattering materials, part II: nonhomogeneous
layers, J. Opt. Soc. Am. 44 (1954) 330: T12 = T1 T2 / (1 - R1 R2), R12 = R1 + T1^2 R2 / (1 - R1 R2).
"""

from __future__ import annotations

import pytest

from rushlight.optics.sheet import overlap_factor
from rushlight.optics.wall import reflectance_from_readings, stacked, wall_reflectance, wall_transmittance, white_coats


@pytest.mark.parametrize(("scatter", "absorb"), [(3.0, 0.0), (5.0, 0.1), (8.0, 2.0), (0.2, 4.0), (0.0, 3.0)])
def test_doubling_a_sheet_equals_a_sheet_of_double_thickness(scatter: float, absorb: float) -> None:
    thin, back = (law(scatter, absorb, thickness_mm=0.7) for law in (wall_transmittance, wall_reflectance))
    doubled = stacked(thin, thin, first_reflectance=back, second_reflectance=back)
    assert wall_transmittance(scatter, absorb, thickness_mm=1.4) == pytest.approx(doubled)  # source: Kubelka 1954
    reflected = back + thin**2 * back / (1.0 - back**2)
    assert wall_reflectance(scatter, absorb, thickness_mm=1.4) == pytest.approx(reflected)  # source: Kubelka 1954


def test_series_of_interreflections() -> None:
    t1, t2, r1, r2 = 0.5, 0.4, 0.45, 0.5
    series = sum(t1 * (r2 * r1) ** bounce * t2 for bounce in range(200))
    # derived: geometric series
    assert stacked(t1, t2, first_reflectance=r1, second_reflectance=r2) == pytest.approx(series)


def test_overlap_of_the_worked_sheet() -> None:
    assert 0.5 * overlap_factor(0.5, 0.45) == pytest.approx(0.3135, abs=5e-4)  # derived: 0.25 / (1 - 0.2025)


def test_overlap_of_unlike_sheets_is_their_stack_over_one_of_them() -> None:
    both = stacked(0.65, 0.38, first_reflectance=0.28, second_reflectance=0.55)  # source: Kubelka 1954
    assert 0.65 * overlap_factor(0.38, 0.55, own_reflectance=0.28) == pytest.approx(both)
    assert 0.38 * overlap_factor(0.65, 0.28, own_reflectance=0.55) == pytest.approx(both)


def test_white_layers_add_their_opacities() -> None:
    wall = wall_transmittance(4.0, 0.0, thickness_mm=1.0)
    coat = wall_transmittance(10.0, 0.0, thickness_mm=0.05)
    once = stacked(wall, coat, first_reflectance=1 - wall, second_reflectance=1 - coat)
    assert white_coats(wall, coat, coats=1) == pytest.approx(once)


def test_reflectance_comes_back_from_readings() -> None:
    two = stacked(0.55, 0.55, first_reflectance=0.4, second_reflectance=0.4)
    assert reflectance_from_readings(0.55, two) == pytest.approx(0.4)
