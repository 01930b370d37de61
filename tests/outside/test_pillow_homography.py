"""A homography against Pillow's perspective transform of a drawn picture.

Source: Pillow `Image.transform(..., Image.Transform.PERSPECTIVE)` (documentation: output (x, y) is taken from input
((a x + b y + c)/(g x + h y + 1), (d x + e y + f)/(g x + h y + 1)), counted at pixel edges, so that a pixel's centre is
at a half).
"""

import numpy as np
import pytest
from PIL import Image, ImageDraw

from rushlight.geometry.homography import apply_homography, fit_homography

SEEN = [(60.0, 50.0), (560.0, 90.0), (520.0, 350.0), (90.0, 320.0)]
PLATE = [(0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0)]
PX_PER_MM = 5.0


def test_a_rectified_picture_shows_its_dots_where_they_are():
    fit = fit_homography(SEEN, PLATE)
    dots = np.array([(20.0, 15.0), (60.0, 30.0), (100.0, 45.0), (35.0, 50.0)])
    photo = Image.new("L", (640, 400), 0)
    pen = ImageDraw.Draw(photo)
    for x, y in apply_homography(fit, dots, inverse=True):
        pen.ellipse((x - 6, y - 6, x + 6, y + 6), fill=255)
    back = np.linalg.inv(np.array(fit.matrix)) @ np.diag([1 / PX_PER_MM, 1 / PX_PER_MM, 1.0])
    flat = photo.transform(
        (600, 300), Image.Transform.PERSPECTIVE, tuple((back / back[2, 2]).ravel()[:8]), Image.Resampling.BILINEAR
    )
    grey = np.asarray(flat, dtype=float)
    rows, columns = np.mgrid[0:300, 0:600] + 0.5
    for x, y in dots:
        near = np.hypot(columns / PX_PER_MM - x, rows / PX_PER_MM - y) < 6
        weight = grey * near
        centre = ((weight * columns).sum() / weight.sum() / PX_PER_MM, (weight * rows).sum() / weight.sum() / PX_PER_MM)
        assert centre == pytest.approx((x, y), abs=0.15)  # source: Pillow; drawn dots are whole pixels
