"""A picture laid on its part's millimetres."""

import io

import numpy as np
import pytest
from PIL import Image, ImageDraw

from rushlight.files.rectified import laid_picture, pixel_to_mm, shown_box
from rushlight.model.plan import Part, Picture, PicturePoint

OUTLINE = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0))


def point(pixel, place):
    return PicturePoint(pixel=pixel, at_mm=place)


def mapped(matrix, pixel):
    x, y, w = np.array(matrix) @ np.array([*pixel, 1.0])
    return (x / w, y / w)


def test_two_points_fix_scale_turn_and_place():
    """A picture's y points down: the point below the first one lies lower on the part."""
    matrix = pixel_to_mm(Picture(file="a.png", points=(point((10, 60), (0, 0)), point((210, 60), (100, 0)))))
    assert mapped(matrix, (10, 60)) == pytest.approx((0, 0))
    assert mapped(matrix, (210, 60)) == pytest.approx((100, 0))
    assert mapped(matrix, (10, 40)) == pytest.approx((0, 10))  # derived: 20 px up at 2 px a mm


def test_two_points_of_a_picture_of_the_other_side():
    matrix = pixel_to_mm(Picture(file="a.png", mirrored=True, points=(point((210, 60), (0, 0)), point((10, 60), (100, 0)))))
    assert mapped(matrix, (210, 60)) == pytest.approx((0, 0))
    assert mapped(matrix, (10, 60)) == pytest.approx((100, 0))
    assert mapped(matrix, (210, 40)) == pytest.approx((0, 10))  # up stays up when left and right change


@pytest.mark.parametrize("points", [
    (), (point((0, 0), (0, 0)),), (point((5, 5), (0, 0)), point((5, 5), (9, 0))),
    (point((0, 0), (0, 0)), point((1, 0), (1, 0)), point((2, 0), (2, 0))),
    tuple(point((n, 0), (n, 0)) for n in range(4)),
])
def test_points_that_do_not_fix_it(points):
    assert pixel_to_mm(Picture(file="a.png", points=points)) is None


def test_an_oblique_picture_is_rectified(tmp_path):
    """A dot drawn at a known place of an oblique view comes out at its own millimetres."""
    corners_px = ((60.0, 340.0), (560.0, 300.0), (500.0, 80.0), (110.0, 60.0))
    picture = Picture(file="oblique.png", points=tuple(map(point, corners_px, OUTLINE)))
    part = Part(name="deck", outline_mm=OUTLINE, picture=picture)
    to_px = np.linalg.inv(np.array(pixel_to_mm(picture)))
    place = (70.0, 20.0)
    x, y = mapped(to_px, place)
    image = Image.new("RGB", (640, 400), "white")
    ImageDraw.Draw(image).ellipse((x - 6, y - 6, x + 6, y + 6), fill="black")
    (tmp_path / "pictures").mkdir()
    image.save(tmp_path / "pictures" / "oblique.png")

    laid = laid_picture(tmp_path, part)
    left, _, right, top = laid.box_mm
    assert laid.box_mm == shown_box(part) == (-12.0, -12.0, 112.0, 62.0)
    grey = np.asarray(Image.open(io.BytesIO(laid.jpeg)).convert("L"), dtype=float)
    rows, columns = np.nonzero(grey < 100)
    mm = grey.shape[1] / (right - left)
    assert columns.mean() / mm + left == pytest.approx(place[0], abs=0.4)
    assert top - rows.mean() / mm == pytest.approx(place[1], abs=0.4)


def test_a_part_without_a_picture(tmp_path):
    assert laid_picture(tmp_path, Part(name="deck", outline_mm=OUTLINE)) is None
