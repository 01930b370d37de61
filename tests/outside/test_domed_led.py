"""A chip under a clear dome, its rays traced one by one: how such an LED lights a fibre that touches it.

No publication: an independent computation. Snell's law and the Fresnel equations at a hemisphere of index 1.5 on a
cylinder of the same width, as 3 and 5 mm LEDs have; a Lambertian chip (or the mouth of a reflector cup) at a depth below
the tip. Far off the rays give the half angle and the axial intensity, as a data sheet states them; on the plane that
touches the dome they give what a fibre meets.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from designed import PACKAGED
from rushlight.optics.fibre import Tail, coupled_fraction, source_luminance_cd_m2, tail_flux
from rushlight.optics.fibre_loss import Fibre
from rushlight.stages.fibre_light import USUAL_JOINT, LedJoint, launch_into
from rushlight.units import Range

RAYS, INDEX, RADIUS_MM = 1_500_000, 1.5, 2.5
CORE_MM = 0.486
CHIPS = [(5.0, 0.5), (4.5, 0.5), (5.0, 1.0), (6.0, 1.0), (5.0, 0.15)]  # depth and radius [mm]


@dataclass(frozen=True)
class Dome:
    """Half angle [deg]; on the plane before it, over the axial intensity: lux by rings of 0.5 mm [lx/cd]."""

    half_deg: float
    lx_per_cd: tuple[float, ...]


@cache
def traced(depth_mm: float, chip_mm: float) -> Dome:
    rng = np.random.default_rng(3)
    r, turn = chip_mm * np.sqrt(rng.random(RAYS)), 2 * math.pi * rng.random(RAYS)
    start = np.stack([r * np.cos(turn), r * np.sin(turn), np.full(RAYS, RADIUS_MM - depth_mm)])  # from the dome's centre
    sine, around = np.sqrt(rng.random(RAYS) * 0.75), 2 * math.pi * rng.random(RAYS)
    way = np.stack([sine * np.cos(around), sine * np.sin(around), np.sqrt(1 - sine**2)])
    along = np.sum(start * way, axis=0)
    far = -along + np.sqrt(np.maximum(along**2 - np.sum(start**2, axis=0) + RADIUS_MM**2, 0.0))
    at = start + far * way
    normal = at / RADIUS_MM
    inside = np.sum(way * normal, axis=0)
    square = 1 - INDEX**2 * (1 - inside**2)
    leaves = (at[2] > 0) & (square > 0)
    at, normal, way, inside = at[:, leaves], normal[:, leaves], way[:, leaves], inside[leaves]
    out = np.sqrt(square[leaves])
    lost = (((INDEX * inside - out) / (INDEX * inside + out)) ** 2
            + ((INDEX * out - inside) / (INDEX * out + inside)) ** 2) / 2
    sent = INDEX * way + (out - INDEX * inside) * normal
    ahead = sent[2] > 0.05
    at, sent, passed = at[:, ahead], sent[:, ahead], (1 - lost)[ahead]
    angle = np.degrees(np.arccos(np.clip(sent[2], -1, 1)))
    edges = np.arange(0.0, 91.0)
    solid = 2 * math.pi * -np.diff(np.cos(np.radians(edges)))
    light = np.histogram(angle, edges, weights=passed)[0]
    peak = light[:3].sum() / solid[:3].sum()
    half = next(k + 0.5 for k in range(3, 90) if light[k] / solid[k] < peak / 2)
    meets = at[:2] + (RADIUS_MM - at[2]) / sent[2] * sent[:2]
    taken = np.hypot(*sent[:2]) <= 0.5
    rings = np.array([0.0, 0.25, 0.5, 1.0, 1.5, 2.0])
    on = np.histogram(np.hypot(*meets)[taken], rings, weights=passed[taken])[0]
    return Dome(half, tuple(1e6 * on / (math.pi * np.diff(rings**2)) / peak))


def clear_led(half_deg: float):
    led = next(row for row in PACKAGED.leds if row.name == "5 mm warm white, clear 20 deg")
    return replace(led, half_angle_deg=half_deg)


@pytest.mark.parametrize(("depth_mm", "chip_mm"), CHIPS)
def test_a_fibre_on_the_dome_takes_what_the_rays_bring(depth_mm: float, chip_mm: float) -> None:
    """Within what the LED's own build leaves open (1.6 times); a point one body behind the tip gave 2 to 9 times that."""
    dome = traced(depth_mm, chip_mm)
    led = clear_led(dome.half_deg)
    launch = launch_into(led, led.test_ma / 1000, USUAL_JOINT)
    core_mm2 = math.pi * CORE_MM**2 / 4
    lm = launch.flux_lm.typical * coupled_fraction(launch, Fibre(0.5, CORE_MM, 0.5), offset_mm=0.0)
    rays_lm = dome.lx_per_cd[0] * led.intensity_mcd.typical / 1000 * core_mm2 * 1e-6
    assert rays_lm / 1.6 < lm < rays_lm * 1.6
    point_lm = led.intensity_mcd.typical / 1000 / 5.0**2 * core_mm2
    assert point_lm > 1.9 * rays_lm


