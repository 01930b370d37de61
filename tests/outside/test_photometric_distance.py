"""Distance law, half angle and the five-times rule.

CIE, International Lighting Vocabulary, term 17-25-104 (photometric distance law).
Illuminating Engineering Society, Lighting Definitions 9.1.1: the inverse square law holds within 1 % from five
times the largest dimension of the source.
"""

from __future__ import annotations

import pytest

from rushlight.optics.emitter import (
    disc_illuminance_lx,
    flux_lm,
    half_angle_deg,
    illuminance_parallel_lx,
    intensity_cd,
    pattern_order,
)
from rushlight.optics.wall import direct_lx


def test_disc_at_five_diameters_is_within_one_per_cent_of_the_inverse_square() -> None:
    area_m2, luminance = 3.141592653589793 * 0.005**2, 1000.0
    inverse_square = luminance * area_m2 / 0.05**2
    exact = disc_illuminance_lx(luminance, radius_mm=5.0, distance_mm=50.0)
    assert inverse_square / exact - 1.0 == pytest.approx(0.01, abs=1e-9)  # source: IES 9.1.1, 1 % at five times


def test_one_candela_at_forty_millimetres_is_625_lux() -> None:
    # derived: 1/0.04^2
    assert float(illuminance_parallel_lx(1.0, 1.0, gap_mm=40.0, offset_mm=0.0)) == pytest.approx(625.0)
    assert direct_lx(1.0, distance_mm=40.0) == pytest.approx(625.0)  # derived: 1/0.04^2


@pytest.mark.parametrize("half_deg", [4.0, 15.0, 30.0, 55.0, 60.0])
def test_half_angle_is_where_the_intensity_has_halved(half_deg: float) -> None:
    import math

    order = pattern_order(half_deg)
    # source: CIE ILV, half-intensity angle
    assert float(intensity_cd(1.0, order, cosine=math.cos(math.radians(half_deg)))) == pytest.approx(0.5)
    assert half_angle_deg(order) == pytest.approx(half_deg)


def test_lambertian_lamp_gives_pi_lumens_for_each_candela() -> None:
    # source: CIE ILV, Lambert's cosine law
    assert flux_lm(1.0, pattern_order(60.0)) == pytest.approx(3.141592653589793)
