"""From pixels to millimetres: fit, residual, refusal."""

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.homography import Homography, NoFit, apply_homography, fit_homography, two_point_scale

CORNERS = [(0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0)]
PICTURE = [(102.0, 88.0), (1830.0, 140.0), (1700.0, 1010.0), (190.0, 930.0)]


def test_four_points_fit_exactly_and_the_way_back_returns():
    fit = fit_homography(PICTURE, CORNERS)
    assert isinstance(fit, Homography)
    assert apply_homography(fit, PICTURE) == pytest.approx(np.array(CORNERS), abs=1e-9)
    points = np.random.default_rng(1).uniform((0, 0), (120, 60), (20, 2))
    there = apply_homography(fit, points, inverse=True)
    assert apply_homography(fit, there) == pytest.approx(points, abs=1e-8)


def test_a_known_map_comes_back_from_many_points():
    truth = Homography(((0.07, 0.004, -8.0), (-0.003, 0.068, -5.0), (2e-5, -4e-5, 1.0)), 0, 0, 1)
    clicks = np.random.default_rng(2).uniform((0, 0), (1800, 1000), (12, 2))
    fit = fit_homography(clicks, apply_homography(truth, clicks))
    assert np.array(fit.matrix) == pytest.approx(np.array(truth.matrix), rel=1e-6, abs=1e-10)  # derived: known map
    assert fit.residual_mm < 1e-9


def test_least_squares_halves_the_error_of_noisy_clicks():
    rng = np.random.default_rng(3)
    truth = fit_homography(PICTURE, CORNERS)
    probe = rng.uniform((20, 10), (100, 50), (50, 2))
    errors = {}
    for count in (4, 16):
        runs = []
        for _ in range(40):
            edge = np.array([*CORNERS, *rng.uniform((0, 0), (120, 60), (12, 2))])[:count]
            clicks = apply_homography(truth, edge, inverse=True) + rng.normal(0, 1, (count, 2))
            fit = fit_homography(clicks, edge)
            off = apply_homography(fit, apply_homography(truth, probe, inverse=True)) - probe
            runs.append(float(np.sqrt((off**2).sum(axis=1).mean())))
        errors[count] = np.mean(runs)
    assert errors[16] < 0.8 * errors[4]
    assert errors[4] < 0.25  # derived: a click's pixel is about 0.07 mm here


def test_one_wrong_click_is_named():
    fit = fit_homography(PICTURE, CORNERS)
    places = np.array([*CORNERS, (60.0, 30.0), (30.0, 30.0), (90.0, 20.0), (60, 0), (60, 60)])
    clicks = apply_homography(fit, places, inverse=True)
    clicks[5] += (60, 0)
    bad = fit_homography(clicks, places)
    assert bad.worst_point == 6
    assert bad.worst_mm > 1 and bad.residual_mm > 0.3


@pytest.mark.parametrize(
    ("pixels", "places", "why"),
    [
        (PICTURE[:3], CORNERS[:3], "too-few-points"),
        ([(0, 0), (10, 10), (20, 20), (5, 90)], CORNERS, "on-a-line"),
        ([(5, 5)] * 4, CORNERS, "on-a-line"),
        (PICTURE, [CORNERS[1], CORNERS[0], *CORNERS[2:]], "folded"),
    ],
)
def test_what_cannot_fit_is_said(pixels, places, why):
    answer = fit_homography(pixels, places)
    assert isinstance(answer, NoFit)
    assert answer.why == why


def test_the_scale_from_two_points():
    assert two_point_scale((100, 100), (400, 500), 50.0) == pytest.approx(0.1)  # derived: 500 px


@pytest.mark.parametrize(
    ("call", "text"),
    [
        (lambda: fit_homography(PICTURE, CORNERS[:3]), "as many as on the picture"),
        (lambda: fit_homography([*PICTURE[:3], (math.nan, 0)], CORNERS), "not finite"),
        (lambda: two_point_scale((1, 1), (1, 1), 5), "two different points"),
        (lambda: two_point_scale((1, 1), (2, 1), 0), "length_mm is 0"),
        (lambda: apply_homography(Homography(((1, 0, 0), (0, 1, 0), (1, 0, 0)), 0, 0, 1), [(0, 5)]), "horizon"),
    ],
)
def test_bad_input_raises(call, text):
    with pytest.raises(OutOfRange, match=text):
        call()
