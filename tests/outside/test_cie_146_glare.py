"""Veil of a glaring lamp.

CIE 146:2002; J. J. Vos, Clin. Exp. Optom. 86 (2003) 363, age-adjusted Stiles-Holladay equation:
L = 10 [1 + (age/70)^4] E / angle^2, 1 to 30 degrees.
"""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.optics.eye import glow_per_lx, veil_cd_m2


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
