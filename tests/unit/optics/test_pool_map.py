"""Floodlights together: each beam, tilted and near, their sum, what lies between."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.pool import pool_lx, tilted_pool_lx
from rushlight.optics.pool_map import Beam, beam_lx, dip_between, even_apart_mm, even_height_mm, pools_lx


def _down(x: float, height: float = 40.0, order: float = 1.0) -> Beam:
    return Beam(peak_cd=1.0, order=order, foot_mm=(x, 0.0), height_mm=height, aim_mm=(x, 0.0))


def test_a_beam_aimed_anywhere_is_the_tilted_pool_turned() -> None:
    # derived: a turn of the ground about the foot changes nothing
    turn, reach = math.radians(137.0), 40.0 * math.tan(math.radians(35.0))
    beam = Beam(2.0, 4.8, (10.0, -5.0), 40.0, (10.0 + reach * math.cos(turn), -5.0 + reach * math.sin(turn)))
    u, v = np.meshgrid(np.linspace(-60, 90, 16), np.linspace(-50, 50, 11))
    x, y = 10.0 + u * math.cos(turn) - v * math.sin(turn), -5.0 + u * math.sin(turn) + v * math.cos(turn)
    expected = tilted_pool_lx(2.0, 4.8, height_mm=40.0, tilt_deg=35.0, x_mm=u, y_mm=v)
    assert beam_lx(beam, x, y) == pytest.approx(expected, rel=1e-12)


def test_pools_add_up_and_a_shadow_takes_its_own_lamp_alone() -> None:
    x, y = np.array([0.0, 30.0, 60.0]), np.zeros(3)
    both = pools_lx((_down(0.0), _down(60.0)), x, y, reached=[[1, 1, 0], [1, 1, 1]])
    alone = pool_lx(1.0, 1.0, height_mm=40.0, radius_mm=x)  # derived: the single lamp's closed form
    assert both.sum(axis=0) == pytest.approx([alone[0] + alone[2], 2 * alone[1], alone[0]])


def test_mirrored_lamps_give_mirrored_light() -> None:
    beams = (Beam(1.0, 3.0, (5.0, 2.0), 30.0, (25.0, 9.0)), Beam(2.0, 1.0, (-9.0, 4.0), 20.0, (0.0, 0.0)))
    other = tuple(Beam(b.peak_cd, b.order, (-b.foot_mm[0], b.foot_mm[1]), b.height_mm, (-b.aim_mm[0], b.aim_mm[1]))
                  for b in beams)
    x, y = np.meshgrid(np.linspace(-50, 50, 21), np.linspace(-40, 40, 17))
    assert pools_lx(other, -x, y).sum(axis=0) == pytest.approx(pools_lx(beams, x, y).sum(axis=0), rel=1e-12)


@pytest.mark.parametrize(("size", "tilt"), [(0.0, 0.0), (3.0, 30.0), (15.0, 0.0)])
def test_flux_is_never_gained(size: float, tilt: float) -> None:
    # derived: I0 = 1 cd, m = 1 sends pi lumen; the ground catches all but what passes over its edge
    beam = Beam(1.0, 1.0, (0.0, 0.0), 20.0, (20.0 * math.tan(math.radians(tilt)), 0.0), size)
    side = np.linspace(-1500, 1500, 601)
    x, y = np.meshgrid(side, side)
    caught = float(beam_lx(beam, x, y).sum()) * (side[1] - side[0]) ** 2 * 1e-6
    assert 0.9 * math.pi * (1 + math.cos(math.radians(tilt))) / 2 < caught < math.pi * 1.001


def test_between_two_pools() -> None:
    first, second = _down(0.0), _down(100.0)
    dip = dip_between(first, second)
    u = (100.0 / 40.0) ** 2  # derived: closed form of two Lambertian lamps, k = 2
    assert dip.share == pytest.approx(2 * (1 + u / 4) ** -2 / (1 + (1 + u) ** -2), rel=1e-9)
    assert dip.along == pytest.approx(0.5)
    near = even_apart_mm(first, second, share=0.5)
    assert near < 100.0
    assert dip_between(first, _down(near)).share == pytest.approx(0.5, abs=1e-4)
    high = even_height_mm(first, second, share=0.5)
    assert dip_between(_down(0.0, high), _down(100.0, high)).share == pytest.approx(0.5, abs=1e-3)
    assert high / 100.0 == pytest.approx(40.0 / near, rel=1e-3)  # derived: only the ratio of the two counts
    assert even_apart_mm(first, _down(10.0), share=0.5) == pytest.approx(10.0)


@pytest.mark.parametrize("wrong", [
    lambda: beam_lx(_down(0.0, 0.0), 0.0, 0.0),
    lambda: beam_lx(Beam(1, 1, (0, 0), 5, (0, 0), -1), 0.0, 0.0),
    lambda: even_apart_mm(_down(0), _down(9), share=1.0),
    lambda: even_height_mm(_down(0), _down(9), share=0.0),
])
def test_out_of_range(wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        wrong()