@pytest.mark.parametrize(("depth_mm", "chip_mm"), CHIPS)
def test_the_whole_dome_shines_evenly(depth_mm: float, chip_mm: float) -> None:
    """A bundle on it has no darker rim from its geometry: out to 1.5 mm of the 2.5 mm that the dome is wide."""
    rings = traced(depth_mm, chip_mm).lx_per_cd[:4]
    assert max(rings) < 1.3 * min(rings)
    launch = launch_into(clear_led(15.0), 0.02, USUAL_JOINT)
    middle, rim = (coupled_fraction(launch, Fibre(0.5, CORE_MM, 0.5), offset_mm=off) for off in (0.0, 1.5))
    assert rim == pytest.approx(middle, rel=0.05)


def test_no_tail_is_brighter_than_the_leds_own_face() -> None:
    """Luminance never grows: a data sheet's candela over the dome's face is the most that a fibre can show."""
    for led in (row for row in PACKAGED.leds if row.lens in ("clear", "diffused")):
        launch = launch_into(led, led.test_ma / 1000, USUAL_JOINT)
        face_m2 = math.pi * (0.9 * led.face_mm) ** 2 / 4 * 1e-6
        assert source_luminance_cd_m2(launch).typical <= led.intensity_mcd.typical / 1000 / face_m2 * (1 + 1e-9)


def test_a_dome_filed_flat_leaves_the_flux_and_takes_the_beam() -> None:
    led = clear_led(10.0)
    filed, whole = launch_into(led, 0.02, LedJoint(filed=True)), launch_into(led, 0.02, USUAL_JOINT)
    assert filed.order == 1.0 and whole.order > 40.0
    assert filed.flux_lm.typical == pytest.approx(2 * math.pi * led.intensity_mcd.typical / 1000 / (whole.order + 1))


@pytest.mark.parametrize("keeps", [1.0, 2.0])
def test_every_led_through_a_joint_that_keeps_all(keeps: float) -> None:
    """Whatever LED, fibre and joint: no tail shines brighter than the face that feeds it, and farther off never gains."""
    for led in PACKAGED.leds:
        for joint in (LedJoint(keeps=Range.exactly(keeps)), LedJoint(keeps=Range.exactly(keeps), filed=True)):
            launch, fibre = launch_into(led, 0.01, joint), Fibre(0.75, 0.735, 0.5)
            gaps = [replace(launch, gap_mm=launch.gap_mm + more) for more in (0.0, 0.5, 3.0)]
            tails = [tail_flux(one, fibre, Tail(Range.exactly(0.0), 100.0)) for one in (replace(launch, gap_mm=0.0), *gaps)]
            most = source_luminance_cd_m2(launch).high * (1 + 1e-9)
            assert all(tail.luminance_cd_m2.high <= most for tail in tails)
            lm = [tail.flux_lm.typical for tail in tails]
            assert all(far <= near * (1 + 1e-9) for near, far in pairwise(lm))
