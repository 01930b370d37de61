"""Light from a flat emitter into a fibre in contact.

G. Keiser, Optical Fiber Communications, chapter 5, Example 5.1 (numbers from memory): radiance 150 W/cm2 sr,
emitter radius 35 um, NA 0.20: 0.725 mW into a core of radius 50 um; 0.37 mW into one of 25 um.
"""

from __future__ import annotations

import math

import pytest

from rushlight.optics.coupling import patch_fraction, radiance_limit_lm

RADIANCE_W_CM2_SR = 150.0
EMITTER_UM = 35.0


@pytest.mark.parametrize(("core_um", "printed_mw"), [
    (50.0, 0.725),  # source: Keiser, Example 5.1
    (25.0, 0.37),  # source: Keiser, Example 5.1
])
def test_power_into_the_fibre(core_um: float, printed_mw: float) -> None:
    emitted_mw = 1000.0 * math.pi**2 * (EMITTER_UM * 1e-4) ** 2 * RADIANCE_W_CM2_SR
    share = patch_fraction(patch_radius_mm=EMITTER_UM / 1000, gap_mm=0.0, core_radius_mm=core_um / 1000,
                           offset_mm=0.0, na=0.20)
    assert emitted_mw * share == pytest.approx(printed_mw, rel=0.006)  # the book rounds to two or three digits


def test_core_under_the_emitter_takes_what_the_radiance_allows() -> None:
    limit = radiance_limit_lm(150.0, na=0.20, core_radius_mm=0.025)
    share = patch_fraction(patch_radius_mm=0.035, gap_mm=0.0, core_radius_mm=0.025, offset_mm=0.0, na=0.20)
    emitted = math.pi * 150.0 * math.pi * 0.035**2 / 1e6
    assert emitted * share == pytest.approx(limit)  # derived: conservation of etendue, equality in contact
