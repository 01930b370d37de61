"""Light through slits and holes, beside direct integration by SciPy and beside rays cast by chance.

Sources: definition of luminance and of a matt surface; geometry of rays. Published factors: Howell, A Catalog of
Radiation Heat Transfer Configuration Factors, C-1 and C-41 (from memory; that is why both are integrated here).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from rushlight.optics.slit import hole_share, lip_share, slit_share


@pytest.mark.parametrize("depth", [0.1, 0.5, 1.0, 4.0, 24.0])
def test_a_black_slit_is_integrated(depth: float) -> None:
    """Rays in the plane across the slit: the clear part of its width from each angle, weighed by the cosine."""
    def clear(angle: float) -> float:
        return max(0.0, 1.0 - depth * math.tan(angle)) * math.cos(angle)

    share, _ = quad(clear, 0.0, math.atan(1.0 / depth))  # half of the angles; the cosine's whole integral is 2
    assert slit_share(depth) == pytest.approx(share, rel=1e-6)


def cast(depth: float, rho: float, rays: int = 200_000) -> float:
    """Share of rays that enter a slit of width 1 matt-wise and leave on its far side, flanks matt."""
    rng = np.random.default_rng(11)
    x, z, out = rng.random(rays), np.zeros(rays), 0
    sine = 2.0 * rng.random(rays) - 1.0  # in the plane across a long slit Lambert's law is even in the sine
    u, w = sine, np.sqrt(1.0 - sine**2)
    while len(x):
        to_flank = np.where(u > 0, (1.0 - x) / np.where(u == 0, 1e-12, u), -x / np.where(u == 0, 1e-12, u))
        at = z + to_flank * w
        out += int((at >= depth).sum())
        stays = (at > 0) & (at < depth) & (rng.random(len(x)) < rho)
        side = np.where(u > 0, 1.0, 0.0)[stays]
        x, z = side, at[stays]
        w = 2.0 * rng.random(len(x)) - 1.0
        u = np.sqrt(1.0 - w**2) * np.where(side > 0.5, -1.0, 1.0)
    return out / rays


@pytest.mark.parametrize(("depth", "rho"), [(1.0, 0.7), (4.0, 0.7), (4.0, 0.3), (24.0, 0.7), (24.0, 0.05), (10.0, 0.0)])
def test_a_slit_with_matt_flanks_is_cast(depth: float, rho: float) -> None:
    share = cast(depth, rho)
    noise = math.sqrt(share / 200_000)
    assert slit_share(depth, rho) == pytest.approx(share, abs=4 * noise + 0.01 * share)


@pytest.mark.parametrize("depth", [0.2, 1.0, 3.0])
def test_a_round_hole_is_integrated(depth: float) -> None:
    """From disc to disc: cos cos / (pi r^2) over both, the first disc by its radius."""
    def at_radius(r: float) -> float:
        def piece(turn: float, s: float) -> float:
            far2 = depth**2 + r * r + s * s - 2 * r * s * math.cos(turn)
            return depth**2 / (math.pi * far2**2) * s

        return dblquad(piece, 0.0, 0.5, 0.0, 2 * math.pi, epsrel=1e-6)[0]

    share = quad(lambda r: at_radius(r) * 2 * math.pi * r, 0.0, 0.5, epsrel=1e-5)[0] / (math.pi * 0.25)
    assert hole_share(depth) == pytest.approx(share, rel=1e-4)


def cast_lip(depth: float, lap: float, rho: float, rays: int = 2_000_000) -> float:
    """Rays out of the gap behind the wall, one bounce on the lip's face before the slit, and out by its flanks."""
    rng = np.random.default_rng(5)
    enter = slit_share(lap, rho)  # proved above
    y = rng.random(rays)  # they leave the gap, 1 wide, evenly and matt; the face lies along its lower side
    sine = 2.0 * rng.random(rays) - 1.0
    met = y / np.where(sine < 0, -sine, 1e-12) * np.sqrt(1.0 - sine**2)
    onto = float(((sine < 0) & (met < 1.0)).mean())
    return enter * onto * rho * slit_share(depth, rho)


@pytest.mark.parametrize(("depth", "lap", "rho"), [(24.0, 30.0, 0.7), (4.0, 10.0, 0.3)])
def test_a_lip_is_cast(depth: float, lap: float, rho: float) -> None:
    assert lip_share(depth, lap, rho) == pytest.approx(cast_lip(depth, lap, rho), rel=0.01)
