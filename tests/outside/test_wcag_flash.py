"""Flash counts on a screen against the published accessibility criterion.

Source: W3C Web Content Accessibility Guidelines 2.x, success criterion 2.3.1 and the definition of 'general flash and
red flash thresholds'; relative luminance as defined there.
"""

import pytest

from rushlight.tables import rows
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import (
    ScreenStep,
    flash_safety,
    general_flashes_per_s,
    is_saturated_red,
    preview_rhythm,
    red_flashes_per_s,
    relative_luminance,
)

WHITE, RED, BLACK = (1.0, 1.0, 1.0), (1.0, 0.0, 0.0), (0.0, 0.0, 0.0)
CHECKS = rows("flash_preview_check")


def blinking(per_s, high=WHITE, low=BLACK):
    return (ScreenStep(high, 0.5 / per_s), ScreenStep(low, 0.5 / per_s))


@pytest.mark.parametrize("row", CHECKS, ids=[row["light"] for row in CHECKS])
def test_lights_of_the_rules_on_the_screen(row):
    safety = flash_safety(parse_rhythm(f"flash {row['rate_per_min']}/min"), WHITE)
    assert safety.passes == row["passes_three_per_s"].startswith("yes")  # source: rate of the rule over 60 against 3


@pytest.mark.parametrize(("per_s", "count"), [(1, 1), (2, 2), (3, 3), (4, 4), (5, 5)])
def test_flashes_are_pairs_of_opposing_changes(per_s, count):
    assert general_flashes_per_s(blinking(per_s)) == count  # derived: per_s pairs in each second


def test_half_a_flash_does_not_count():
    # derived: 3.5 a second change every 1/7 s: seven changes in a second are three whole pairs
    assert general_flashes_per_s(blinking(3.5)) == 3


@pytest.mark.parametrize(
    ("high", "low", "counts"),
    [
        (0.5, 0.41, False),  # source: a change under 10 % of the maximum relative luminance is no flash
        (0.5, 0.39, True),  # source: 10 % and over, darker image under 0.80
        (1.0, 0.81, False),  # source: darker image not below 0.80
        (1.0, 0.79, True),
    ],
)
def test_small_and_bright_changes(high, low, counts):
    steps = blinking(5, (high, high, high), (low, low, low))
    assert (general_flashes_per_s(steps) > 0) == counts


def test_saturated_red_is_80_percent_red():
    assert is_saturated_red((0.8, 0.1, 0.1))  # source: R/(R+G+B) >= 0.8
    assert not is_saturated_red((0.79, 0.11, 0.10))


def test_red_flashes_count_apart():
    assert red_flashes_per_s(blinking(4, RED)) == 4
    assert red_flashes_per_s(blinking(4, WHITE)) == 0


@pytest.mark.parametrize(("rgb", "luminance"), [(WHITE, 1.0), (RED, 0.2126), (BLACK, 0.0), ((0, 1, 0), 0.7152)])
def test_relative_luminance(rgb, luminance):
    assert relative_luminance(rgb) == pytest.approx(luminance)  # source: 0.2126 R + 0.7152 G + 0.0722 B


def test_a_small_area_may_flash_fast():
    fast = parse_rhythm("flash 300/min")
    assert flash_safety(fast, WHITE, area_sr=0.0059).passes  # source: 0.006 sr within any 10 degree field
    assert not flash_safety(fast, WHITE, area_sr=0.0061).passes


@pytest.mark.parametrize("text", ["UQ", "flash 300/min", "flash 10 Hz", "strobe 0.12 s", "fade 0.25 s"])
def test_the_preview_is_slowed_until_it_passes(text):
    assert flash_safety(preview_rhythm(parse_rhythm(text), RED), RED).passes


def test_a_safe_rhythm_is_left_alone():
    beacon = parse_rhythm("beacon 1.4 s")
    assert preview_rhythm(beacon, WHITE) == beacon
