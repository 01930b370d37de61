"""Shadows on the ground: closed forms, and straight rays one by one."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from rushlight.errors import OutOfRange
from rushlight.geometry.shadow import inside, level_lines, rings_within, shadow_on_ground

SQUARE = ((40.0, -5.0), (50.0, -5.0), (50.0, 5.0), (40.0, 5.0))
CORNERED = ((20.0, 0.0), (60.0, 0.0), (60.0, 10.0), (30.0, 10.0), (30.0, 40.0), (20.0, 40.0))


def test_a_shadows_reach() -> None:
    area = shadow_on_ground(SQUARE, tall_mm=20.0, foot_mm=(0.0, 0.0), lamp_mm=60.0)
    assert area.bounds == pytest.approx((40.0, -7.5, 75.0, 7.5))  # derived: 50 x 60 / 40, 5 x 60 / 40


@pytest.mark.parametrize("shape", [SQUARE, CORNERED])
@pytest.mark.parametrize(("foot", "lamp"), [((0.0, 0.0), 60.0), ((45.0, 3.0), 50.0), ((70.0, 20.0), 15.0)])
def test_beside_rays_one_by_one(shape: tuple[tuple[float, float], ...], foot: tuple[float, float], lamp: float) -> None:
    # second method: walk each ray in small steps and ask whether it is inside the thing
    tall, rng = 20.0, np.random.default_rng(3)
    spots = rng.uniform((-20, -30), (120, 60), (300, 2))
    area = shadow_on_ground(shape, tall_mm=tall, foot_mm=foot, lamp_mm=lamp)
    steps = np.linspace(0.0, 1.0, 2001)
    rays = spots[:, None, :] + steps[None, :, None] * (np.asarray(foot) - spots)[:, None, :]
    met = inside(shapely.Polygon(shape), rays[..., 0], rays[..., 1]) & (steps * lamp <= tall)
    clear = np.array([shapely.Point(p).distance(area.boundary) > 0.1 for p in spots])
    assert clear.sum() > 250
    assert (inside(area, spots[:, 0], spots[:, 1]) == met.any(axis=1))[clear].all()


@pytest.mark.parametrize("lamp", [60.0, 18.0, 9.0])
def test_what_hangs_beside_rays_one_by_one(lamp: float) -> None:
    # second method: as above, but the ray meets it only between its underside and its top
    tall, under, foot, rng = 20.0, 12.0, (10.0, 0.0), np.random.default_rng(4)
    spots = rng.uniform((-20, -30), (120, 60), (300, 2))
    area = shadow_on_ground(CORNERED, tall_mm=tall, foot_mm=foot, lamp_mm=lamp, above_mm=under)
    steps = np.linspace(0.0, 1.0, 2001)
    rays = spots[:, None, :] + steps[None, :, None] * (np.asarray(foot) - spots)[:, None, :]
    high = (steps * lamp <= tall) & (steps * lamp >= under)
    met = inside(shapely.Polygon(CORNERED), rays[..., 0], rays[..., 1]) & high
    clear = np.array([area.is_empty or shapely.Point(p).distance(area.boundary) > 0.15 for p in spots])
    assert clear.sum() > 240
    assert (inside(area, spots[:, 0], spots[:, 1]) == met.any(axis=1))[clear].all()
    assert area.is_empty == (lamp < under)


def test_a_lamp_that_sits_in_the_thing_is_not_shaded_by_it() -> None:
    assert shadow_on_ground(SQUARE, tall_mm=20.0, foot_mm=(45.0, 0.0), lamp_mm=18.0).is_empty


def test_level_lines_are_cut_to_the_outline() -> None:
    values = np.add.outer(np.zeros(11), np.arange(11.0))
    (level, lines), = level_lines(values, (5.5,), corner_mm=(100.0, 0.0), step_mm=2.0,
                                  within_mm=((0, 4), (200, 4), (200, 9), (0, 9)))
    assert level == 5.5
    assert np.array(sorted(lines[0])) == pytest.approx(np.array([(111.0, 4.0), (111.0, 9.0)]))


@pytest.mark.parametrize("heights", [(0.0, 5.0), (5.0, 0.0)])
def test_out_of_range(heights: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange):
        shadow_on_ground(SQUARE, tall_mm=heights[0], foot_mm=(0.0, 0.0), lamp_mm=heights[1])


def test_a_shadow_with_windows_is_parted_so_that_no_ring_covers_them() -> None:
    area = shapely.Polygon([(0, 0), (60, 0), (60, 20), (0, 20)], [[(10, 5), (20, 5), (20, 15), (10, 15)], [(35, 4), (50, 4), (50, 16), (35, 16)]])
    rings = rings_within(area, ((-10, -10), (90, -10), (90, 50), (-10, 50)))
    assert sum(shapely.Polygon(ring).area for ring in rings) == pytest.approx(area.area, abs=0.01)
    assert shapely.union_all([shapely.Polygon(ring) for ring in rings]).symmetric_difference(area).area == pytest.approx(0.0, abs=0.01)
