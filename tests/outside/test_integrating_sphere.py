"""Light thrown about in a closed hull, beside the integrating sphere of the handbooks and beside light followed by chance.

Law: sphere multiplier M = rho / (1 - rho (1 - f)), radiance L = Phi M / (pi A), Labsphere, A Guide to Integrating
Sphere Theory and Applications (after Taylor 1920 and Goebel 1967; formula from memory).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from designed import designed
from plans import board
from rushlight.optics.wall import cavity_lx


def sphere_cd_m2(flux_lm: float, area_m2: float, rho: float, open_share: float = 0.0) -> float:
    """The handbook's radiance of a sphere's wall."""
    return flux_lm / (math.pi * area_m2) * rho / (1.0 - rho * (1.0 - open_share))


@pytest.mark.parametrize("rho", [0.05, 0.5, 0.7, 0.95])
def test_the_wall_of_a_closed_hull_is_as_bright_as_a_sphere_of_its_area(rho: float) -> None:
    inside = cavity_lx(2.0, area_m2=0.02, reflectance=rho)
    assert rho * inside / math.pi == pytest.approx(sphere_cd_m2(2.0, 0.02, rho))


def met(rho: float, rays: int = 200_000) -> float:
    """Mean number of times that a ray meets the wall of a closed hull before it is lost."""
    rng, hits, alive = np.random.default_rng(7), 0, np.ones(rays, bool)
    while alive.any():
        hits += int(alive.sum())
        alive &= rng.random(rays) < rho
    return hits / rays


def test_rays_that_are_followed_by_chance_meet_the_wall_as_often() -> None:
    # derived: illuminance is flux over area times the number of meetings
    assert cavity_lx(1.0, area_m2=1.0, reflectance=0.7) == pytest.approx(met(0.7), rel=0.01)


BOX = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"
AREA_M2 = 2 * (0.2 * 0.1 + 0.1 * 0.04 + 0.2 * 0.04)


def test_a_lamp_that_shines_inward_is_the_lamp_of_a_sphere() -> None:
    lamp = ("{name: a, part: board, at_mm: [20, 60], colour: white, model_mm: 3, states: day, facing: inward, "
            "source: {kind: led}}")
    design = designed(board(lamp, more=BOX))
    (leak,), (light,) = design.light.leaks, design.light.lamps
    rho = design.drawer.wall("white styrene").reflectance.typical
    assert rho * leak.inside_lx.typical / math.pi == pytest.approx(
        sphere_cd_m2(light.flux_lm.typical, AREA_M2, rho), rel=1e-6
    )
