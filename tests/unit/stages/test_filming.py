"""Lamps before a camera: what a plan's own numbers make of exposures, pulses and flashes."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.sheets.filming import draw, flash_table, lamp_table, pulse_table
from rushlight.stages.filming import (
    BAND_SHARE,
    band_free_hz,
    filming_of,
    longest_shutter_s,
    shutter_words,
    worst_banding,
)
from rushlight.timing.character import parse_rhythm

WHITE = "{name: white, part: board, at_mm: [20, 60], colour: white, model_mm: 3, states: [day]%s}"
RED = "{name: red, part: board, at_mm: [60, 60], colour: red, model_mm: 3, states: [day]}"
FADE = "rhythms: [{rhythm: fade 3 s, by: controller}]\n"


def test_mid_tone_is_what_a_meter_says_and_clipping_follows_the_channel() -> None:
    film = filming_of(designed(board(WHITE % "" + "\n" + RED)))
    white, red = film.lamps
    for row in (white, red):
        expected = 12.5 * 16 / (row.seen_cd_m2.typical * 400)  # source: ISO 2720, K = 12.5, f/4, ISO 400
        assert row.mid_s.typical == pytest.approx(expected)
        assert row.burns_out(row.clip_s.high * 1.01) == "yes" and row.burns_out(row.clip_s.low * 0.99) == "no"
    assert red.clip_s.typical / red.mid_s.typical < 0.4 * white.clip_s.typical / white.mid_s.typical


def test_the_first_choice_burns_nothing_out_and_the_last_is_the_plans() -> None:
    camera = "camera: {f_number: 8, iso: 100, exposure_s: 1/30}\n"
    film = filming_of(designed(board(WHITE % "" + "\n" + RED, more=camera)))
    first, model, last = film.exposures
    assert first.burnt == first.perhaps == ()
    assert last.exposure_s == pytest.approx(1 / 30)
    assert model.model_stops == pytest.approx(0.0, abs=1 / 3)
    least = 12.5 * 64 / (first.exposure_s * 100)  # derived: luminance that is mid-tone there
    assert film.both_lx <= math.pi * least / 0.94 * 1.6


def test_farther_off_a_lamp_becomes_a_point_and_its_light_falls_with_the_square() -> None:
    near, far, farther = (filming_of(designed(board(WHITE % "", more=f"camera: {{from_mm: {mm}}}\n"))).lamps[0]
                          for mm in (200, 10_000, 20_000))
    assert near.across_px > 30 and far.across_px < 1.5
    assert far.seen_cd_m2.high / farther.seen_cd_m2.high == pytest.approx(4.0, rel=0.05)  # derived: inverse square


def test_pulses_are_told_only_where_a_controller_dims() -> None:
    assert filming_of(designed(board(WHITE % ""))).pulsed == ()
    film = filming_of(designed(board(WHITE % ", rhythm: fade 3 s", supply=SUPPLY_AA, more=FADE)))
    assert [row.frames_per_s for row in film.pulsed] == [24, 25, 30, 50, 60]
    assert all(row.exposure_s == pytest.approx(0.5 / (row.frames_per_s or 1)) for row in film.pulsed)  # derived: 180 degrees
    assert film.pulsed[-1].contrast > BAND_SHARE
    assert len(pulse_table(film).rows) == 5


@pytest.mark.parametrize("shutter", [1 / 24, 1 / 48, 1 / 50, 1 / 60, 1 / 120, 1 / 1000])
def test_the_safe_frequency_is_safe_and_not_far_above_the_least(shutter: float) -> None:
    levels = tuple(k / 40 for k in range(1, 40))
    hz = band_free_hz(shutter)
    assert all(worst_banding(hz + more, shutter, levels) <= BAND_SHARE for more in range(0, 2000, 37))
    assert worst_banding(0.9 * hz, shutter, levels) > BAND_SHARE or hz <= 700


def test_whole_pulse_shutters_are_quiet() -> None:
    film = filming_of(designed(board(WHITE % ", rhythm: fade 3 s", supply=SUPPLY_AA,
                                     more=FADE + "controller: {pwm_hz: 400}\n")))
    levels = (0.02, 0.5)
    assert film.pulsed[0].whole_s
    assert all(worst_banding(400.0, each, levels) <= BAND_SHARE for row in film.pulsed for each in row.whole_s)


def test_a_short_flash_may_fall_between_two_pictures() -> None:
    plan = board(WHITE % ", rhythm: double strobe 1.2 s", supply=SUPPLY_AA, more="camera: {shutter_deg: 9}\n")
    (flash,) = filming_of(designed(plan)).flashes
    gap = 0.04 - 0.001  # derived: 25 pictures a second, 9 of 360 degrees open
    assert flash.missed_share == pytest.approx(max(0.0, (gap - flash.flash_s) * 25))
    assert flash.caught_share == 1.0
    wide = filming_of(designed(plan.replace("9}", "360}"))).flashes[0]
    assert wide.missed_share == 0.0
    assert len(flash_table(filming_of(designed(plan))).rows) == 1


@pytest.mark.parametrize("exposure_s", [0.03, 0.5, 9.7])
def test_an_exposure_catches_of_a_flashing_lamp_no_more_than_its_flashes(exposure_s: float) -> None:
    plan = board(WHITE % ", rhythm: double strobe 1.2 s", supply=SUPPLY_AA)
    (lamp,), rhythm, step_s = filming_of(designed(plan)).lamps, parse_rhythm("double strobe 1.2 s"), 0.001
    summed = [0.0]
    for k in range(round((exposure_s + rhythm.period_s) / step_s)):
        summed.append(summed[-1] + rhythm.level_at((k + 0.5) * step_s) * step_s)
    count = round(exposure_s / step_s)
    caught_s = max(summed[k + count] - summed[k] for k in range(round(rhythm.period_s / step_s)))  # every moment tried
    steady_s = 12.5 * 16 / (lamp.seen_cd_m2.typical * 400)  # source: ISO 2720, K = 12.5, f/4, ISO 400
    assert lamp.over_mid_stops(exposure_s) == pytest.approx(math.log2(caught_s / steady_s), abs=0.05)


def test_a_flashing_lamp_burns_out_later_where_one_flash_is_too_short() -> None:
    camera = "camera: {from_mm: 20000, f_number: 32, iso: 50}\n"
    steady, flashing = (filming_of(designed(board(WHITE % rhythm, supply=SUPPLY_AA, more=camera))).lamps[0]
                        for rhythm in (", brightness: {intensity_mcd: 2}", ", brightness: {intensity_mcd: 2}, rhythm: double strobe 1.2 s"))
    rhythm = parse_rhythm("double strobe 1.2 s")
    # derived: after many flashes their mean counts; the flashing lamp's peak is wanted higher, by its own luminance
    peak = flashing.seen_cd_m2.typical / steady.seen_cd_m2.typical
    long = steady.clip_s.typical / peak / rhythm.mean_level
    assert long > 10 * rhythm.period_s
    assert flashing.clip_s.typical == pytest.approx(long, rel=0.1)


def test_the_sheet_stands_where_something_is_lit() -> None:
    made = designed(board(WHITE % "" + "\n" + RED))
    (sheet,) = draw(made)
    assert sheet.key == "filming" and len(lamp_table(filming_of(made)).rows) == 2
    assert draw(designed(board())) == ()


def test_times_are_named_as_cameras_name_them() -> None:
    assert [shutter_words(each) for each in (1 / 60, 1 / 8000, 0.5, 4.0)] == ["1/60", "1/8000", "0.5", "4"]
    assert longest_shutter_s(0.019) == pytest.approx(1 / 60)
    assert longest_shutter_s(1e-5) == 1e-5
