"""A picture as a gauge: its map, what it leaves over, how unsure it is, where the camera stood."""

from __future__ import annotations

import math

import numpy as np
import pytest

from pinhole import Pinhole
from rushlight.errors import OutOfRange
from rushlight.geometry.gauge import (
    Gauge,
    camera_over,
    checked,
    fit_gauge,
    focal_px,
    mm_per_px,
    parallax_mm,
    to_pixel,
    to_place,
    unsure_mm,
)
from rushlight.geometry.homography import NoFit

SHEET = [(0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)]
MORE = [*SHEET, (105.0, 0.0), (105.0, 297.0), (30.0, 150.0), (180.0, 150.0)]


def view(tilt_deg=25.0):
    return Pinhole(focal_px=3000, width_px=4000, height_px=3000, height_mm=900, foot_mm=(100, -150), tilt_deg=tilt_deg)


def pairs(array):
    return [(float(x), float(y)) for x, y in array]


def test_two_points_scale_turn_and_mirror():
    fit = fit_gauge([(10, 60), (210, 60)], [(0, 0), (100, 0)])
    assert to_place(fit.matrix, [(10, 40)])[0] == pytest.approx((0, 10))
    assert fit.residual is None
    other = fit_gauge([(210, 60), (10, 60)], [(0, 0), (100, 0)], mirrored=True)
    assert to_place(other.matrix, [(210, 40)])[0] == pytest.approx((0, 10))
    assert mm_per_px(fit.matrix, (5, 5)) == pytest.approx((0.5, 0.5))


@pytest.mark.parametrize("turned", [90.0, -37.5, 360.0])
@pytest.mark.parametrize("count", [2, 4, 8])
def test_a_turn_goes_round_the_zero_anticlockwise(count, turned):
    places = MORE[:count] if count != 2 else [SHEET[0], SHEET[2]]
    seen = pairs(view().seen(places))
    straight, spun = fit_gauge(seen, places), fit_gauge(seen, places, turned_deg=turned)
    x, y = to_place(straight.matrix, seen).T
    spin = (x + 1j * y) * np.exp(1j * math.radians(turned))
    assert to_place(spun.matrix, seen) == pytest.approx(np.column_stack([spin.real, spin.imag]), abs=1e-6)
    assert (spun.residual is None) == (straight.residual is None)
    assert unsure_mm(spun, to_place(spun.matrix, seen)) == pytest.approx(unsure_mm(straight, to_place(straight.matrix, seen)), rel=1e-6)


@pytest.mark.parametrize(("pixels", "places", "why"), [
    ([], [], "too-few-points"), ([(0, 0)], [(0, 0)], "too-few-points"), ([(0, 0)] * 3, [(0, 0)] * 3, "too-few-points"),
    ([(5, 5), (5, 5)], [(0, 0), (9, 0)], "equal"), ([(5, 5), (6, 5)], [(9, 0), (9, 0)], "equal"),
    ([(n, 0) for n in range(4)], SHEET, "on-a-line"), ([(0, 0), (9, 9), (9, 0), (0, 9)], SHEET, "folded"),
])
def test_points_that_fix_nothing_say_why(pixels, places, why):
    fit = fit_gauge(pixels, places)
    assert isinstance(fit, NoFit) and fit.why == why


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_finite_is_refused(bad):
    with pytest.raises(OutOfRange):
        fit_gauge([(0, 0), (bad, 1)], [(0, 0), (1, 0)])
    with pytest.raises(OutOfRange):
        fit_gauge([(0, 0), (1, 1)], [(0, 0)])


def test_four_points_leave_nothing_over_and_more_do():
    seen = pairs(view().seen(MORE))
    assert fit_gauge(seen[:4], SHEET).residual is None
    left = fit_gauge(seen, MORE).residual
    assert (left.spare, left.rms_px) == (8, pytest.approx(0, abs=1e-6))
    seen[6] = (seen[6][0] + 12, seen[6][1])
    left = fit_gauge(seen, MORE).residual
    assert left.worst_point == 7 and 4 < left.worst_px < 12 and left.worst_mm > left.rms_mm > 0.2


def test_millimetres_of_a_pixel_by_finite_differences():
    fit = fit_gauge(pairs(view().seen(SHEET)), SHEET)
    for pixel in ((100.0, 200.0), (3000.0, 2500.0)):
        steps = to_place(fit.matrix, [pixel, (pixel[0] + 1e-3, pixel[1]), (pixel[0], pixel[1] + 1e-3)])
        slopes = np.array([steps[1] - steps[0], steps[2] - steps[0]]) / 1e-3
        least, most = sorted(np.linalg.svd(slopes, compute_uv=False))
        assert mm_per_px(fit.matrix, pixel) == pytest.approx((least, most), rel=1e-5)


