"""What a strip's channel throws back: balance of the light, limits, trends, edges."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from rushlight.errors import OutOfRange
from rushlight.optics.channel import Channel, _thrown, thrown_back_lx
from rushlight.optics.diffuser import row_light_lx

USUAL = Channel(gap_mm=20.0, half_width_mm=8.0, strip_half_mm=4.0, walls_reflect=0.5, sheet_reflects=0.4, order=1.0)
ROW, MIDDLE = np.arange(-800.0, 801.0, 16.0), np.linspace(-8.0, 8.0, 17)


def thrown(channel: Channel) -> np.ndarray:
    """Over one pitch of a long row."""
    return thrown_back_lx(channel, ROW, np.arange(0.0, 16.0, 1.0), MIDDLE)


@pytest.mark.parametrize("gap", [5.0, 20.0, 45.0])
def test_walls_that_keep_all_give_all_to_the_sheet(gap: float) -> None:
    """With walls and board of 0.98 and a black sheet nearly all that an LED gives, pi lm a candela, ends on the sheet."""
    channel = replace(USUAL, gap_mm=gap, walls_reflect=1.0, sheet_reflects=0.0, strip_half_mm=0.0)
    y = (np.arange(40) + 0.5) / 40 * 8.0
    x = np.arange(0.0, 16.0, 0.5)
    lit = thrown_back_lx(channel, ROW, x, y) + row_light_lx(ROW, 1.0, order=1.0, gap_mm=gap, x_mm=x[None], y_mm=y[:, None])
    flux_lm = float(lit.mean()) * 16.0 * 16.0 * 1e-6
    assert 0.85 * math.pi < flux_lm < 1.01 * math.pi  # derived: 0.98 at each of several throws


@pytest.mark.parametrize("key", ["walls_reflect", "sheet_reflects"])
def test_what_throws_more_lights_more(key: str) -> None:
    means = [float(thrown(replace(USUAL, **{key: value})).mean()) for value in (0.0, 0.3, 0.6, 0.9)]
    assert means == sorted(means) and means[0] >= 0.0 and means[-1] > 1.5 * means[0]


def test_black_all_round_throws_nothing_and_both_sides_are_alike() -> None:
    black = replace(USUAL, walls_reflect=0.0, sheet_reflects=0.0, strip_half_mm=0.0)
    assert np.abs(thrown(black)).max() < 1e-9
    lit = thrown(USUAL)
    assert lit == pytest.approx(lit[::-1])


def test_a_lambertian_led_is_the_limit_of_others() -> None:
    near = replace(USUAL, order=1.0 + 1e-6)  # by Bessel functions; order 1 by elementary ones
    assert thrown(near) == pytest.approx(thrown(USUAL), rel=1e-4)


def test_a_narrow_beam_meets_less_wall() -> None:
    assert thrown(replace(USUAL, order=8.0)).mean() * 9.0 < thrown(USUAL).mean() * 2.0  # each for one lumen


@pytest.mark.parametrize("wrong", [{"gap_mm": 0.0}, {"half_width_mm": -1.0}, {"walls_reflect": 1.2}, {"sheet_reflects": -0.1}])
def test_impossible_channels_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        thrown(replace(USUAL, **wrong))


@pytest.mark.parametrize("seed", range(6))
def test_one_search_for_all_bands_reads_off_what_the_plain_search_for_each_does(seed: int) -> None:
    """Against the plain way, to the last bit: each LED read off each band's curve, then a spline through the bands."""
    chance = np.random.default_rng(seed)
    channel = replace(USUAL, gap_mm=float(chance.uniform(3, 40)), half_width_mm=float(chance.uniform(2, 20)),
                      sheet_reflects=float(chance.uniform(0.1, 0.8)))
    leds, x = np.sort(chance.uniform(-400, 400, 23)), np.sort(chance.uniform(-100, 100, 9))
    y = chance.uniform(-25, 25, 7)
    found = _thrown(channel)
    rows = np.array([np.interp(np.abs(x[:, None] - leds), found.along_mm, line, right=0.0).sum(axis=1) for line in found.lx.T])
    across = np.concatenate([-found.across_mm[::-1], found.across_mm])
    edge = found.across_mm[-1]
    plain = CubicSpline(across, np.concatenate([rows[::-1], rows]))(np.clip(y, -edge, edge))
    assert np.array_equal(thrown_back_lx(channel, leds, x, y), plain) and plain.max() > 0
