"""An outline offered from pictures that were made for it: known shapes, and pictures that offer none."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage
from shapely import Polygon

from rushlight.geometry.contour import NoOutline, OfferedOutline, offer_outline
from rushlight.geometry.threshold import best_split

BOX = (-20.0, -30.0, 140.0, 70.0)
PX = 5  # a millimetre
MAT, PLASTIC = (60, 110, 90), (205, 205, 200)


def picture(shape, holes=(), *, mat=MAT, part=PLASTIC, noise=4.0, slope=0.0, box=BOX):
    """A part on a mat, its edge softened as a lens does."""
    width, height = round((box[2] - box[0]) * PX), round((box[3] - box[1]) * PX)
    fine = 3
    y, x = np.mgrid[0:height * fine, 0:width * fine]
    points = np.column_stack([box[0] + (x.ravel() + 0.5) / (PX * fine), box[3] - (y.ravel() + 0.5) / (PX * fine)])
    import shapely

    inside = shapely.contains_xy(Polygon(shape, holes), points[:, 0], points[:, 1]).reshape(height, fine, width, fine).mean(axis=(1, 3))
    rng = np.random.default_rng(7)
    share = ndimage.gaussian_filter(inside, 0.8)[..., None]
    rgb = np.array(mat) * (1 - share) + np.array(part) * share
    light = 1 + slope * (np.arange(width) / width - 0.5)[None, :, None]
    return np.clip(rgb * light + rng.normal(0, noise, rgb.shape), 0, 255), np.ones((height, width), dtype=bool)


HULL = [(0, 0), (100, 0), (120, 25), (100, 40), (0, 40)]
WINDOW = [(20, 10), (40, 10), (40, 25), (20, 25)]


def test_a_hull_with_a_window_is_offered_within_its_pixels():
    found = offer_outline(*picture(HULL, [WINDOW]), BOX)
    assert isinstance(found, OfferedOutline)
    assert len(found.outline_mm) == 5
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.01 * Polygon(HULL).area
    assert len(found.openings_mm) == 1
    assert len(found.openings_mm[0]) == 4
    assert Polygon(found.openings_mm[0]).symmetric_difference(Polygon(WINDOW)).area < 0.06 * Polygon(WINDOW).area
    assert found.mean_residual_mm <= found.residual_mm <= found.tolerance_mm + found.pixel_mm
    assert found.pixel_mm == pytest.approx(0.2)


@pytest.mark.parametrize("more", [
    {"noise": 25.0}, {"slope": 0.5}, {"mat": (235, 235, 235), "part": (60, 60, 70)}, {"mat": (150, 60, 60), "part": (60, 110, 60), "noise": 8.0},
])
def test_noise_slanting_light_dark_parts_and_parts_of_another_colour_alone(more):
    found = offer_outline(*picture(HULL, **more), BOX)
    assert isinstance(found, OfferedOutline), found
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.02 * Polygon(HULL).area


def test_the_grid_of_a_mat_is_not_taken_for_the_part():
    rgb, known = picture(HULL)
    outside = rgb[..., 0] < 130
    lines = np.zeros(known.shape, dtype=bool)
    lines[:: 10 * PX, :] = lines[1 :: 10 * PX, :] = True
    lines[:, :: 10 * PX] = lines[:, 1 :: 10 * PX] = True
    rgb[lines & outside] = (190, 200, 190)
    found = offer_outline(rgb, known, BOX)
    assert isinstance(found, OfferedOutline), found
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.04 * Polygon(HULL).area


def test_of_two_parts_the_larger_is_offered():
    rgb, known = picture(HULL)
    other, _ = picture([(0, 50), (30, 50), (30, 65), (0, 65)])
    both = np.where((other[..., :1] > 130), other, rgb)
    found = offer_outline(both, known, BOX)
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.01 * Polygon(HULL).area


@pytest.mark.parametrize(("rgb", "why"), [
    (picture(HULL, part=MAT)[0], "no-contrast"),
    (picture(HULL, part=(66, 116, 96), noise=12.0)[0], "no-contrast"),
    (np.full((500, 800, 3), 128.0), "no-contrast"),
    (np.random.default_rng(1).uniform(0, 255, (500, 800, 3)), "no-contrast"),
    (picture([(0, 0), (160, 0), (160, 40), (0, 40)])[0], "touches-border"),
    (picture([(50, 10), (56, 10), (56, 16), (50, 16)])[0], "nothing"),
])
def test_pictures_that_offer_nothing_say_why(rgb, why):
    found = offer_outline(rgb, np.ones(rgb.shape[:2], dtype=bool), BOX)
    assert isinstance(found, NoOutline)
    assert (found.why, found.text[-1]) == (why, ".")


def test_the_side_at_which_it_runs_out_is_named():
    rgb, known = picture([(60, 0), (160, 0), (160, 40), (60, 40)])
    assert "right side" in offer_outline(rgb, known, BOX).text
    known[:, :200] = False
    assert offer_outline(rgb, np.zeros_like(known), BOX).why == "no-picture"


def test_where_the_picture_does_not_reach_nothing_is_seen():
    rgb, known = picture(HULL)
    known[:40] = False
    rgb[:40] = 255.0
    found = offer_outline(rgb, known, BOX)
    assert Polygon(found.outline_mm).symmetric_difference(Polygon(HULL)).area < 0.01 * Polygon(HULL).area


def test_a_coarser_tolerance_gives_fewer_corners():
    angles = np.linspace(0, 2 * np.pi, 200, endpoint=False)
    disc = np.column_stack([60 + 30 * np.cos(angles), 20 + 30 * np.sin(angles)])
    fine, coarse = (offer_outline(*picture(disc), BOX, tolerance_mm=tolerance) for tolerance in (0.3, 2.0))
    assert len(coarse.outline_mm) < len(fine.outline_mm)
    assert fine.residual_mm < 0.6 and coarse.residual_mm < 2.3


def test_one_value_has_no_split():
    assert best_split(np.ones(9)) is None
    assert best_split(np.array([])) is None
