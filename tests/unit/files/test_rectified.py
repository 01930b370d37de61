"""A picture laid on its part's millimetres."""

import io

import numpy as np
import pytest
from PIL import Image, ImageDraw

from rushlight.files.rectified import laid_picture, pixel_to_mm, shown_box
from rushlight.model.plan_part import Part, Picture, PicturePoint

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


@pytest.mark.parametrize("turned", [0.0, 90.0, -30.0])
def test_a_turned_picture_lies_turned(tmp_path, turned):
    """The plan's turn does what it says: round the part's zero, anticlockwise, after the points laid it."""
    image = Image.new("RGB", (400, 400), "white")
    ImageDraw.Draw(image).ellipse((294, 194, 306, 206), fill="black")  # 50 mm to the right of the zero
    (tmp_path / "pictures").mkdir()
    image.save(tmp_path / "pictures" / "a.png")
    picture = Picture(file="a.png", turned_deg=turned, points=(point((200, 200), (0, 0)), point((300, 200), (50, 0))))
    outline = ((-90.0, -90.0), (90.0, -90.0), (90.0, 90.0), (-90.0, 90.0))
    laid = laid_picture(tmp_path, Part(name="p", outline_mm=outline, picture=picture))
    left, _, right, top = laid.box_mm
    grey = np.asarray(Image.open(io.BytesIO(laid.jpeg)).convert("L"), dtype=float)
    rows, columns = np.nonzero(grey < 90)
    mm = grey.shape[1] / (right - left)
    found = ((columns.mean() + 0.5) / mm + left, top - (rows.mean() + 0.5) / mm)
    there = complex(50.25, -0.25) * np.exp(1j * np.radians(turned))  # Pillow fills the last pixel of an ellipse's box too
    assert found == pytest.approx((there.real, there.imag), abs=0.12)


def test_beyond_the_horizon_there_is_paper(tmp_path):
    """A grazing view: what would lie behind the camera is not drawn a second time, upside down."""
    from pinhole import Pinhole
    from rushlight.files.rectified import PAPER_RGB

    camera = Pinhole(400, 400, 400, height_mm=100, foot_mm=(0, -60), tilt_deg=60)
    places = [(-20.0, 0.0), (20.0, 0.0), (40.0, 120.0), (-40.0, 120.0)]
    (tmp_path / "pictures").mkdir()
    Image.new("RGB", (400, 400), "red").save(tmp_path / "pictures" / "a.png")
    picture = Picture(file="a.png", points=tuple(map(point, camera.seen(places), places)))
    outline = ((-200.0, -400.0), (200.0, -400.0), (200.0, 200.0), (-200.0, 200.0))
    laid = laid_picture(tmp_path, Part(name="p", outline_mm=outline, picture=picture))
    shown = Image.open(io.BytesIO(laid.jpeg))
    left, _, _, top = laid.box_mm
    mm = shown.width / (laid.box_mm[2] - left)
    assert shown.getpixel((round(-left * mm), round((top - 50) * mm)))[1] < 60  # red where it was seen
    behind = shown.getpixel((round(-left * mm), round((top + 350) * mm)))
    assert behind == pytest.approx(PAPER_RGB, abs=4)


def test_a_picture_is_laid_once_until_its_file_or_its_points_change(tmp_path, monkeypatch):
    from rushlight.files import rectified

    (tmp_path / "pictures").mkdir()
    Image.new("RGB", (100, 60), "white").save(tmp_path / "pictures" / "a.png")
    picture = Picture(file="a.png", points=(point((0, 60), (0, 0)), point((100, 60), (100, 0))))
    part = Part(name="deck", outline_mm=OUTLINE, picture=picture)
    opened = []
    real = rectified.open_picture
    monkeypatch.setattr(rectified, "open_picture", lambda *args: opened.append(1) or real(*args))
    first = laid_picture(tmp_path, part)
    assert laid_picture(tmp_path, part) is first and len(opened) == 1
    Image.new("RGB", (100, 60), "black").save(tmp_path / "pictures" / "a.png")
    assert laid_picture(tmp_path, part).jpeg != first.jpeg and len(opened) == 2
    moved = Part(name="deck", outline_mm=OUTLINE, picture=Picture(file="a.png", points=picture.points, turned_deg=10))
    assert laid_picture(tmp_path, moved) is not first and len(opened) == 3


def test_laid_pictures_do_not_fill_the_memory(tmp_path, monkeypatch):
    from rushlight.files import rectified

    monkeypatch.setattr(rectified, "HELD_BYTES", 3000)
    held = rectified._Held()
    for number in range(10):
        held.keep(number, rectified.LaidPicture(b"0" * 1000, (0, 0, 1, 1)))
    assert [number for number in range(10) if held.get(number)] == [7, 8, 9]
