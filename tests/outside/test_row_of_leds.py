"""Contrast of a long row behind a diffuser by two ways: SciPy's Bessel functions against sums of thousands of LEDs."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.diffuser import gap_for_contrast, row_contrast, row_harmonic, row_light_lx
from rushlight.tables import rows

LAMBERTIAN = 1.0


def _direct(gap: float, order: float) -> float:
    """Contrast of 8001 LEDs of pitch 1, over a fine grid of places."""
    places = np.arange(-4000.0, 4001.0)
    light = [float(np.sum((gap**2 + (places - x) ** 2) ** (-(order + 3.0) / 2.0))) for x in np.linspace(0.0, 0.5, 6)]
    return (max(light) - min(light)) / (max(light) + min(light))


@pytest.mark.parametrize("order", [1.0, 1.247, 4.82, 9.9, 20.0])
@pytest.mark.parametrize("gap", [0.3, 0.5, 0.75, 1.0, 1.25])
def test_against_a_direct_sum(gap: float, order: float) -> None:
    assert row_contrast(gap, order) == pytest.approx(_direct(gap, order), rel=2e-3, abs=1e-9)


@pytest.mark.parametrize("row", [row for row in rows("strip_contrast") if float(row["michelson"]) > 1e-6],
                         ids=lambda row: f"{row['m']}-{row['z_over_p']}")
def test_table_of_direct_sums(row: dict[str, str]) -> None:
    got = row_contrast(float(row["z_over_p"]), float(row["m"]))
    assert got == pytest.approx(float(row["michelson"]), rel=1e-3)


@pytest.mark.parametrize("ratio", [0.5, 1.0, 2.0])
def test_lambertian_harmonic_is_elementary(ratio: float) -> None:
    s = 2.0 * math.pi * ratio
    # derived: K_3/2 in closed form
    assert row_harmonic(ratio, LAMBERTIAN) == pytest.approx(2.0 * (1.0 + s) * math.exp(-s))


@pytest.mark.parametrize("order", [0.7, 1.0, 3.3, 8.0])
def test_harmonic_is_the_fourier_coefficient_of_the_row(order: float) -> None:
    x = np.arange(64) / 64.0
    places = np.arange(-3000.0, 3001.0)
    light = np.array([np.sum((0.6**2 + (places - one) ** 2) ** (-(order + 3.0) / 2.0)) for one in x])
    spectrum = np.abs(np.fft.rfft(light)) / 64.0
    for k in (1, 2, 3):
        got = row_harmonic(0.6, order, harmonic=k)
        assert got == pytest.approx(2.0 * spectrum[k] / spectrum[0], rel=1e-3)  # derived: discrete Fourier sum


@pytest.mark.parametrize("row", rows("strip_required_gap"), ids=lambda row: f"{row['m']}-{row['michelson_target']}")
def test_required_gap(row: dict[str, str]) -> None:
    got = gap_for_contrast(float(row["michelson_target"]), pitch_mm=10.0, order=float(row["m"]))
    assert got == pytest.approx(10.0 * float(row["z_over_p"]), rel=2e-3)  # table: one-term form


def test_ends_of_a_finite_row_fall_to_about_half() -> None:
    row = np.arange(41) * 10.0
    middle, end = row_light_lx(row, 1.0, order=1.0, gap_mm=20.0, x_mm=np.array([200.0, 0.0]))
    whole = math.pi / 2.0 * 1e6 / (20.0 * 10.0)  # derived: mean of an endless Lambertian row, pi I0 / (2 z p)
    assert middle == pytest.approx(whole, rel=0.01)
    assert end == pytest.approx(whole / 2.0 + 0.5 * 1e6 / 20.0**2, rel=0.01)  # derived: half a row and half its end
