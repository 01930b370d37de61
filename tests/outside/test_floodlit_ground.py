"""Floodlights on the ground, by ways that do not know the map.

Published closed forms: the solid angle of a rectangle (point lamp of even intensity); J. H. Lambert, Photometria (1760),
as E. M. Sparrow, J. Heat Transfer 85 (1963) 81, states it: a polygon seen from a Lambertian element is half the sum of
each edge's angle times the cosine between its plane and the element's normal; J. R. Howell, Catalog of Radiation Heat
Transfer Configuration Factors, B-13: a disc over an element that lies aside (formulas from memory).
SciPy's adaptive double integral puts the map beside them. Monte Carlo: rays drawn from the beam, counted on the ground,
within four standard errors.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import dblquad

from rushlight.geometry.shadow import inside, shadow_on_ground
from rushlight.optics.pool_map import Beam, beam_lx, pools_lx

RAYS = 400_000
RECTANGLES = [(-30.0, 50.0, -20.0, 20.0), (10.0, 70.0, -35.0, 5.0), (-80.0, -5.0, 12.0, 60.0)]
TILTS = [0.0, 25.0, 60.0]


def _beam(order: float, tilt_deg: float, height: float = 40.0) -> Beam:
    reach = height * math.tan(math.radians(tilt_deg))
    return Beam(peak_cd=2.0, order=order, foot_mm=(3.0, -4.0), height_mm=height,
                aim_mm=(3.0 + 0.8 * reach, -4.0 + 0.6 * reach))


def _on_rectangle_lm(beam: Beam, box: tuple[float, float, float, float]) -> float:
    """The map's own light on a rectangle, by SciPy."""
    left, right, low, high = box
    total, _ = dblquad(lambda y, x: float(beam_lx(beam, x, y)), left, right, low, high, epsrel=1e-7)
    return total * 1e-6


