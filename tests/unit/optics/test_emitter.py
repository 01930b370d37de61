"""The cos^m lamp: flux and candela, light on planes, a warm junction."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics import emitter
from rushlight.tables import rows

ORDERS = [0.0, 0.5, 1.0, 4.8, 20.0, 280.0]


@pytest.mark.parametrize("order", ORDERS)
def test_flux_is_the_integral_of_the_intensity(order: float) -> None:
    cosine, weights = np.polynomial.legendre.leggauss(400)
    cosine, weights = 0.5 * (cosine + 1.0), 0.5 * weights
    whole = 2.0 * math.pi * float(weights @ emitter.intensity_cd(3.0, order, cosine=cosine))
    assert emitter.flux_lm(3.0, order) == pytest.approx(whole, rel=1e-6)  # derived: quadrature over the half space
    assert emitter.peak_cd(emitter.flux_lm(3.0, order), order) == pytest.approx(3.0)


@pytest.mark.parametrize("row", rows("led_cosm_table"), ids=lambda row: row["half_angle_deg"])
def test_table_of_half_angles(row: dict[str, str]) -> None:
    order = emitter.pattern_order(float(row["half_angle_deg"]))
    assert order == pytest.approx(float(row["m"]), rel=1e-4)
    assert emitter.flux_lm(1.0, order) == pytest.approx(float(row["lm_per_cd_cosm"]), rel=1e-4)


def test_flux_on_a_large_plane_is_the_lamps_flux() -> None:
    radius = np.linspace(0.0, 4000.0, 400_001)
    lit = emitter.illuminance_parallel_lx(2.0, 4.8, gap_mm=10.0, offset_mm=radius)
    caught = float(np.trapezoid(lit * 2.0 * math.pi * radius, radius)) / 1e6
    assert caught == pytest.approx(emitter.flux_lm(2.0, 4.8), rel=1e-3)


def test_general_law_equals_the_plane_law_and_turns_with_the_scene() -> None:
    points = np.array([[3.0, 4.0, 0.0], [0.0, 0.0, 0.0], [-7.0, 1.0, 0.0]])
    plane = emitter.illuminance_parallel_lx(1.5, 3.0, gap_mm=8.0, offset_mm=np.hypot(points[:, 0], points[:, 1]))
    lit = emitter.illuminance_lx(1.5, 3.0, lamp_mm=(0, 0, 8), axis=(0, 0, -2), points_mm=points, normals=(0, 0, 1))
    assert lit == pytest.approx(plane)
    turn = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    again = emitter.illuminance_lx(1.5, 3.0, lamp_mm=turn @ (0, 0, 8), axis=turn @ (0, 0, -1),
                                   points_mm=points @ turn.T, normals=turn @ (0, 0, 1))
    assert again == pytest.approx(plane)


def test_nothing_behind_the_lamp_or_behind_the_surface() -> None:
    behind = emitter.illuminance_lx(1.0, 1.0, lamp_mm=(0, 0, 5), axis=(0, 0, 1), points_mm=[(0, 0, 0)],
                                    normals=(0, 0, 1))
    back_side = emitter.illuminance_lx(1.0, 1.0, lamp_mm=(0, 0, 5), axis=(0, 0, -1), points_mm=[(0, 0, 0)],
                                       normals=(0, 0, -1))
    assert behind == pytest.approx([0.0])
    assert back_side == pytest.approx([0.0])


def test_patch_luminance_and_disc_agree() -> None:
    luminance = emitter.patch_luminance_cd_m2(2.0, math.pi * 4.0)
    far = emitter.disc_illuminance_lx(luminance, radius_mm=2.0, distance_mm=2000.0)
    assert far == pytest.approx(1e6 * emitter.peak_cd(2.0, 1.0) / 2000.0**2, rel=1e-5)  # derived: Lambertian point
    assert emitter.disc_illuminance_lx(luminance, radius_mm=2.0, distance_mm=0.0) == pytest.approx(math.pi * luminance)


@pytest.mark.parametrize("chemistry", ["white_blue_green", "red_amber"])
def test_a_warm_junction_dims_and_a_cold_one_brightens(chemistry: str) -> None:
    factors = [emitter.junction_factor(rise, chemistry) for rise in (-40.0, 0.0, 30.0, 80.0)]
    assert [factor.typical for factor in factors] == sorted((factor.typical for factor in factors), reverse=True)
    assert factors[1].low == factors[1].high == 1.0


def test_red_dims_faster_than_white() -> None:
    red, white = (emitter.junction_factor(40.0, one).typical for one in ("red_amber", "white_blue_green"))
    assert red < white
    assert red == pytest.approx(math.exp(-0.32))  # derived: 0.8 % per kelvin over 40 K


@pytest.mark.parametrize("call", [
    lambda: emitter.pattern_order(0.5), lambda: emitter.pattern_order(89.0), lambda: emitter.half_angle_deg(0.0),
    lambda: emitter.flux_lm(-1.0, 1.0), lambda: emitter.peak_cd(1.0, -0.1),
    lambda: emitter.illuminance_parallel_lx(1.0, 1.0, gap_mm=0.0, offset_mm=1.0),
    lambda: emitter.illuminance_lx(1.0, 1.0, lamp_mm=(0, 0, 0), axis=(0, 0, 0), points_mm=[(1, 0, 0)],
                                   normals=(0, 0, 1)),
    lambda: emitter.illuminance_lx(1.0, 1.0, lamp_mm=(0, 0, 0), axis=(0, 0, 1), points_mm=[(0, 0, 0)],
                                   normals=(0, 0, 1)),
    lambda: emitter.disc_illuminance_lx(1.0, radius_mm=0.0, distance_mm=0.0),
    lambda: emitter.patch_luminance_cd_m2(1.0, 0.0), lambda: emitter.junction_factor(500.0, "red_amber"),
    lambda: emitter.flux_lm(math.nan, 1.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


def test_unknown_chemistry_names_the_nearest() -> None:
    with pytest.raises(UnknownName, match="red_amber"):
        emitter.junction_factor(10.0, "red_ambr")
