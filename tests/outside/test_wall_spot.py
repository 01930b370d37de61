"""The spot beside a source, beside rays cast by chance: distance law (CIE ILV 17-25-104), Lambert's cosine."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.spot import before_lx, beside_lx

RAYS = 4_000_000


def cast(off_mm: float, inner_mm: float, outer_mm: float, *, matt: bool) -> float:
    """Mean illuminance of a ring of the wall for 1 lm [lx], counted."""
    rng = np.random.default_rng(3)
    down = np.sqrt(rng.random(RAYS)) if matt else 2.0 * rng.random(RAYS) - 1.0  # cosine to the wall
    down = down[down > 1e-9]
    away = off_mm * np.sqrt(1.0 - down**2) / down
    met = int(((away >= inner_mm) & (away < outer_mm)).sum())
    return met / RAYS / (math.pi * (outer_mm**2 - inner_mm**2) * 1e-6)


@pytest.mark.parametrize("matt", [False, True])
@pytest.mark.parametrize(("inner", "outer"), [(0.0, 0.6), (2.9, 3.1), (8.8, 9.2)])
def test_rings_of_a_spot_are_cast(inner: float, outer: float, matt: bool) -> None:
    law = before_lx if matt else beside_lx
    radius = np.sqrt(np.linspace(inner**2, outer**2, 201))
    wanted = float(np.mean(law(1.0, off_mm=3.0, away_mm=radius)))
    assert cast(3.0, inner, outer, matt=matt) == pytest.approx(wanted, rel=0.02)


def test_all_of_the_light_that_meets_an_endless_wall() -> None:
    r = np.linspace(0.0, 3000.0, 2_000_001)
    for law, share in ((beside_lx, 0.5), (before_lx, 1.0)):  # a half of all sides; all of a face
        lm = float(np.trapezoid(law(1.0, off_mm=3.0, away_mm=r) * 2.0 * math.pi * r, r)) * 1e-6
        assert lm == pytest.approx(share, rel=2e-3)
