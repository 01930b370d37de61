"""The offered outline against areas known from geometry, and the threshold against the optimum of two bell curves."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage, optimize, stats
from shapely import Polygon

from rushlight.geometry.contour import offer_outline
from rushlight.geometry.threshold import best_split

BOX = (-50.0, -40.0, 50.0, 40.0)


def drawn(inside, px=8):
    """A light shape on a dark ground from a rule x, y -> inside, sampled nine times a pixel."""
    width, height = 100 * px, 80 * px
    y, x = np.mgrid[0:height * 3, 0:width * 3]
    share = inside(-50 + (x + 0.5) / (3 * px), 40 - (y + 0.5) / (3 * px)).reshape(height, 3, width, 3).mean(axis=(1, 3))
    grey = 40 + 170 * ndimage.gaussian_filter(share.astype(float), 0.7)
    return np.repeat(grey[..., None], 3, axis=2), np.ones((height, width), dtype=bool)


# Areas from elementary geometry: circle pi r^2, ellipse pi a b, ring pi (R^2 - r^2), half-disc pi r^2 / 2.
@pytest.mark.parametrize(("rule", "area", "hole"), [
    (lambda x, y: x**2 + y**2 < 30**2, np.pi * 30**2, 0.0),
    (lambda x, y: (x / 40) ** 2 + (y / 12) ** 2 < 1, np.pi * 40 * 12, 0.0),
    (lambda x, y: (x**2 + y**2 < 30**2) & (x**2 + y**2 > 10**2), np.pi * 30**2, np.pi * 10**2),
    (lambda x, y: (x**2 + y**2 < 30**2) & (y > 0), np.pi * 30**2 / 2, 0.0),
])
def test_areas_of_round_shapes(rule, area, hole):
    found = offer_outline(*drawn(rule), BOX, tolerance_mm=0.1)
    assert Polygon(found.outline_mm).area == pytest.approx(area, rel=0.006)
    assert sum(Polygon(points).area for points in found.openings_mm) == pytest.approx(hole, rel=0.015)


def test_area_and_length_of_a_rotated_rectangle():
    turn = np.radians(17)
    found = offer_outline(*drawn(lambda x, y: (abs(x * np.cos(turn) + y * np.sin(turn)) < 30) & (abs(y * np.cos(turn) - x * np.sin(turn)) < 10)), BOX)
    shape = Polygon(found.outline_mm)
    assert shape.area == pytest.approx(60 * 20, rel=0.01)
    assert shape.minimum_rotated_rectangle.length == pytest.approx(2 * (60 + 20), rel=0.01)


def test_threshold_of_two_equal_bell_curves_lies_between_them():
    """Two normal curves of one width and share: the least-error threshold is the middle of their means."""
    rng = np.random.default_rng(3)
    found = best_split(np.concatenate([rng.normal(60, 12, 200_000), rng.normal(160, 12, 200_000)]))
    error = optimize.minimize_scalar(lambda t: stats.norm.sf(t, 60, 12) + stats.norm.cdf(t, 160, 12), bounds=(60, 160), method="bounded").x
    assert found.level == pytest.approx(error, abs=3)
    between, within = 50**2, 12**2
    assert found.effectiveness == pytest.approx(between / (between + within), rel=0.01)


def test_one_bell_curve_is_told_from_two():
    """Halves of a normal curve: means at +-sqrt(2/pi), variance 1 - 2/pi; so the distance is 2.65 spreads, eta 2/pi."""
    found = best_split(np.random.default_rng(5).normal(100, 10, 400_000))
    assert found.apart == pytest.approx(2 * np.sqrt(2 / np.pi) / np.sqrt(1 - 2 / np.pi), rel=0.02)
    assert found.effectiveness == pytest.approx(2 / np.pi, rel=0.02)
