"""Effective intensity and flash counts against second methods, and their edges."""

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import (
    ScreenStep,
    effective_intensity_cd,
    flash_safety,
    flashes_together_per_s,
    general_flashes_per_s,
    peak_for_effective_cd,
    preview_rhythm,
    relative_luminance,
    screen_steps,
    uv_distance,
)

TEXTS = ["strobe 1.2 s", "double strobe 1.2 s", "beacon 1.4 s", "VQ(6)+LFl W 10s", "FFl W 5s", "Mo(A) 8s", "fade 3 s"]


@pytest.mark.parametrize("text", TEXTS)
def test_effective_intensity_against_a_fine_scan(text):
    # derived: second method, the largest ratio over all start and end times of a 5 ms sampling of four periods
    rhythm = parse_rhythm(text)
    step_s = rhythm.period_s / round(rhythm.period_s / 0.005)
    count = round(rhythm.period_s / step_s)
    levels = [rhythm.level_at((k + 0.5) * step_s) for k in range(count)]
    energy = np.concatenate([[0.0], np.cumsum(levels * 4)]) * step_s
    times = np.arange(len(energy)) * step_s
    best = max(((energy[k + 1:] - energy[k]) / (0.2 + times[k + 1:] - times[k])).max() for k in range(count))
    assert effective_intensity_cd(rhythm, 1.0) == pytest.approx(max(best, min(levels)), rel=0.03)


def test_effective_intensity_grows_with_the_flash_and_ends_at_the_peak():
    found = [effective_intensity_cd(parse_rhythm(f"flash 2/min on {t} s"), 100.0) for t in (0.01, 0.1, 1, 10, 29)]
    assert found == sorted(found) and 0 < found[0] < found[-1] < 100.0
    assert effective_intensity_cd(parse_rhythm("steady"), 100.0) == 100.0
    assert effective_intensity_cd(parse_rhythm("off"), 100.0) == 0.0


@pytest.mark.parametrize("text", TEXTS)
def test_peak_is_the_inverse(text):
    rhythm = parse_rhythm(text)
    assert effective_intensity_cd(rhythm, peak_for_effective_cd(rhythm, 400.0)) == pytest.approx(400.0)


def test_edges_of_effective_intensity():
    strobe = parse_rhythm("strobe 1 s")
    with pytest.raises(OutOfRange, match="peak_cd"):
        effective_intensity_cd(strobe, -1.0)
    with pytest.raises(OutOfRange, match="visual_time_s"):
        effective_intensity_cd(strobe, 1.0, visual_time_s=0.0)
    with pytest.raises(OutOfRange, match="effective_cd"):
        peak_for_effective_cd(parse_rhythm("off"), 10.0)


@pytest.mark.parametrize("per_min", [30, 60, 100, 120, 159, 200, 240, 300, 600])
def test_flash_count_against_a_sampled_count(per_min):
    # derived: second method, count falling edges of a 1 ms sampling in every window of one second
    rhythm = parse_rhythm(f"flash {per_min}/min")
    levels = np.array([rhythm.level_at(0.0005 + k / 1000) for k in range(5000)])
    changes = (np.abs(np.diff(levels)) > 0.5).astype(int)
    sliding = np.convolve(changes, np.ones(1000, dtype=int), mode="valid")
    expected = sliding.max() // 2
    assert abs(general_flashes_per_s(screen_steps(rhythm, (1.0, 1.0, 1.0))) - expected) <= (per_min % 60 > 0)
    if per_min % 60 == 0:
        assert general_flashes_per_s(screen_steps(rhythm, (1.0, 1.0, 1.0))) == per_min // 60


def test_a_gradual_rise_is_one_change():
    assert general_flashes_per_s(screen_steps(parse_rhythm("fade 1 s"), (1.0, 1.0, 1.0))) == 1


def test_a_lit_room_hides_small_flashes():
    rhythm = parse_rhythm("flash 5 Hz")
    assert general_flashes_per_s(screen_steps(rhythm, (1.0, 1.0, 1.0), ambient=0.85)) == 0
    assert general_flashes_per_s(screen_steps(rhythm, (1.0, 1.0, 1.0), ambient=0.5)) == 5


def test_lights_out_of_step_add_up():
    texts = ("Q", "VQ", "steady")
    assert flashes_together_per_s(tuple(map(parse_rhythm, texts)), (1.0, 1.0, 1.0)) == 3  # derived: 1 + 2 + 0


def test_verdict_says_why():
    fast = flash_safety(parse_rhythm("UQ"), (1.0, 1.0, 1.0))
    assert (fast.passes, fast.why) == (False, "too many flashes over too large an area")
    assert flash_safety(parse_rhythm("UQ"), (1.0, 1.0, 1.0), area_sr=0.001).why == "a small area"
    assert "WCAG" in fast.source


def test_preview_slows_by_a_whole_factor():
    assert preview_rhythm(parse_rhythm("UQ"), (1.0, 1.0, 1.0)).period_s == 0.5  # derived: 4 a second halved


def test_bad_colours_and_areas():
    with pytest.raises(OutOfRange, match="rgb"):
        relative_luminance((1.1, 0.0, 0.0))
    with pytest.raises(OutOfRange, match="area_sr"):
        flash_safety(parse_rhythm("Q"), (1.0, 1.0, 1.0), area_sr=-1.0)
    with pytest.raises(OutOfRange, match="screen steps"):
        general_flashes_per_s(())


def test_red_lies_far_from_white_in_uv():
    # source: CIE 1976 u'v' of sRGB red (0.4507, 0.5229) and D65 (0.1978, 0.4683), public tables
    assert uv_distance((1.0, 0.0, 0.0), (1.0, 1.0, 1.0)) == pytest.approx(math.hypot(0.2529, 0.0546), abs=2e-3)
    assert uv_distance((0.0, 0.0, 0.0), (1.0, 1.0, 1.0)) == 0.0


def test_pattern_is_repeated_past_one_second():
    assert general_flashes_per_s((ScreenStep((1.0, 1.0, 1.0), 0.1), ScreenStep((0.0, 0.0, 0.0), 0.1))) == 5