@pytest.mark.parametrize("box", RECTANGLES)
def test_even_intensity_is_the_solid_angle(box: tuple[float, float, float, float]) -> None:
    beam = _beam(0.0, 0.0)

    def corner(x: float, y: float) -> float:
        h = beam.height_mm
        return math.atan2(x * y, h * math.sqrt(x * x + y * y + h * h))

    left, right, low, high = (side - beam.foot_mm[k // 2] for k, side in enumerate(box))
    solid_sr = corner(right, high) - corner(left, high) - corner(right, low) + corner(left, low)
    assert _on_rectangle_lm(beam, box) == pytest.approx(2.0 * solid_sr, rel=1e-6)  # source: solid angle of a rectangle


@pytest.mark.parametrize("tilt_deg", TILTS[:2])
@pytest.mark.parametrize("box", [RECTANGLES[0], (10.0, 70.0, -10.0, 25.0)])
def test_tilted_lambertian_lamp_by_lamberts_polygon(tilt_deg: float, box: tuple[float, float, float, float]) -> None:
    beam = _beam(1.0, tilt_deg)
    left, right, low, high = box
    lamp = np.array([*beam.foot_mm, beam.height_mm])
    rays = np.array([(left, low, 0.0), (right, low, 0.0), (right, high, 0.0), (left, high, 0.0)]) - lamp
    rays /= np.linalg.norm(rays, axis=1)[:, None]
    axis = np.array([*beam.aim_mm, 0.0]) - lamp
    axis /= np.linalg.norm(axis)
    assert np.all(rays @ axis > 0.0), "the polygon lies before the lamp"
    total = 0.0
    for a, b in zip(rays, np.roll(rays, -1, axis=0), strict=True):
        edge = np.cross(a, b)
        total += math.acos(float(a @ b)) * float(edge @ axis) / float(np.linalg.norm(edge))
    assert _on_rectangle_lm(beam, box) == pytest.approx(2.0 * abs(total) / 2.0, rel=1e-6)  # source: Lambert 1760


@pytest.mark.parametrize(("height", "aside"), [(6.0, 0.0), (6.0, 7.0), (10.0, 4.0), (15.0, 20.0)])
def test_a_near_face_by_the_disc_over_an_element(height: float, aside: float) -> None:
    radius, peak = 5.0, 2.0
    h, r = height / aside if aside else math.inf, radius / aside if aside else math.inf
    factor = radius**2 / (height**2 + radius**2)
    if aside:
        z = 1.0 + h * h + r * r
        factor = 0.5 * (1.0 - (1.0 + h * h - r * r) / math.sqrt(z * z - 4.0 * r * r))  # source: Howell B-13
    exitance = math.pi * peak / (math.pi * (radius / 1000.0) ** 2)
    face = Beam(peak, 1.0, (0.0, 0.0), height, (0.0, 0.0), 2.0 * radius)
    assert float(beam_lx(face, aside, 0.0)) == pytest.approx(exitance * factor, rel=0.015)  # 61 facets


def _rays(beam: Beam, seed: int) -> np.ndarray:
    """Places where rays of the beam meet the ground; those that go up are lost (nan)."""
    rng = np.random.default_rng(seed)
    cosine, turn = rng.random(RAYS) ** (1.0 / (beam.order + 1.0)), rng.random(RAYS) * 2.0 * math.pi
    lamp = np.array([*beam.foot_mm, beam.height_mm])
    axis = np.array([*beam.aim_mm, 0.0]) - lamp
    axis /= np.linalg.norm(axis)
    aside = np.cross(axis, (0.0, 1.0, 0.0))
    aside /= np.linalg.norm(aside)
    across, sine = np.cross(axis, aside), np.sqrt(1.0 - cosine**2)
    way = (cosine[:, None] * axis + (sine * np.cos(turn))[:, None] * aside + (sine * np.sin(turn))[:, None] * across)
    down = np.where(way[:, 2] < -1e-9, -way[:, 2], np.nan)
    return lamp[:2] + way[:, :2] * (beam.height_mm / down)[:, None]


def _agrees(hits: int, beam: Beam, expected_lm: float) -> None:
    whole_lm = beam.peak_cd * 2.0 * math.pi / (beam.order + 1.0)
    share = expected_lm / whole_lm
    assert abs(hits / RAYS - share) < 4.0 * math.sqrt(share * (1.0 - share) / RAYS)


@pytest.mark.parametrize("box", RECTANGLES)
@pytest.mark.parametrize("tilt_deg", TILTS)
@pytest.mark.parametrize("order", [1.0, 9.9])
def test_rays_counted_on_the_ground(order: float, tilt_deg: float, box: tuple[float, float, float, float]) -> None:
    beam = _beam(order, tilt_deg)
    left, right, low, high = box
    x, y = _rays(beam, 7).T
    hits = int(np.sum((x > left) & (x < right) & (y > low) & (y < high)))
    _agrees(hits, beam, _on_rectangle_lm(beam, box))


def test_two_lamps_and_a_wall_by_rays_that_meet_it() -> None:
    """A wall 20 mm high between two lamps: rays that cross it below its top are taken out, one lamp after the other."""
    wall, tall = ((22.0, -15.0), (25.0, -15.0), (25.0, 15.0), (22.0, 15.0)), 20.0
    beams = (_beam(1.0, 25.0), Beam(1.0, 4.8, (70.0, 10.0), 55.0, (40.0, 0.0)))
    box = (-40.0, 21.0, -40.0, 40.0)
    step = 0.5
    x, y = np.meshgrid(np.arange(box[0], box[1], step) + step / 2, np.arange(box[2], box[3], step) + step / 2)
    reached = [1.0 - inside(shadow_on_ground(wall, tall_mm=tall, foot_mm=b.foot_mm, lamp_mm=b.height_mm), x, y)
               for b in beams]
    lit = pools_lx(beams, x, y, reached=reached).sum(axis=(1, 2)) * step**2 * 1e-6
    for seed, (beam, expected) in enumerate(zip(beams, lit, strict=True)):
        ground = _rays(beam, seed)
        within = (ground[:, 0] > box[0]) & (ground[:, 0] < box[1]) & (ground[:, 1] > box[2]) & (ground[:, 1] < box[3])
        ground = ground[within]
        up = np.linspace(0.0, tall / beam.height_mm, 100)[:, None, None]
        path = ground + up * (np.asarray(beam.foot_mm) - ground)
        met = ((path[..., 0] > 22.0) & (path[..., 0] < 25.0) & (np.abs(path[..., 1]) < 15.0)).any(axis=0)
        _agrees(int(np.sum(~met)), beam, float(expected))


@pytest.mark.parametrize("tilt_deg", [0.0, 25.0, 55.0])
def test_a_fibres_cone_by_rays_of_its_own_flux(tilt_deg: float) -> None:
    """1 lm in an even cone of NA 0.5: its light is where its rays land, none of it more often than once."""
    generator, edge = np.random.default_rng(5), math.asin(0.5)
    beam = Beam(1.0 / (math.pi * 0.25), 1.0, (0.0, 0.0), 40.0, (40.0 * math.tan(math.radians(tilt_deg)), 0.0),
                edge_deg=math.degrees(edge))
    sine = np.sqrt(generator.random(RAYS)) * math.sin(edge)
    turn = generator.random(RAYS) * 2.0 * math.pi
    tilt, w = math.radians(tilt_deg), np.sqrt(1.0 - sine * sine)
    u, y = sine * np.cos(turn), sine * np.sin(turn)
    x, down = u * math.cos(tilt) + w * math.sin(tilt), w * math.cos(tilt) - u * math.sin(tilt)
    on_x, on_y = 40.0 * x / down, 40.0 * y / down
    step = 1.0
    grid_x, grid_y = np.meshgrid(np.arange(-59.5, 500.0, step), np.arange(-149.5, 150.0, step))
    lm = beam_lx(beam, grid_x, grid_y) * step * step * 1e-6
    for left, right in ((-60.0, 20.0), (20.0, 60.0), (60.0, 400.0)):
        share = float(np.mean((on_x >= left) & (on_x < right) & (np.abs(on_y) < 150.0)))
        mine = float(lm[(grid_x > left) & (grid_x < right)].sum())
        assert mine == pytest.approx(share, abs=4.0 * math.sqrt(max(share * (1.0 - share), 1e-6) / RAYS) + 0.004)
    assert float(lm.sum()) <= 1.004  # derived: flux is never gained; the grid cuts the cone's edge
