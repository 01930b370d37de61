"""The map of a photograph and its covariance against scipy's own least squares of the reprojection.

Source: `scipy.optimize.least_squares` (Levenberg-Marquardt with finite differences) on the eight numbers of the map from
millimetres to pixels; covariance sigma^2 (J'J)^-1 as for `scipy.optimize.curve_fit`, carried by finite differences.
"""

import numpy as np
import pytest
from scipy.optimize import least_squares

from pinhole import Pinhole
from rushlight.geometry.gauge import fit_gauge, to_pixel, to_place, unsure_mm
from rushlight.geometry.homography import pixel_slopes

PLACES = np.array([(0, 0), (200, 0), (200, 100), (0, 100), (100, 0), (100, 100), (40, 60), (160, 30), (80, 50), (10, 90.0)])
CAMERA = Pinhole(2600, 4000, 3000, height_mm=700, foot_mm=(60, -120), tilt_deg=30, roll_deg=8)
SIZE = 200.0


def model(numbers, places):
    lifted = np.column_stack([places / SIZE, np.ones(len(places))])
    seen = lifted @ np.append(numbers, 1.0).reshape(3, 3).T
    return seen[:, :2] / seen[:, 2:]


def solved(seen):
    start = np.array([1000, 0, seen[0, 0], 0, -1000, seen[0, 1], 0, 0.0])
    return least_squares(lambda numbers: (model(numbers, PLACES) - seen).ravel(), start, method="lm", x_scale="jac", xtol=1e-15,
                         ftol=1e-15, gtol=1e-15, max_nfev=20_000)


@pytest.mark.parametrize("noise", [0.0, 0.5, 3.0])
def test_the_fit_is_the_least_squares_of_the_clicks(noise):
    seen = np.array(CAMERA.seen(PLACES)) + np.random.default_rng(3).normal(0, noise, (len(PLACES), 2))
    ours = fit_gauge([tuple(row) for row in seen], [tuple(row) for row in PLACES])
    theirs = solved(seen)
    assert to_pixel(ours.matrix, PLACES) == pytest.approx(model(theirs.x, PLACES), abs=2e-4)
    assert ours.residual.rms_px == pytest.approx(np.sqrt(2 * theirs.cost / len(PLACES)), abs=1e-6)


def test_slopes_of_the_pixels():
    numbers = np.append(solved(np.array(CAMERA.seen(PLACES))).x, 1.0).reshape(3, 3)
    slopes = pixel_slopes(numbers, PLACES / SIZE)
    for n in range(8):
        step = 1e-6 * max(1.0, abs(numbers.ravel()[n]))
        more, less = numbers.ravel().copy(), numbers.ravel().copy()
        more[n] += step
        less[n] -= step
        differences = (model(more[:8], PLACES) - model(less[:8], PLACES)).ravel() / (2 * step)
        assert slopes[:, n] == pytest.approx(differences, rel=1e-4, abs=1e-4)


def test_the_unsureness_is_the_carried_covariance():
    seen = np.array(CAMERA.seen(PLACES))
    theirs = solved(seen)
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac)
    ours = fit_gauge([tuple(row) for row in seen], [tuple(row) for row in PLACES])
    far = np.array([(0.0, 0.0), (200.0, 100.0), (320.0, 140.0)])
    for place, error in zip(far, unsure_mm(ours, far), strict=True):
        pixel = to_pixel(ours.matrix, [place])[0]
        slopes = np.array([(model(theirs.x + step, place[None]) - model(theirs.x - step, place[None]))[0] / (2 * step.sum())
                           for step in np.diag(np.maximum(1e-6, 1e-6 * np.abs(theirs.x)))]).T
        back = np.array([(to_place(ours.matrix, [pixel + step]) - to_place(ours.matrix, [pixel - step]))[0] / 2e-3 for step in np.eye(2) * 1e-3]).T
        carried = back @ slopes @ covariance @ slopes.T @ back.T
        assert error == pytest.approx(np.sqrt(np.trace(carried)), rel=1e-3)
