"""Veil of a glaring lamp.

CIE 146:2002; J. J. Vos, Clin. Exp. Optom. 86 (2003) 363, age-adjusted Stiles-Holladay equation:
L = 10 [1 + (age/70)^4] E / angle^2, 1 to 30 degrees. CIE 135/1:1999, total glare function.
"""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.optics.eye import glow_per_lx, veil_cd_m2
from rushlight.optics.glare import glare_per_lx


def test_one_lux_two_degrees_aside_for_a_young_eye() -> None:
    # source: value by the published equation
    assert veil_cd_m2(1.0, angle_deg=2.0, age_years=25.0) == pytest.approx(2.54, abs=0.005)


def test_an_eye_of_seventy_has_twice_the_veil() -> None:
    old, young = (veil_cd_m2(1.0, angle_deg=5.0, age_years=age) for age in (70.0, 5.0))
    assert old / young == pytest.approx(2.0, abs=0.001)  # source: Vos 2003, doubled at 70


@pytest.mark.parametrize("angle", [1.5, 2.0, 5.0, 10.0])
def test_general_and_age_adjusted_equations_tell_the_same_in_their_common_range(angle: float) -> None:
    general = float(glow_per_lx(np.array([angle]), age_years=35.0)[0])
    # source: CIE 146, simplified form
    assert general == pytest.approx(veil_cd_m2(1.0, angle_deg=angle, age_years=35.0), rel=0.45)


@pytest.mark.parametrize("age", [25.0, 40.0, 70.0])
@pytest.mark.parametrize("angle", [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0])
def test_the_whole_spread_is_the_general_equation_where_that_is_valid(age: float, angle: float) -> None:
    general = float(glow_per_lx(np.array([angle]), age_years=age)[0])
    # source: CIE 146:2002, general equation, 0.1 to 100 deg; CIE 135/1 is a second fit to the same eyes
    assert float(glare_per_lx(angle, age_years=age)) == pytest.approx(general, rel=0.4)


def test_one_lux_two_degrees_aside_by_the_whole_spread() -> None:
    # source: 2.54 cd/m2 by the age-adjusted Stiles-Holladay equation
    assert float(glare_per_lx(2.0, age_years=25.0)) == pytest.approx(2.54, rel=0.2)


@pytest.mark.parametrize(("age", "pigment"), [(25.0, 0.0), (25.0, 0.5), (40.0, 0.5), (60.0, 1.0)])
def test_the_spread_holds_all_of_the_light(age: float, pigment: float) -> None:
    angle = np.geomspace(1e-5, 90.0, 200_001)
    ring = 2.0 * np.pi * np.sin(np.radians(angle))
    light = float(np.trapezoid(glare_per_lx(angle, age_years=age, pigment=pigment) * ring, np.radians(angle)))
    # source: CIE 135/1; a copy made public divides by 1 + p (0.0417 + 0.055 (age/70)^4) to make it 1
    assert light == pytest.approx(1.0 + pigment * (0.0417 + 0.055 * (age / 70.0) ** 4), abs=0.025)
