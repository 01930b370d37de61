"""Windows before LEDs: posts, sheets, the eye."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import fftconvolve

from rushlight.errors import OutOfRange
from rushlight.optics import diffuser
from rushlight.optics.sheet import second_sheet_factor, sheet_blur_factor
from rushlight.optics.window import (
    Post,
    covered_share,
    evened,
    evened_share,
    seen_words,
    shaded_lx,
    times_seen,
)
from rushlight.tables import rows


def by_rays(led, place, post, lit_mm):
    """Second method: rays from 401 points across the lit window, against a disc of shapely."""
    way = np.subtract(place, led)
    across = np.array([-way[1], way[0]]) / np.linalg.norm(way)
    disc = shapely.Point(post.along_mm, post.across_mm).buffer(post.radius_mm, quad_segs=64)
    starts = [np.add(led, share * lit_mm * across) for share in np.linspace(-0.5, 0.5, 401)]
    return np.mean([shapely.LineString([start, place]).intersects(disc) for start in starts])


@pytest.mark.parametrize("seed", range(12))
def test_a_post_hides_what_rays_past_it_find(seed: int) -> None:
    rng = np.random.default_rng(seed)
    led, place = rng.uniform(-20, 0, 2), rng.uniform(5, 20, 2)
    share = rng.uniform(0.2, 0.8)
    beside = rng.uniform(-2.5, 2.5)
    way = (place - led) / np.linalg.norm(place - led)
    middle = led + share * (place - led) + beside * np.array([-way[1], way[0]])
    post = Post(*middle, rng.uniform(0.3, 1.5))
    got = float(covered_share([led], [place], post, lit_mm=2.0)[0, 0])
    assert got == pytest.approx(by_rays(led, place, post, 2.0), abs=0.06)


def test_inside_a_post_it_is_dark_and_behind_nothing_is_hidden() -> None:
    post = Post(0.0, 0.0, 1.0)
    hidden = covered_share([[-10.0, 0.0]], [[0.2, 0.3], [-5.0, 0.0], [-10.0, 5.0], [30.0, 0.0]], post)
    assert hidden[0].tolist() == [1.0, 0.0, 0.0, pytest.approx(1.0, abs=0.35)]


@settings(max_examples=25, deadline=None)
@given(st.floats(-10, 40), st.floats(-5, 5), st.floats(0.1, 3))
def test_a_post_never_adds_light_and_a_wider_one_leaves_less(x: float, y: float, radius: float) -> None:
    places = np.column_stack([np.linspace(0, 30, 9), np.linspace(-3, 3, 9)])
    leds = np.column_stack([np.arange(3) * 16.7, np.zeros(3)])

    def lit(*posts):
        return np.array(shaded_lx(leds, places, order=1.0, gap_mm=15.0, half_width_mm=6.0, posts=posts))

    free, thin, wide = lit(), lit(Post(x, y, radius)), lit(Post(x, y, 1.5 * radius))
    assert (thin <= free + 1e-9).all() and (wide <= thin + 1e-9).all()


def test_a_mirrored_post_throws_a_mirrored_shadow() -> None:
    places = np.column_stack([np.linspace(0, 30, 9), np.linspace(-3, 3, 9)])
    leds = np.column_stack([np.arange(3) * 16.7, np.zeros(3)])
    one, other = (np.array(shaded_lx(leds, places * (1, sign), order=1.0, gap_mm=15.0, half_width_mm=6.0,
                                     posts=[Post(8.0, sign * 2.0, 1.0)])) for sign in (1.0, -1.0))
    assert one == pytest.approx(other, rel=1e-12)


def test_straight_light_is_shaded_led_by_led_and_thrown_light_in_part() -> None:
    leds, places = [[0.0, 0.0], [16.0, 0.0]], np.array([[4.0, 1.0], [8.0, 0.0], [30.0, 0.0]])
    post = Post(8.0, 0.0, 1.5)
    straight, left = shaded_lx(leds, places, order=1.0, gap_mm=15.0, half_width_mm=6.0, posts=[post])
    each = np.array([diffuser.row_light_lx([x], 1.0, order=1.0, gap_mm=15.0, x_mm=places[:, 0], y_mm=places[:, 1] - y)
                     for x, y in leds])
    assert straight == pytest.approx((each * (1.0 - covered_share(leds, places, post))).sum(axis=0))
    assert left[1] == 0.0 and np.all((left >= 0.0) & (left <= 1.0))
    _, free = shaded_lx(leds, places, order=1.0, gap_mm=15.0, half_width_mm=6.0, posts=[])
    assert free == pytest.approx(1.0)


def test_sheets_even_a_wave_as_their_factors_say_and_keep_the_mean() -> None:
    period, step = 16.0, 0.5
    x = step * (np.arange(64) + 0.5)
    wave = 1 + 0.3 * np.cos(2 * math.pi * x / period)[None].repeat(8, axis=0)
    left = evened(wave, step, ((2.0, 0.0), (1.0, 6.0)))
    share = sheet_blur_factor(period, 2.0) * sheet_blur_factor(period, 1.0) * second_sheet_factor(period, 6.0)
    assert left - 1 == pytest.approx((wave - 1) * share, abs=1e-9)
    assert left.mean() == pytest.approx(wave.mean(), rel=1e-12)
    assert float(evened_share([2 * math.pi / period], ((2.0, 0.0), (1.0, 6.0)))[0]) == pytest.approx(share)


def test_a_second_sheet_evens_a_spot_as_the_folding_with_its_kernel() -> None:
    """Second method: the Lambertian kernel g^2 / (pi (r^2 + g^2)^2), folded by SciPy."""
    step, gap = 0.5, 4.0
    axis = step * (np.arange(401) - 200)
    x, y = np.meshgrid(axis, axis)
    spot = np.exp(-(x**2 + y**2) / (2 * 3.0**2))
    kernel = gap**2 / (math.pi * (x**2 + y**2 + gap**2) ** 2) * step**2
    folded = fftconvolve(spot, kernel, mode="same")
    got = evened(spot, step, ((0.0, gap),))
    assert got[200, 140:260] == pytest.approx(folded[200, 140:260], abs=0.01)


@pytest.mark.parametrize("cycles", [1.0, 4.0])
def test_a_wave_is_seen_as_often_as_its_contrast_holds_the_threshold(cycles: float) -> None:
    distance, step = 1000.0, 0.5
    period = distance * math.radians(1.0) / cycles
    count = int(round(8 * period / step))
    step = 8 * period / count
    x = step * (np.arange(count) + 0.5)
    wave = (1 + 0.02 * np.cos(2 * math.pi * x / period))[None].repeat(4, axis=0)
    threshold = float(next(row["threshold_contrast"] for row in rows("contrast_threshold")
                           if float(row["cycles_per_degree"]) == cycles and float(row["luminance_cd_m2"]) == 10))
    assert times_seen(wave, step, distance_mm=distance, luminance_cd_m2=10.0) == pytest.approx(0.02 / threshold, rel=0.02)


def test_what_is_finer_than_sixty_per_degree_is_not_seen() -> None:
    assert diffuser.contrast_thresholds([60.0, 90.0], 100.0)[0] == pytest.approx(1.0)
    assert diffuser.contrast_thresholds([90.0], 100.0)[0] > 1.0
    rising = diffuser.contrast_thresholds(np.linspace(8.0, 60.0, 30), 10.0)
    assert (np.diff(rising) > 0).all()


def test_words_by_the_table() -> None:
    assert [seen_words(times) for times in (0.0, 2.0, 5.0, 15.0, 1e4)] == [row["words"] for row in rows("seen_words")]


@pytest.mark.parametrize("wrong", [
    lambda: seen_words(-1.0), lambda: covered_share([[0, 0]], [[1, 1]], Post(0, 0, -1.0)),
    lambda: covered_share([[0, 0]], [[1, 1]], Post(0, 0, 1.0), lit_mm=-1.0),
    lambda: shaded_lx([[0, 0]], [[1, 0]], order=1.0, gap_mm=5.0, half_width_mm=0.0, posts=[]),
    lambda: evened(np.ones((3, 3)), 0.0, ()), lambda: evened(np.ones((3, 3)), 1.0, ((-1.0, 0.0),)),
    lambda: times_seen(np.ones((3, 3)), 1.0, distance_mm=0.0, luminance_cd_m2=1.0),
    lambda: diffuser.contrast_thresholds([0.0], 1.0), lambda: diffuser.contrast_thresholds([1.0], -1.0),
])
def test_impossible_measures_are_refused(wrong) -> None:
    with pytest.raises(OutOfRange):
        wrong()
