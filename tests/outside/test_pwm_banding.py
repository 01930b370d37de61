"""Bands of a pulsed lamp, by brute force: the light of an exposure started at every phase of the pulse."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.optics.camera import (
    banding_contrast,
    bands_in_frame,
    missed_share,
    pulses_from_bands_hz,
    readout_from_bands_s,
    safe_pulse_hz,
)
from rushlight.tables import rows
from rushlight.units import Range


def _lit_s(time: np.ndarray, duty: float) -> np.ndarray:
    """Time lit from 0 to a time, in periods; exact for an on/off pulse."""
    whole = np.floor(time)
    return whole * duty + np.minimum(time - whole, duty)


def _scanned(periods: float, duty: float) -> float:
    start = np.linspace(0.0, 1.0, 20001)
    light = _lit_s(start + periods, duty) - _lit_s(start, duty)
    return float((light.max() - light.min()) / (light.max() + light.min()))


@pytest.mark.parametrize("duty", [0.05, 0.3, 0.5, 0.77, 1.0])
@pytest.mark.parametrize("periods", [0.3, 0.95, 1.22, 3.0, 9.8, 20.4])
def test_against_a_phase_scan(periods: float, duty: float) -> None:
    expected = _scanned(periods, duty)
    assert banding_contrast(periods * 50.0, 0.02, duty=duty) == pytest.approx(expected, abs=3e-4)


@pytest.mark.parametrize("row", rows("pwm_banding"), ids=lambda row: f"{row['pwm_Hz']} Hz")
def test_table(row: dict[str, str]) -> None:
    got = banding_contrast(float(row["pwm_Hz"]), float(row["exposure_s"]), duty=float(row["duty"]))
    assert got == pytest.approx(float(row["michelson"]), abs=2e-5)


def test_safe_frequency_holds_for_every_duty() -> None:
    hz = safe_pulse_hz(0.02)
    assert hz == pytest.approx(2500.0)  # derived: 50 periods, 1 / (2 x 50 + 1) < 1 %
    worst = max(banding_contrast(hz * more, 0.02, duty=duty)
                for more in np.linspace(1.0, 1.1, 41) for duty in np.linspace(0.01, 1.0, 34))
    assert worst <= 0.01


@pytest.mark.parametrize(("hz", "readout_s"), [(500.0, 0.016), (1220.0, 0.01), (2000.0, 0.0263)])
def test_a_picture_exposed_line_by_line(hz: float, readout_s: float) -> None:
    """Each line begins a little later than the last: its light is summed pulse by pulse and the stripes are counted."""
    exposure_s, duty, lines = 1.0 / 320.0, 0.4, 4000
    begin = np.arange(lines) * readout_s / lines * hz
    light = _lit_s(begin + exposure_s * hz, duty) - _lit_s(begin, duty)
    bright = light > (light.max() + light.min()) / 2
    stripes = int(np.sum(bright[1:] != bright[:-1])) / 2
    assert stripes == pytest.approx(bands_in_frame(hz, readout_s), abs=1.0)
    counted = Range.spread(stripes, 0.9, 1.1)  # read back from the stripes that the picture shows
    assert readout_from_bands_s(counted, hz).typical == pytest.approx(readout_s, abs=1.0 / hz)
    assert pulses_from_bands_hz(counted, readout_s).typical == pytest.approx(hz, abs=1.0 / readout_s)
    contrast = (light.max() - light.min()) / (light.max() + light.min())
    assert contrast == pytest.approx(banding_contrast(hz, exposure_s, duty=duty), abs=3e-3)


@pytest.mark.parametrize(("flash_s", "exposure_s"), [(0.004, 0.02), (0.015, 0.02), (0.03, 0.02), (0.001, 0.001)])
def test_flashes_begun_at_every_moment(flash_s: float, exposure_s: float) -> None:
    """A flash is lost when it begins after the shutter has shut and ends before it opens again."""
    picture_s = 0.04
    begin = np.linspace(0.0, picture_s, 40001)[:-1]
    lost = (begin >= exposure_s) & (begin + flash_s <= picture_s)
    assert missed_share(flash_s, exposure_s=exposure_s, frames_per_s=25.0) == pytest.approx(lost.mean(), abs=1e-4)
