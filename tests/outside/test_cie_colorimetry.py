"""CIE 1931 locus, colour temperatures, LED spectra.

CIE 015, Colorimetry: 2-degree observer, illuminants A and D (white points printed there).
colour-science 0.4.7 (library): spectral chromaticities at wavelengths between the 5 nm of our table, Planck
integrals, Gaussian LED spectra, Ohno 2013 colour temperatures; its answers are written here or in data/*.csv.
M. P. Krystek, Color Res. Appl. 10 (1985) 38: the Planckian locus in u, v from 1000 to 15000 K, within 9e-5.
C. S. McCamy, Color Res. Appl. 17 (1992) 142: colour temperature from x, y (both formulas from memory).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.colour import (
    dominant_nm,
    efficacy_lm_per_w,
    led_colour,
    observer,
    planck_xy,
    wavelength_xy,
    white_xy,
)
from rushlight.tables import rows


@pytest.mark.parametrize(("nm", "x", "y", "v"), [
    (471, 0.12147, 0.06259, 0.094918), (473, 0.11581, 0.07358, 0.103367),  # source: colour-science 0.4.7
    (507, 0.00601, 0.69612, 0.44431), (512, 0.02224, 0.77963, 0.544512),  # source: colour-science 0.4.7
    (523, 0.09794, 0.83159, 0.761969), (547, 0.28013, 0.71172, 0.987418),  # source: colour-science 0.4.7
    (588, 0.56327, 0.43606, 0.781192), (594, 0.59766, 0.40176, 0.707496),  # source: colour-science 0.4.7
    (613, 0.67472, 0.32510, 0.465678), (627, 0.70371, 0.29622, 0.297850),  # source: colour-science 0.4.7
])
def test_spectral_chromaticity_between_the_rows(nm: float, x: float, y: float, v: float) -> None:
    assert wavelength_xy(nm) == pytest.approx((x, y), abs=4e-4)  # cubic through 5 nm steps
    assert observer(nm)[1] == pytest.approx(v, abs=3e-4)


@pytest.mark.parametrize("row", rows("colour_locus"), ids=lambda row: row["wavelength_nm"])
def test_locus_table(row: dict[str, str]) -> None:
    nm = float(row["wavelength_nm"])
    assert wavelength_xy(nm) == pytest.approx((float(row["x"]), float(row["y"])), abs=1e-5)
    assert efficacy_lm_per_w(nm) == pytest.approx(float(row["K_lm_per_W"]), abs=0.02)


def test_illuminant_a() -> None:
    assert planck_xy(2856.0) == pytest.approx((0.44758, 0.40745), abs=6e-4)  # source: CIE 015


@pytest.mark.parametrize(("kelvin", "xy"), [
    (6504.0, (0.31272, 0.32903)),  # source: CIE 015, D65
    (5003.0, (0.34567, 0.35850)),  # source: CIE 015, D50
    (7504.0, (0.29903, 0.31488)),  # source: CIE 015, D75
])
def test_daylight(kelvin: float, xy: tuple[float, float]) -> None:
    assert white_xy(kelvin) == pytest.approx(xy, abs=2e-4)


@pytest.mark.parametrize("row", rows("colour_planck"), ids=lambda row: row["T_K"])
def test_planck_integral(row: dict[str, str]) -> None:
    assert planck_xy(float(row["T_K"])) == pytest.approx((float(row["x"]), float(row["y"])), abs=7e-4)


@pytest.mark.parametrize("kelvin", [1700.0, 2222.0, 2700.0, 3999.0, 4001.0, 6500.0, 15000.0])
def test_planck_against_our_own_integral_of_plancks_law(kelvin: float) -> None:
    nm = np.arange(385.0, 776.0)
    power = nm**-5 / np.expm1(1.4388e7 / (nm * kelvin))
    xyz = power @ np.array([observer(float(one)) for one in nm])
    assert planck_xy(kelvin) == pytest.approx(tuple(xyz[:2] / xyz.sum()), abs=8e-4)  # derived: Planck's law


@pytest.mark.parametrize(("kelvin", "duv", "xy"), [
    (3000.0, 0.006, (0.44594, 0.42266)),  # source: colour-science 0.4.7, Ohno 2013
    (4000.0, -0.010, (0.37377, 0.35215)),  # source: colour-science 0.4.7, Ohno 2013
])
def test_off_the_locus(kelvin: float, duv: float, xy: tuple[float, float]) -> None:
    assert white_xy(kelvin, duv) == pytest.approx(xy, abs=7e-4)


@pytest.mark.parametrize("row", rows("colour_led_typical"), ids=lambda row: row["name"])
def test_led_spectrum(row: dict[str, str]) -> None:
    colour = led_colour(float(row["peak_nm"]), float(row["fwhm_nm"]))
    assert colour.xy == pytest.approx((float(row["x"]), float(row["y"])), abs=2e-4)  # source: colour-science 0.4.7
    assert colour.dominant_nm == pytest.approx(float(row["dominant_nm"]), abs=0.55)  # printed to 1 nm
    assert colour.efficacy_lm_per_w == pytest.approx(float(row["LER_lm_per_W"]), abs=0.15)
    white = (1.0 / 3.0, 1.0 / 3.0)
    purity = math.dist(colour.xy, white) / math.dist(wavelength_xy(dominant_nm(colour.xy)), white)
    assert purity == pytest.approx(float(row["purity"]), abs=0.005)


@pytest.mark.parametrize("kelvin", [1800.0, 2200.0, 2700.0, 3000.0, 4000.0, 5000.0, 6500.0, 9000.0, 14000.0])
def test_locus_by_krystek(kelvin: float) -> None:
    t = kelvin
    u = (0.860117757 + 1.54118254e-4 * t + 1.28641212e-7 * t**2) / (1.0 + 8.42420235e-4 * t + 7.08145163e-7 * t**2)
    v = (0.317398726 + 4.22806245e-5 * t + 4.20481691e-8 * t**2) / (1.0 - 2.89741816e-5 * t + 1.61456053e-7 * t**2)
    x, y = planck_xy(kelvin)
    below = -2.0 * x + 12.0 * y + 3.0
    # source: Krystek 1985; our own table is linear between its rows
    assert (4.0 * x / below, 6.0 * y / below) == pytest.approx((u, v), abs=4e-4)


@pytest.mark.parametrize("kelvin", [2856.0, 3000.0, 3500.0, 4000.0, 5000.0, 5600.0, 6500.0])
def test_colour_temperature_by_mccamy(kelvin: float) -> None:
    x, y = white_xy(kelvin)
    n = (x - 0.3320) / (0.1858 - y)
    assert 449.0 * n**3 + 3525.0 * n**2 + 6823.3 * n + 5520.33 == pytest.approx(kelvin, rel=0.004)  # source: McCamy 1992
