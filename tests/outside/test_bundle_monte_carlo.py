"""Ray casting by a second, simple method: random rays of a lamp counted into fibres.

No publication: an independent computation. Rays leave a point (or a Lambertian disc), meet the bundle's face,
and count where they hit a core within the acceptance angle. The tolerance is four standard errors.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.coupling import patch_fraction, point_fraction

RAYS = 400_000


def _directions(order: float, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    cosine = rng.random(RAYS) ** (1.0 / (order + 1.0))
    return cosine, rng.random(RAYS) * 2.0 * math.pi


def _agrees(hits: int, expected: float) -> None:
    error = math.sqrt(max(expected * (1.0 - expected), 1e-9) / RAYS)
    assert abs(hits / RAYS - expected) < 4.0 * error


@pytest.mark.parametrize(("order", "gap_mm", "core_mm", "offset_mm", "na"), [
    (20.0, 5.0, 0.486, 0.0, 0.5),
    (20.0, 5.0, 0.486, 1.0, 0.5),
    (4.8, 2.0, 0.98, 0.9, 0.5),
    (1.0, 1.0, 0.735, 0.6, 0.5),
    (1.0, 3.0, 0.98, 2.0, 0.5),
])
def test_point_lamp_into_one_fibre(order: float, gap_mm: float, core_mm: float, offset_mm: float, na: float) -> None:
    cosine, turn = _directions(order, np.random.default_rng(11))
    radius = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    apart = np.hypot(radius * np.cos(turn) - offset_mm, radius * np.sin(turn))
    hits = int(np.sum((apart <= core_mm / 2) & (np.sqrt(1.0 - cosine**2) <= na)))
    _agrees(hits, point_fraction(order, gap_mm=gap_mm, core_radius_mm=core_mm / 2, offset_mm=offset_mm, na=na))


@pytest.mark.parametrize(("patch_mm", "gap_mm", "core_mm", "offset_mm", "na"), [
    (2.2, 0.5, 0.486, 0.0, 0.5),
    (2.2, 1.5, 0.98, 1.0, 0.5),
    (0.6, 0.3, 0.98, 0.2, 0.5),
    (2.2, 0.0, 0.98, 0.9, 0.58),
    (1.0, 4.0, 0.735, 1.5, 0.5),
])
def test_flat_patch_into_one_fibre(patch_mm: float, gap_mm: float, core_mm: float, offset_mm: float, na: float) -> None:
    rng = np.random.default_rng(12)
    cosine, turn = _directions(1.0, rng)
    start = 0.5 * patch_mm * np.sqrt(rng.random(RAYS))
    where = rng.random(RAYS) * 2.0 * math.pi
    step = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    x = start * np.cos(where) + step * np.cos(turn) - offset_mm
    y = start * np.sin(where) + step * np.sin(turn)
    hits = int(np.sum((np.hypot(x, y) <= core_mm / 2) & (np.sqrt(1.0 - cosine**2) <= na)))
    expected = patch_fraction(patch_radius_mm=patch_mm / 2, gap_mm=gap_mm, core_radius_mm=core_mm / 2,
                              offset_mm=offset_mm, na=na)
    _agrees(hits, expected)
