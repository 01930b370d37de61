"""Pools of light."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import pool
from rushlight.optics.emitter import flux_lm, pattern_order


@pytest.mark.parametrize(("half_deg", "half", "tenth"), [(60.0, 0.644, 1.47), (30.0, 0.440, 0.90), (15.0, 0.249, 0.47)])
def test_radii_of_usual_lamps(half_deg: float, half: float, tenth: float) -> None:
    order = pattern_order(half_deg)
    assert pool.pool_radius_mm(order, 1.0) == pytest.approx(half, abs=6e-4)  # derived: law solved for 1/2
    assert pool.pool_radius_mm(order, 1.0, share=0.1) == pytest.approx(tenth, abs=6e-3)  # derived: for 1/10


@pytest.mark.parametrize("order", [0.0, 1.0, 4.8, 30.0])
def test_radius_is_where_the_light_has_fallen(order: float) -> None:
    radius = pool.pool_radius_mm(order, 40.0)
    middle, edge = pool.pool_lx(1.0, order, height_mm=40.0, radius_mm=np.array([0.0, radius]))
    assert middle == pytest.approx(625.0)  # derived: 1 cd at 40 mm
    assert edge == pytest.approx(middle / 2.0)


@pytest.mark.parametrize("order", [1.0, 4.8, 30.0])
def test_flux_within_a_radius_is_the_integral_of_the_pool(order: float) -> None:
    radius = np.linspace(0.0, 55.0, 20001)
    lit = pool.pool_lx(2.0, order, height_mm=40.0, radius_mm=radius)
    caught = float(np.trapezoid(lit * 2.0 * math.pi * radius, radius)) / 1e6
    assert pool.flux_within(order, 40.0, radius_mm=55.0) == pytest.approx(caught / flux_lm(2.0, order), rel=1e-4)


def test_tilt_of_none_is_the_straight_pool_and_tilts_mirror() -> None:
    x, y = np.meshgrid(np.linspace(-50, 50, 11), np.linspace(-30, 30, 7))
    straight = pool.tilted_pool_lx(1.0, 4.8, height_mm=40.0, tilt_deg=0.0, x_mm=x, y_mm=y)
    assert straight == pytest.approx(pool.pool_lx(1.0, 4.8, height_mm=40.0, radius_mm=np.hypot(x, y)))
    right = pool.tilted_pool_lx(1.0, 4.8, height_mm=40.0, tilt_deg=35.0, x_mm=x, y_mm=y)
    left = pool.tilted_pool_lx(1.0, 4.8, height_mm=40.0, tilt_deg=-35.0, x_mm=-x, y_mm=y)
    assert right == pytest.approx(left)


def test_peak_of_a_tilted_pool_is_nearer_than_the_aim() -> None:
    x = np.linspace(0.0, 100.0, 1001)
    lit = pool.tilted_pool_lx(1.0, 20.0, height_mm=40.0, tilt_deg=45.0, x_mm=x, y_mm=0.0)
    assert 0.0 < float(x[int(np.argmax(lit))]) < 40.0
    assert pool.tilted_pool_lx(1.0, 20.0, height_mm=40.0, tilt_deg=90.0, x_mm=np.array([-5.0]), y_mm=0.0)[0] == 0.0


def test_cone_edge() -> None:
    assert pool.cone_edge_mm(40.0, 30.0) == pytest.approx(23.09, abs=0.01)  # derived: 40 tan 30


@pytest.mark.parametrize("call", [
    lambda: pool.pool_lx(1.0, 1.0, height_mm=0.0, radius_mm=1.0), lambda: pool.pool_radius_mm(1.0, 1.0, share=0.0),
    lambda: pool.flux_within(1.0, 1.0, radius_mm=-1.0), lambda: pool.cone_edge_mm(1.0, 90.0),
    lambda: pool.tilted_pool_lx(1.0, 1.0, height_mm=1.0, tilt_deg=200.0, x_mm=0.0, y_mm=0.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
