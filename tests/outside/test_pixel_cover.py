"""How much of each pixel a shape covers, beside the areas of cut polygons by GEOS (through shapely)."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from rushlight.optics.night import LitGround, grounds_laid

SIZE = 24


def covered(shape: tuple[tuple[float, float], ...]) -> np.ndarray:
    ground = LitGround((0.0, 0.0), (1.0, 1.0), np.ones((2, 2)), (1.0, 1.0, 1.0), shape)
    return grounds_laid((ground,), SIZE, SIZE)[0]


def cut(shape: shapely.Geometry) -> np.ndarray:
    boxes = [[shapely.box(x, y, x + 1, y + 1) for x in range(SIZE)] for y in range(SIZE)]
    return np.asarray(shapely.area(shapely.intersection(np.array(boxes), shape)))


def slit(width: float, turned_deg: float) -> shapely.Polygon:
    a = math.radians(turned_deg)
    line = shapely.LineString([(12 - 9 * math.cos(a), 12 - 9 * math.sin(a)), (12 + 9 * math.cos(a), 12 + 9 * math.sin(a))])
    return line.buffer(width / 2, cap_style="flat")


@pytest.mark.parametrize("turned_deg", [0.0, 3.0, 30.0, 45.0, 90.0, 177.0])
@pytest.mark.parametrize("width", [0.01, 0.2, 1.0, 3.7])
def test_a_slit_however_thin_covers_what_it_covers(width: float, turned_deg: float) -> None:
    shape = slit(width, turned_deg)
    assert covered(tuple(shape.exterior.coords)) == pytest.approx(cut(shape), abs=1e-9)


def test_a_ring_and_a_shape_over_the_edge() -> None:
    ring = shapely.Point(11.3, 9.8).buffer(6.02).difference(shapely.Point(11.3, 9.8).buffer(5.9))
    outer, inner = list(ring.exterior.coords), list(ring.interiors[0].coords)
    assert covered((*outer, *inner, outer[0])) == pytest.approx(cut(ring), abs=1e-9)
    beyond = shapely.Polygon([(-5.0, 3.3), (40.0, -7.0), (17.2, 30.0)])
    assert covered(tuple(beyond.exterior.coords)) == pytest.approx(cut(beyond), abs=1e-9)
