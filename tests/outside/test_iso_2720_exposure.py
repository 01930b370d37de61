"""Exposure values.

ISO 2720:1974, K = 12.5, C = 250; S. F. Ray's table as printed in public exposure-value articles: EV100 0 is
0.125 cd/m2 and 2.5 lx, EV100 12 is 512 cd/m2 and 10240 lx.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.camera import (
    channel_over_white,
    clips,
    exposure_s,
    exposure_value,
    image_luminance,
    metered_lx,
    pixel_sr,
)
from rushlight.optics.display import PRIMARIES
from rushlight.tables import rows
from rushlight.units import Range


# source: Ray
@pytest.mark.parametrize(("ev", "luminance", "lux"), [(0, 0.125, 2.5), (3, 1.0, 20.0), (12, 512.0, 10240.0)])
def test_printed_rows(ev: float, luminance: float, lux: float) -> None:
    assert exposure_value(luminance) == pytest.approx(ev)
    assert metered_lx(ev) == pytest.approx(lux)


@pytest.mark.parametrize("row", rows("exposure_ev"), ids=lambda row: row["EV100"])
def test_whole_table(row: dict[str, str]) -> None:
    assert exposure_value(float(row["luminance_cd_m2"])) == pytest.approx(float(row["EV100"]))
    assert metered_lx(float(row["EV100"])) == pytest.approx(float(row["illuminance_lx"]))


def test_sunny_sixteen_is_about_ev_15() -> None:
    assert exposure_s(4096.0, f_number=16.0, iso=100.0) == pytest.approx(1 / 128)  # source: EV 15, f/16, 1/128 s


def test_clips_three_and_a_third_stops_over_mid_tone() -> None:
    time_s = exposure_s(100.0, f_number=4.0, iso=400.0)
    assert not clips(950.0, exposure_s=time_s, f_number=4.0, iso=400.0)
    assert clips(970.0, exposure_s=time_s, f_number=4.0, iso=400.0)  # source: ISO 12232, 78 / 0.65 / 12.5 = 9.6


def test_pixels_add_up_to_the_view() -> None:
    """Pixels of a flat sensor, each by its own solid angle, fill the pyramid of the view: 4 asin(sin2(half view))."""
    across, half = 400, math.tan(math.radians(30.0))
    side = (np.arange(across) + 0.5) / across * 2.0 * half - half
    x, y = np.meshgrid(side, side)
    each = pixel_sr(60.0, across) / (1.0 + x**2 + y**2) ** 1.5
    assert each.sum() == pytest.approx(4.0 * math.asin(math.sin(math.radians(30.0)) ** 2), rel=1e-4)


@pytest.mark.parametrize("across_px", [0.05, 0.3, 1.0])
def test_the_picture_of_a_point_holds_the_light_that_reaches_the_lens(across_px: float) -> None:
    """Luminance of the picture times its solid angle is the illuminance at the lens: intensity over distance squared."""
    pixel, distance_m, luminance = pixel_sr(40.0, 4000.0), 1.3, 5000.0
    area_m2 = across_px**2 * pixel * distance_m**2
    lens_lx = luminance * area_m2 / distance_m**2
    seen = image_luminance(Range.exactly(luminance), lamp_sr=area_m2 / distance_m**2, pixel_sr=pixel)
    assert seen.high * pixel == pytest.approx(lens_lx)
    assert seen.low * (4.0 * pixel + area_m2 / distance_m**2) == pytest.approx(lens_lx)


@pytest.mark.parametrize(("primary", "weight"), [*zip(PRIMARIES, (0.2126, 0.7152, 0.0722), strict=True)])
def test_a_primary_burns_out_by_its_luminance_weight(primary: tuple[float, float], weight: float) -> None:
    assert channel_over_white(primary) == pytest.approx(1.0 / weight, rel=2e-3)  # source: IEC 61966-2-1, Y of the primaries
