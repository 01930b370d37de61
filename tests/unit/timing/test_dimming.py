"""Dimming laws over their ranges."""

from itertools import pairwise

import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.timing.dimming import (
    fade_levels,
    flicker_grade,
    lightness,
    lowest_pwm_hz,
    luminance_of_lightness,
    modulation_limit_percent,
    modulation_percent,
    pwm_duty,
    pwm_step,
)

SWEEP = [k / 200 for k in range(201)]


def test_lightness_of_known_greys():
    assert lightness(0.184186518) == pytest.approx(50.0, abs=1e-4)  # source: CIE 15, L* 50 is Y 18.42 %
    assert lightness(0.0) == 0.0 and lightness(1.0) == pytest.approx(100.0)
    assert lightness(0.008856) == pytest.approx(8.0, abs=0.001)  # source: CIE 15, the branches meet at L* 8


def test_lightness_and_its_inverse_agree_and_rise():
    values = [lightness(y) for y in SWEEP]
    assert values == sorted(values)
    assert [luminance_of_lightness(value) for value in values] == pytest.approx(SWEEP, abs=1e-12)


def test_fade_steps_look_even():
    levels = fade_levels(33)
    marks = [lightness(level) for level in levels]
    gaps = [b - a for a, b in pairwise(marks)]
    assert gaps == pytest.approx([100 / 32] * 32)
    assert levels[0] == 0.0 and levels[-1] == pytest.approx(1.0) and levels[16] < 0.2  # half way looks half, is a fifth


def test_duty_is_proportional():
    assert [pwm_duty(level, full_duty=0.5) for level in (0, 0.5, 1)] == [0, 0.25, 0.5]


@pytest.mark.parametrize("bits", [1, 8, 10, 16])
def test_counter_steps_are_nearest_and_never_dark_by_mistake(bits):
    for level in SWEEP:
        step = pwm_step(level, bits=bits)
        assert 0 <= step.count <= step.of and (step.count > 0) == (level > 0)
        assert abs(step.level - level) <= 0.5 / step.of + 1e-12 or step.count == 1


def test_lowest_levels_of_a_coarse_counter_are_far_off():
    assert pwm_step(0.001, bits=8).error_percent == pytest.approx(100 * (1 / 255 / 0.001 - 1))  # derived: 1 of 255


def test_modulation():
    assert modulation_percent(1.0, 1.0) == 0.0
    assert modulation_percent(3.0, 1.0) == 50.0  # derived: (3 - 1) / (3 + 1)


def test_limits_never_fall_with_frequency_and_low_risk_is_never_stricter():
    frequencies = [10 ** (k / 20) for k in range(-20, 90)]
    for level in ("low risk", "no effect"):
        limits = [modulation_limit_percent(f, level=level) for f in frequencies]
        assert limits == sorted(limits) and limits[-1] == 100.0
    assert all(modulation_limit_percent(f) >= modulation_limit_percent(f, level="no effect") for f in frequencies)


@pytest.mark.parametrize("modulation", [0.1, 1.0, 2.0, 5.0, 20.0, 60.0, 99.0])
@pytest.mark.parametrize("level", ["low risk", "no effect"])
def test_lowest_frequency_is_just_enough(modulation, level):
    found_hz = lowest_pwm_hz(modulation, level=level)
    assert modulation_limit_percent(found_hz, level=level) >= modulation
    assert modulation_limit_percent(found_hz * 0.999, level=level) < modulation


def test_grade_names():
    assert [flicker_grade(f, 8.0) for f in (50, 100, 300)] == ["neither", "low risk", "no effect"]


@pytest.mark.parametrize(
    ("call", "match"),
    [
        (lambda: lightness(1.01), "relative_luminance"), (lambda: lightness(-0.1), "relative_luminance"),
        (lambda: luminance_of_lightness(101), "lightness"), (lambda: fade_levels(1), "fade steps"),
        (lambda: fade_levels(5000), "fade steps"), (lambda: pwm_duty(2.0), "level"),
        (lambda: pwm_duty(0.5, full_duty=0.0), "full_duty"), (lambda: pwm_step(0.5, bits=0), "bits"),
        (lambda: pwm_step(float("nan")), "level"), (lambda: modulation_percent(1.0, 2.0), "levels"),
        (lambda: modulation_percent(0.0, 0.0), "levels"), (lambda: modulation_limit_percent(0.0), "frequency_hz"),
        (lambda: lowest_pwm_hz(101.0), "modulation"),
    ],
)
def test_edges_raise(call, match):
    with pytest.raises(OutOfRange, match=match):
        call()


def test_unknown_level_of_flicker():
    with pytest.raises(UnknownName, match="low risk"):
        modulation_limit_percent(100.0, level="low rsk")
