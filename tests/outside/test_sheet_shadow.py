"""Shadows of slanted sheets with holes, and of folded walls, by brute force: rays through triangles (Moeller & Trumbore 1997,
J. Graphics Tools 2(1) 21), written here apart from the projection that the program uses."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely

from rushlight.geometry.folded import FoldLine, folded, moved_by, sheet_shadow, standing_frame
from rushlight.geometry.shadow import inside


def blocked(triangles: np.ndarray, lamp: np.ndarray, spots: np.ndarray) -> np.ndarray:
    """Whether the straight way from the lamp to each spot goes through any triangle (n, 3, 3)."""
    hit = np.zeros(len(spots), dtype=bool)
    for a, b, c in triangles:
        ray = spots - lamp
        p = np.cross(ray, c - a)
        det = p @ (b - a)
        ok = np.abs(det) > 1e-12
        inv = np.where(ok, 1.0 / np.where(ok, det, 1.0), 0.0)
        u = p @ (lamp - a) * inv
        q = np.cross(lamp - a, b - a)
        v = ray @ q * inv
        t = (q @ (c - a)) * inv
        hit |= ok & (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0) & (t < 1)
    return hit


def triangles_of(area, frame: np.ndarray) -> np.ndarray:
    """A flat area with holes cut into triangles, in space."""
    cut = list(shapely.get_parts(shapely.constrained_delaunay_triangles(area)))
    return np.array([moved_by(frame, np.asarray(piece.exterior.coords)[:3]) for piece in cut])


def agree(areas, frames, lamp, seed: int) -> None:
    rng = np.random.default_rng(seed)
    spots = np.column_stack([rng.uniform(-150, 150, (4000, 2)), np.zeros(4000)])
    shadow = shapely.union_all([sheet_shadow(area, frame, foot_mm=tuple(lamp[:2]), lamp_mm=lamp[2]) for area, frame in zip(areas, frames, strict=True)])
    mine = inside(shadow, spots[:, 0], spots[:, 1])
    theirs = blocked(np.concatenate([triangles_of(area, frame) for area, frame in zip(areas, frames, strict=True)]), lamp, spots)
    edge = shapely.distance(shapely.boundary(shadow) if not shadow.is_empty else shapely.Point(1e6, 0), shapely.points(spots[:, :2])) < 1e-6
    assert (mine == theirs)[~edge].all()


@pytest.mark.parametrize("seed", range(25))
def test_a_slanted_sheet_with_a_window(seed: int) -> None:
    rng = random.Random(seed)
    area = shapely.Polygon([(0, 0), (70, 0), (70, 30), (35, 55), (0, 30)], [[(20, 8), (40, 8), (40, 20), (20, 20)]])
    start, way = (rng.uniform(-60, 60), rng.uniform(-60, 60)), rng.uniform(0, math.tau)
    frame = standing_frame(((0, 0), (70, 0)), (start, (start[0] + 70 * math.cos(way), start[1] + 70 * math.sin(way))),
                           above_mm=rng.uniform(-10, 20), up_deg=rng.choice([0.0, 35.0, 90.0, 140.0]))
    agree([area], [frame], np.array([rng.uniform(-80, 80), rng.uniform(-80, 80), rng.uniform(10, 120)]), seed)


@pytest.mark.parametrize("seed", range(12))
def test_a_house_folded_from_its_net(seed: int) -> None:
    rng = random.Random(seed)
    net = [(0, 0), (120, 0), (120, 25), (30, 25), (30, 55), (0, 55)]
    folds = [FoldLine((30, 0), (30, 25), 90, False), FoldLine((60, 0), (60, 25), 90, False), FoldLine((90, 0), (90, 25), 90, False),
             FoldLine((0, 25), (30, 25), 90, False)]
    panels = folded(net, folds, base_at=(15, 0))
    assert len(panels) == 5
    stand = standing_frame(((0, 0), (30, 0)), ((-10, -15), (20, -15)))
    frames = [stand @ panel.frame for panel in panels]
    corners = np.concatenate([moved_by(frame, np.asarray(panel.area.exterior.coords)) for panel, frame in zip(panels, frames, strict=True)])
    assert corners.min(axis=0) == pytest.approx((-10, -15, 0), abs=0.02)  # derived: a box of 30 x 30 x 25 mm
    assert corners.max(axis=0) == pytest.approx((20, 15, 25), abs=0.02)
    lamp = np.array([rng.uniform(30, 90), rng.uniform(-90, 90), rng.uniform(10, 70)])
    agree([panel.area for panel in panels], frames, lamp, seed)
