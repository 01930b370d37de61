"""The cone that leaves a bent fibre, by a second, simple method: rays followed through a bent core by small steps and mirror
reflection.

An independent computation of the cone, which no publication was found to hold. Lengths are in core radii. A ray that meets
the wall more steeply than the aperture allows is lost. What the same rays lose is held against a published trace:
C. P. Achenbach, J. H. Cobb, Computational studies of light acceptance and propagation in straight and curved optical
fibres, J. Opt. A: Pure Appl. Opt. 5 (2003) 239, arXiv:physics/0209058 (abstract read): in plastic fibres (core 1.6,
cladding 1.49; these from memory) that trap what shines in them, a radius of bend over 65 core radii loses less than
10 %, in the first part of the bend, within about pi / 8.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.fibre import Launch, Tail, tail_flux
from rushlight.optics.fibre_cone import LEAST_SPREAD, axial_intensity_cd, bent_sine
from rushlight.optics.fibre_loss import Bend, Fibre, bend_loss_db
from rushlight.units import Range

RAYS, STEP = 2000, 0.08
N_CORE, NA = 1.492, 0.5
FIBRE = Fibre(outer_mm=0.5, core_mm=0.5, na=NA)
NEAR_AXIS = math.radians(6.0)


def _launched(ring_deg: tuple[float, float], rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Places and ways of rays that fill the core, launched evenly between two angles to the axis (in air)."""
    low, high = (math.sin(math.radians(angle)) ** 2 for angle in ring_deg)
    sine, turn = np.sqrt(rng.uniform(low, high, RAYS)) / N_CORE, 2 * math.pi * rng.random(RAYS)
    radius, where = np.sqrt(rng.random(RAYS)), 2 * math.pi * rng.random(RAYS)
    places = np.column_stack([radius * np.cos(where), radius * np.sin(where), np.zeros(RAYS)])
    return places, np.column_stack([sine * np.cos(turn), sine * np.sin(turn), np.sqrt(1 - sine**2)])


def _bent(
    at: np.ndarray, way: np.ndarray, bend_radius: float, turns_deg: tuple[float, ...], steepest: float = NA / N_CORE
) -> dict[float, np.ndarray]:
    """Sines in air, after each turn, of the rays that are kept: what a straight piece would let on unchanged."""
    kept, told, found = np.ones(len(at), bool), {turn: np.full(len(at), np.nan) for turn in turns_deg}, {}
    for _ in range(int(1.4 * bend_radius * math.radians(max(turns_deg)) / STEP)):
        at = at + STEP * way
        turned = np.arctan2(at[:, 2], at[:, 0] + bend_radius)
        outward = np.column_stack([np.cos(turned), np.zeros_like(turned), np.sin(turned)])
        aside = np.hypot(at[:, 0] + bend_radius, at[:, 2]) - bend_radius
        off = np.maximum(np.hypot(aside, at[:, 1]), 1e-12)
        normal = (aside[:, None] * outward + at[:, 1, None] * np.array([0.0, 1.0, 0.0])) / off[:, None]
        into = np.sum(way * normal, axis=1)
        hit = (off > 1.0) & (into > 0)
        kept &= ~(hit & (into > steepest))
        way = way - np.where(hit, 2 * into, 0.0)[:, None] * normal
        at = at - np.where(off > 1.0, off - 1.0, 0.0)[:, None] * normal
        tangent = np.column_stack([-outward[:, 2], np.zeros_like(turned), outward[:, 0]])
        sines = N_CORE * np.linalg.norm(np.cross(way, tangent), axis=1)
        for turn, seen in told.items():
            new = np.isnan(seen) & (turned >= math.radians(turn))
            seen[new] = np.where(kept[new], sines[new], 2.0)
    for turn, seen in told.items():
        found[turn] = seen[seen < 1.5]
    return found


def _on_axis(sines: np.ndarray) -> float:
    """Intensity near the axis for each lumen that leaves [cd]."""
    return float(np.mean(sines < math.sin(NEAR_AXIS))) / (2 * math.pi * (1 - math.cos(NEAR_AXIS)))


TURNS_DEG = (20.0, 40.0, 60.0, 80.0, 90.0, 100.0)


