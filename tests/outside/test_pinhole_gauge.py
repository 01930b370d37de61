"""A photograph drawn by a textbook's camera, measured again.

Source: R. Hartley, A. Zisserman, Multiple View Geometry (2nd ed. 2004), section 6.1, the finite projective camera
x = K [R | -R C] X, written down once more in `tests/pinhole.py`. Ground resolution of a camera straight above: height/focal
length (similar triangles, Euclid, Elements VI.4).
"""

import math

import numpy as np
import pytest

from pinhole import Pinhole
from rushlight.geometry.gauge import camera_over, fit_gauge, focal_px, mm_per_px, parallax_mm, to_place, unsure_mm

SHEET = [(0.0, 0.0), (297.0, 0.0), (297.0, 210.0), (0.0, 210.0)]
DOTS = [(150.0, 100.0), (40.0, 170.0), (260.0, 40.0), (330.0, 230.0), (-25.0, -15.0)]
RADIUS = 4.0


def centre(image, colour_band, near):
    """Centre of a drawn dot, weighted by how much it is one, near a pixel; pixels counted at their edges."""
    weight = np.asarray(image, dtype=float)[:, :, colour_band] - np.asarray(image, dtype=float)[:, :, (colour_band + 1) % 3]
    rows, columns = np.mgrid[0:image.height, 0:image.width] + 0.5
    weight = np.clip(weight, 0, None) * (np.hypot(columns - near[0], rows - near[1]) < 40)
    return (weight * columns).sum() / weight.sum(), (weight * rows).sum() / weight.sum()


def crossings(strips):
    """Where each row goes from mat to sheet or back, once, to a part of a pixel; pixels counted at their edges."""
    level, points = (245 + 103) / 2, []
    for n, strip in enumerate(strips):
        steps = np.nonzero(np.diff(strip > level))[0]
        if len(steps) == 1 and abs(n + 0.5 - len(strips) / 2) > 7:  # near the corner a row may cross the other edge
            k = steps[0]
            points.append((k + (level - strip[k]) / (strip[k + 1] - strip[k]) + 0.5, n + 0.5))
    return np.array(points)


def corner_of_sheet(image, near, half=30):
    """A corner of the sheet, found on the pixels: two straight lines through its edges' crossings, and where they meet."""
    x0, y0 = round(near[0]), round(near[1])
    window = np.asarray(image.convert("L"), dtype=float)[y0 - half : y0 + half, x0 - half : x0 + half]
    lines = []
    for points in (crossings(window), crossings(window.T)[:, ::-1]):
        lines.append((points.mean(axis=0), np.linalg.svd(points - points.mean(axis=0))[2][0]))
    (p, u), (q, v) = lines
    along, _ = np.linalg.solve(np.column_stack([u, -v]), q - p)
    return tuple(np.array([x0 - half, y0 - half]) + p + along * u)


@pytest.mark.parametrize(("tilt", "roll"), [(0.0, 0.0), (12.0, 5.0), (28.0, -4.0)])
def test_places_of_a_drawn_photograph_within_the_stated_error(tilt, roll):
    """Corners found on the picture's own pixels, not told; each dot lies where it was drawn, within three times what is stated."""
    foot = (150 + 10 * roll, 105 - 620 * math.tan(math.radians(tilt)))
    camera = Pinhole(1500, 1600, 1200, height_mm=620, foot_mm=foot, tilt_deg=tilt, roll_deg=roll)
    image = camera.photograph([((245, 245, 240), SHEET)], [((220, 30, 30), dot, RADIUS) for dot in DOTS])
    clicks = [corner_of_sheet(image, pixel) for pixel in camera.seen(SHEET)]
    fit = fit_gauge(clicks, SHEET)
    stated = unsure_mm(fit, DOTS, click_px=0.3)
    for dot, pixel, error in zip(DOTS, camera.seen(DOTS), stated, strict=True):
        found = to_place(fit.matrix, [centre(image, 0, pixel)])[0]
        assert math.dist(found, dot) < 3 * error


def test_two_points_square_on_have_the_ground_resolution():
    camera = Pinhole(1500, 1600, 1200, height_mm=900, foot_mm=(100, 50))
    ends = [(10.0, 20.0), (190.0, 80.0)]
    fit = fit_gauge(camera.seen(ends), ends)
    assert mm_per_px(fit.matrix, (800, 600)) == pytest.approx((0.6, 0.6))  # source: height / focal length
    assert to_place(fit.matrix, camera.seen(DOTS)) == pytest.approx(np.array(DOTS), abs=1e-9)


@pytest.mark.parametrize("tilt", [0.0, 15.0, 35.0])
def test_ground_resolution_of_an_oblique_view(tilt):
    """On the axis at distance d: d / f across, d / (f cos tilt) along the fall of the view."""
    camera = Pinhole(1500, 1600, 1200, height_mm=900, foot_mm=(100, 50), tilt_deg=tilt)
    fit = fit_gauge(camera.seen(SHEET), SHEET)
    away = 900 / math.cos(math.radians(tilt))
    assert mm_per_px(fit.matrix, (800, 600)) == pytest.approx((away / 1500, away / 1500 / math.cos(math.radians(tilt))), rel=1e-6)


@pytest.mark.parametrize(("tilt", "roll"), [(0.0, 0.0), (20.0, 10.0), (40.0, -30.0)])
def test_the_camera_is_found_from_the_lens_note(tilt, roll):
    camera = Pinhole(3000, 4000, 3000, height_mm=750, foot_mm=(120, -200), tilt_deg=tilt, roll_deg=roll)
    film = 3000 * math.hypot(36, 24) / 5000
    found = camera_over(fit_gauge(camera.seen(SHEET), SHEET).matrix, focal_px(film, 4000, 3000), (2000, 1500))
    assert (found.height_mm, found.tilt_deg) == pytest.approx((750, tilt), abs=1e-4)
    assert found.foot_mm == pytest.approx((120, -200), abs=1e-3)


@pytest.mark.parametrize("above", [-8.0, 3.0, 25.0])
def test_relief_displacement_by_the_camera_s_own_rays(above):
    camera = Pinhole(1500, 1600, 1200, height_mm=800, foot_mm=(90, -100), tilt_deg=20)
    fit = fit_gauge(camera.seen(SHEET), SHEET)
    place = (250.0, 180.0)
    moved = np.array(to_place(fit.matrix, camera.seen([place], above_mm=above))[0]) - place
    away = np.array(place) - (90, -100)
    assert moved == pytest.approx(away / np.hypot(*away) * parallax_mm(800, float(np.hypot(*away)), above), abs=1e-6)
