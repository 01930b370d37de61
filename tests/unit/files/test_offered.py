"""The outline that a part's picture offers, from the file on."""

import numpy as np
import pytest
from PIL import Image, ImageDraw
from shapely import Polygon

from rushlight.files.offered import offered_outline
from rushlight.geometry.contour import NoOutline, OfferedOutline
from rushlight.geometry.homography import Homography, fit_homography
from rushlight.model.plan_part import Part, Picture, PicturePoint

BEGUN = ((0.0, 0.0), (90.0, 0.0), (90.0, 40.0), (0.0, 40.0))
HULL = ((0.0, 0.0), (100.0, 0.0), (115.0, 20.0), (100.0, 40.0), (0.0, 40.0))


def part(file, points):
    return Part(name="hull", outline_mm=BEGUN, picture=Picture(file=file, points=tuple(PicturePoint(pixel=p, at_mm=m) for p, m in points)))


def saved(folder, shape_px, name="hull.png", size=(900, 700), window_px=None):
    image = Image.new("RGB", size, (70, 120, 95))
    draw = ImageDraw.Draw(image)
    draw.polygon([tuple(point) for point in shape_px], fill=(210, 208, 200))
    if window_px:
        draw.polygon(window_px, fill=(70, 120, 95))
    (folder / "pictures").mkdir(exist_ok=True)
    image.save(folder / "pictures" / name)


def test_from_two_points_of_a_square_view(tmp_path):
    """5 px a mm, zero at pixel (150, 450); the begun outline is too small and does not matter."""
    to_px = lambda places: [(150 + 5 * x, 450 - 5 * y) for x, y in places]  # noqa: E731
    saved(tmp_path, to_px(HULL), window_px=to_px([(20, 10), (40, 10), (40, 22), (20, 22)]))
    found = offered_outline(tmp_path, part("hull.png", [((150, 450), (0, 0)), ((650, 450), (100, 0))]))
    assert isinstance(found, OfferedOutline), found
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.01 * Polygon(HULL).area
    assert Polygon(found.openings_mm[0]).area == pytest.approx(240, rel=0.05)


def test_from_four_points_of_an_oblique_view(tmp_path):
    corners_px, corners_mm = [(120, 560), (760, 520), (640, 180), (200, 160)], [(-20, -20), (140, -20), (140, 80), (-20, 80)]
    fit = fit_homography(corners_mm, corners_px)
    assert isinstance(fit, Homography)
    laid = np.array(fit.matrix) @ np.column_stack([HULL, np.ones(5)]).T
    saved(tmp_path, (laid[:2] / laid[2]).T, "oblique.png")
    found = offered_outline(tmp_path, part("oblique.png", list(zip(corners_px, corners_mm, strict=True))))
    assert isinstance(found, OfferedOutline), found
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.02 * Polygon(HULL).area


def test_without_a_picture_or_its_scale_it_is_said(tmp_path):
    saved(tmp_path, [(10, 10), (100, 10), (100, 100)])
    assert offered_outline(tmp_path, Part(name="hull", outline_mm=BEGUN)).text.startswith("hull has no picture")
    assert offered_outline(tmp_path, part("hull.png", [])).why == "no-picture"


def test_a_picture_elsewhere_does_not_reach_the_part(tmp_path):
    saved(tmp_path, [(10, 10), (100, 10), (100, 100)])
    found = offered_outline(tmp_path, part("hull.png", [((150, 450), (5000, 0)), ((650, 450), (5100, 0))]))
    assert isinstance(found, NoOutline)
    assert "does not reach" in found.text