@pytest.mark.parametrize("over_width", [10.0, 20.0, 30.0])
@pytest.mark.parametrize("ring_deg", [(0.0, 6.0), (8.0, 14.0)], ids=["on the axis", "in a ring"])
def test_a_bend_widens_the_cone(over_width: float, ring_deg: tuple[float, float]) -> None:
    """What is told is the middle of what turns of many angles send ahead, and its range holds nearly each of them."""
    at, way = _launched(ring_deg, np.random.default_rng(15))
    traced = [_on_axis(sines) for sines in _bent(at, way, 2 * over_width, TURNS_DEG).values()]
    bend, edge = (Bend(over_width * FIBRE.outer_mm, 90.0),), math.sin(math.radians(ring_deg[1]))
    least, usual, most = (axial_intensity_cd(1.0, order=1.0, sine=sine) for sine in (
        NA, bent_sine(edge, FIBRE, bend), bent_sine(edge, FIBRE, bend, share=LEAST_SPREAD)))
    middle = math.exp(np.mean(np.log(traced)))
    assert usual / 1.5 < middle < 1.5 * usual
    assert sum(least < one < most for one in traced) >= len(traced) - 1


def test_a_ring_is_filled_by_a_bend() -> None:
    at, way = _launched((8.0, 14.0), np.random.default_rng(16))
    assert _on_axis(N_CORE * np.hypot(way[:, 0], way[:, 1])) == 0.0  # a straight fibre keeps the angle of each ray
    assert _on_axis(_bent(at, way, 40.0, (90.0,))[90.0]) > 1.5


def test_a_narrow_led_does_not_keep_its_dagger_past_the_turn_into_the_hole() -> None:
    """A clear LED of 15 degrees at 5 mm: launched within 6 degrees; a straight tail has five times as much ahead."""
    launch = Launch(Range.exactly(1.0), 80.0, 5.0, 0.5)
    straight, turned = (tail_flux(launch, FIBRE, Tail(Range.exactly(0.0), 100.0, bends=bends)) for bends in ((), (Bend(10.0, 90.0),)))
    at, way = _launched((0.0, 5.7), np.random.default_rng(17))
    traced = _on_axis(_bent(at, way, 40.0, (90.0,))[90.0])
    told = turned.axial_intensity_cd.typical / turned.flux_lm.typical
    assert traced / 1.7 < told < 1.7 * traced
    assert straight.axial_intensity_cd.typical > 5 * turned.axial_intensity_cd.typical


PLASTIC = (1.6, 1.49)
"""Indices of core and cladding of the published trace."""


def _trapped(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, float]:
    """Places and ways of rays that shine to all sides anywhere in a core, as far as they lie in its cone; skew rays
    beyond the cone are left out, which mirror steps of this size would lose in a straight core already."""
    steepest = math.sqrt(1 - (PLASTIC[1] / PLASTIC[0]) ** 2)
    ahead = rng.uniform(math.sqrt(1 - steepest**2), 1.0, RAYS)
    sine, turn = np.sqrt(1 - ahead**2), 2 * math.pi * rng.random(RAYS)
    radius, where = np.sqrt(rng.random(RAYS)), 2 * math.pi * rng.random(RAYS)
    at = np.column_stack([radius * np.cos(where), radius * np.sin(where), np.zeros(RAYS)])
    return at, np.column_stack([sine * np.cos(turn), sine * np.sin(turn), ahead]), steepest


def test_rays_lose_in_bends_what_a_published_trace_loses() -> None:
    at, way, steepest = _trapped(np.random.default_rng(17))
    lost = {radius: {turn: 1 - len(seen) / len(at) for turn, seen in
                     _bent(at, way, radius, (22.5, 90.0), steepest).items()} for radius in (20.0, 65.0)}
    assert 0.05 < lost[65.0][90.0] < 0.10 < lost[20.0][90.0]
    assert lost[65.0][22.5] > 0.6 * lost[65.0][90.0]


def test_the_law_loses_less_than_the_published_trace_allows_and_early() -> None:
    na = math.sqrt(PLASTIC[0] ** 2 - PLASTIC[1] ** 2)
    quarter, first = (bend_loss_db(65.0 / 2, na=na, launch_na=na, angle_deg=turn) for turn in (90.0, 22.5))
    assert 1 - 10 ** (-quarter.high / 10) < 0.10
    assert first.high == quarter.high, "what a bend sheds is gone within pi / 8, at the most"
    tight = bend_loss_db(10.0, na=na, launch_na=na)
    assert 1 - 10 ** (-tight.low / 10) > 0.10