@pytest.mark.parametrize("places", [[SHEET[0], SHEET[1]], SHEET, MORE], ids=["two", "four", "eight"])
def test_unsureness_by_monte_carlo(places):
    """Second method: the same clicks with noise of 1 px, 1,500 times."""
    rng, camera = np.random.default_rng(5), view(20.0 if len(places) > 2 else 0.0)
    seen = np.array(camera.seen(places))
    far = np.array([(0.0, 0.0), (105.0, 150.0), (300.0, 297.0)])
    fit = fit_gauge(pairs(seen), places)
    aimed = to_pixel(fit.matrix, far)
    off = []
    for _ in range(1500):
        noisy = fit_gauge(pairs(seen + rng.normal(0, 1, seen.shape)), places)
        off.append(((to_place(noisy.matrix, aimed) - far) ** 2).sum(axis=1))
    assert unsure_mm(fit, far) == pytest.approx(np.sqrt(np.mean(off, axis=0)), rel=0.07)


def test_points_that_disagree_make_it_less_sure():
    seen = np.array(view().seen(MORE))
    sure = unsure_mm(fit_gauge(pairs(seen), MORE), SHEET)
    rng = np.random.default_rng(2)
    unsure = unsure_mm(fit_gauge(pairs(seen + rng.normal(0, 5, seen.shape)), MORE), SHEET)
    assert (unsure > 2 * sure).all()
    assert unsure_mm(fit_gauge(pairs(seen), MORE), SHEET, click_px=3) == pytest.approx(3 * sure)


@pytest.mark.parametrize("tilt", [0.0, 10.0, 40.0])
@pytest.mark.parametrize("mirrored", [False, True])
def test_the_camera_is_found_again(tilt, mirrored):
    camera = view(tilt)
    sign = -1 if mirrored else 1
    places = [(sign * x, y) for x, y in SHEET]
    found = camera_over(fit_gauge(pairs(camera.seen(SHEET)), places).matrix, 3000, (2000, 1500))
    assert (found.height_mm, found.tilt_deg, found.stretch) == pytest.approx((900, tilt, 1), abs=1e-4)
    assert found.foot_mm == pytest.approx((sign * 100, -150), abs=1e-3)


def test_a_wrong_shape_of_the_sheet_shows_as_a_stretch():
    swapped = [(y, x) for x, y in SHEET]
    fit = fit_gauge(pairs(view(5).seen(SHEET)), [(0, 0), (297, 0), (297, 210), (0, 210)])
    assert isinstance(fit, Gauge) and swapped
    stretch = camera_over(fit.matrix, 3000, (2000, 1500)).stretch
    assert max(stretch, 1 / stretch) > 1.7


def test_parallax_by_the_ray_itself():
    """Second method: a point above the plane, seen by a camera, measured on the plane."""
    camera = view(15.0)
    fit = fit_gauge(pairs(camera.seen(SHEET)), SHEET)
    seen = to_place(fit.matrix, camera.seen([(200.0, 290.0)], above_mm=12.0))[0]
    away = math.dist((200, 290), (100, -150))
    assert math.dist(seen, (200, 290)) == pytest.approx(parallax_mm(900, away, 12), rel=1e-9)
    assert parallax_mm(900, away, 0) == 0
    assert parallax_mm(900, away, -5) < 0


@pytest.mark.parametrize("values", [(0, 10, 1), (-5, 1, -9), (100, 10, 100), (math.nan, 1, 0)])
def test_parallax_below_the_camera_only(values):
    with pytest.raises(OutOfRange):
        parallax_mm(*values)


def test_focal_length_by_the_diagonal():
    assert focal_px(math.hypot(36, 24), 3000, 4000) == pytest.approx(5000)  # derived: 3-4-5
    for bad in ((0, 1, 1), (26, 0, 1), (26, 1, -1)):
        with pytest.raises(OutOfRange):
            focal_px(*bad)
    with pytest.raises(OutOfRange):
        camera_over(((1, 0, 0), (0, 1, 0), (0, 0, 1)), 0, (0, 0))


def test_a_measured_distance_proves_the_scale_or_tells_how_far_the_end_is_off():
    fit = fit_gauge([(0, 0), (1000, 0)], [(0, 0), (100, 0)])
    good = checked(fit, ((0, 100), (500, 100)), 50.0, click_px=1)
    assert (good.seen_mm, good.off_mm, good.miss_mm(200)) == pytest.approx((50, 0, 0))
    assert good.click_mm == pytest.approx(0.1 * math.sqrt(2))
    off = checked(fit, ((0, 100), (500, 100)), 40.0, click_px=1)
    assert off.miss_mm(200) == pytest.approx(50)  # a quarter too long, over 200 mm
