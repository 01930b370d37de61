"""Exposure and bands: limits and edges; the values are in tests/outside."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import camera
from rushlight.optics.colour import D65
from rushlight.units import Range


def test_exposure_scales_as_cameras_do() -> None:
    base = camera.exposure_s(100.0, f_number=4.0, iso=100.0)
    assert camera.exposure_s(200.0, f_number=4.0, iso=100.0) == pytest.approx(base / 2.0)
    assert camera.exposure_s(100.0, f_number=8.0, iso=100.0) == pytest.approx(base * 4.0)
    assert camera.exposure_s(100.0, f_number=4.0, iso=800.0) == pytest.approx(base / 8.0)


@pytest.mark.parametrize("duty", [0.02, 0.5, 0.9])
def test_contrast_keeps_its_bound_and_whole_periods_have_none(duty: float) -> None:
    for periods in np.linspace(0.05, 30.0, 300):
        contrast = camera.banding_contrast(float(periods) * 50.0, 0.02, duty=duty)
        assert 0.0 <= contrast <= 1.0 / (2.0 * int(periods + 1e-9) + 1.0) + 1e-9
    assert camera.banding_contrast(1000.0, 0.02, duty=duty) == pytest.approx(0.0, abs=1e-9)


def test_a_lamp_that_is_always_on_does_not_band() -> None:
    assert camera.banding_contrast(123.0, 0.011, duty=1.0) == pytest.approx(0.0)


def test_bands_and_shutter() -> None:
    assert camera.bands_in_frame(490.0, 0.02) == pytest.approx(9.8)  # derived: f x readout
    assert camera.shutter_s(24.0) == pytest.approx(1.0 / 48.0)  # derived: 180 degrees


def test_a_large_lamp_keeps_its_luminance_and_a_small_one_its_light() -> None:
    face = Range(50.0, 100.0, 200.0)
    large = camera.image_luminance(face, lamp_sr=1e-2, pixel_sr=1e-9)
    assert (large.low, large.high) == (pytest.approx(50.0), pytest.approx(200.0))
    small = camera.image_luminance(face, lamp_sr=1e-9, pixel_sr=1e-7)
    assert small.high == pytest.approx(200.0 * 1e-2)  # derived: a hundredth of the pixel
    assert small.low < small.typical < small.high


def test_daylight_burns_out_with_white_and_blue_long_before() -> None:
    assert camera.channel_over_white(D65) == pytest.approx(1.0, abs=1e-6)
    assert camera.channel_over_white((0.14, 0.05)) > camera.channel_over_white((0.69, 0.31)) > 2.0


@pytest.mark.parametrize("call", [
    lambda: camera.pixel_sr(180.0, 100.0), lambda: camera.pixel_sr(60.0, 0.0),
    lambda: camera.image_luminance(Range.exactly(1.0), lamp_sr=0.0, pixel_sr=1.0),
    lambda: camera.channel_over_white((0.3, 0.0)), lambda: camera.missed_share(-1.0, exposure_s=0.1, frames_per_s=25.0),
    lambda: camera.missed_share(1.0, exposure_s=0.0, frames_per_s=25.0),
    lambda: camera.exposure_s(0.0, f_number=4.0, iso=100.0), lambda: camera.exposure_value(0.0),
    lambda: camera.clips(1.0, exposure_s=0.0, f_number=4.0, iso=100.0),
    lambda: camera.banding_contrast(0.0, 0.02, duty=0.5), lambda: camera.banding_contrast(50.0, 0.02, duty=0.0),
    lambda: camera.bands_in_frame(-1.0, 0.01), lambda: camera.shutter_s(24.0, 400.0),
    lambda: camera.safe_pulse_hz(0.02, 1.0), lambda: camera.safe_pulse_hz(0.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
