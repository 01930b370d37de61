"""Shares of a lamp's light that fibres take in: limits, trends, second ways."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import coupling
from rushlight.optics.coupling import patch_fraction, point_fraction

HEX_19 = [(0.0, 1), (1.0, 6), (math.sqrt(3.0), 6), (2.0, 6)]
"""Rings of nineteen fibres: centre distance in diameters, count."""


@pytest.mark.parametrize("na", [0.1, 0.3, 0.5, 0.63, 1.0])
def test_lambertian_acceptance_is_na_squared(na: float) -> None:
    assert coupling.acceptance_fraction(na, 1.0) == pytest.approx(na * na)  # source: etendue of a cone


@pytest.mark.parametrize("order", [0.0, 1.0, 4.8, 20.0])
@pytest.mark.parametrize("gap", [0.5, 3.0, 20.0])
def test_central_fibre_is_the_closed_form(order: float, gap: float) -> None:
    angle = min(math.atan(0.25 / gap), math.asin(0.5))
    got = point_fraction(order, gap_mm=gap, core_radius_mm=0.25, offset_mm=0.0, na=0.5)
    assert got == pytest.approx(1.0 - math.cos(angle) ** (order + 1.0))  # derived: integral over the cone


@pytest.mark.parametrize("offset", [0.6, 1.0, 2.0])
def test_thin_outer_fibre_falls_off_by_the_closed_form(offset: float) -> None:
    centre, outer = (point_fraction(20.0, gap_mm=5.0, core_radius_mm=0.02, offset_mm=r, na=0.5) for r in (0.0, offset))
    assert outer / centre == pytest.approx((25.0 / (25.0 + offset**2)) ** 11.5, rel=2e-3)  # derived: (m + 3) / 2


def test_nineteen_fibres_take_a_third_of_a_narrow_beam() -> None:
    shares = [(count, point_fraction(20.0, gap_mm=5.0, core_radius_mm=0.25, offset_mm=0.5 * ring, na=0.5))
              for ring, count in HEX_19]
    total = sum(count * share for count, share in shares)
    circle = 1.0 - math.cos(math.atan(1.25 / 5.0)) ** 21.0
    assert total == pytest.approx(circle * 19.0 / 25.0, rel=0.05)  # derived: circle of radius 2.5 d times packing
    assert total < circle


@pytest.mark.parametrize("order", [1.0, 5.0, 30.0])
def test_cores_that_tile_a_plane_share_out_no_more_than_the_cone(order: float) -> None:
    pitch = 0.3
    total = sum(point_fraction(order, gap_mm=2.0, core_radius_mm=pitch / 2, offset_mm=pitch * math.hypot(i, j), na=0.5)
                for i in range(-6, 7) for j in range(-6, 7))
    assert total == pytest.approx(math.pi / 4.0 * coupling.acceptance_fraction(0.5, order), rel=0.04)


def test_share_falls_with_gap_and_offset_and_never_below_zero() -> None:
    by_gap = [point_fraction(4.8, gap_mm=g, core_radius_mm=0.4, offset_mm=0.3, na=0.5) for g in (1.5, 3.0, 6.0, 60.0)]
    by_offset = [point_fraction(4.8, gap_mm=3.0, core_radius_mm=0.4, offset_mm=r, na=0.5)
                 for r in (0.0, 0.2, 0.4, 0.8, 1.6, 2.13, 2.2, 9.0)]
    assert by_gap == sorted(by_gap, reverse=True)
    assert by_offset == sorted(by_offset, reverse=True)
    assert by_offset[-1] == 0.0


@pytest.mark.parametrize("gap", [0.0, 1e-4, 0.05])
@pytest.mark.parametrize(("patch", "core"), [(1.1, 0.25), (0.2, 0.5), (0.5, 0.5)])
def test_patch_near_contact_tends_to_contact(gap: float, patch: float, core: float) -> None:
    got = patch_fraction(patch_radius_mm=patch, gap_mm=gap, core_radius_mm=core, offset_mm=0.0, na=0.5)
    expected = 0.25 * min(1.0, core / patch) ** 2  # source: Keiser, flat emitter in contact
    assert got == pytest.approx(expected, rel=0.04 + 3.0 * gap)


def test_far_patch_is_a_lambertian_point() -> None:
    patch = patch_fraction(patch_radius_mm=0.05, gap_mm=6.0, core_radius_mm=0.4, offset_mm=1.0, na=0.5)
    point = point_fraction(1.0, gap_mm=6.0, core_radius_mm=0.4, offset_mm=1.0, na=0.5)
    assert patch == pytest.approx(point, rel=0.03)


@pytest.mark.parametrize("gap", [0.0, 0.4, 2.0])
@pytest.mark.parametrize("offset", [0.0, 0.5, 1.2])
def test_patch_never_beats_its_radiance(gap: float, offset: float) -> None:
    share = patch_fraction(patch_radius_mm=1.1, gap_mm=gap, core_radius_mm=0.3, offset_mm=offset, na=0.5)
    luminance = 1e6 / (math.pi * math.pi * 1.1**2)
    assert share <= coupling.radiance_limit_lm(luminance, na=0.5, core_radius_mm=0.3) * (1.0 + 1e-9)


@pytest.mark.parametrize(("a", "b", "offset"), [(1.0, 0.5, 0.2), (1.0, 0.5, 0.8), (1.0, 1.0, 1.0), (0.3, 2.0, 2.1),
                                                (1.0, 0.5, 1.6)])
def test_overlap_of_circles_against_a_grid(a: float, b: float, offset: float) -> None:
    x, y = np.meshgrid(np.linspace(-3, 3, 1501), np.linspace(-3, 3, 1501))
    both = (np.hypot(x, y) <= a) & (np.hypot(x - offset, y) <= b)
    assert coupling.overlap_area_mm2(a, b, offset) == pytest.approx(float(both.sum()) * (6 / 1500) ** 2, abs=5e-3)


def test_faces_square_on_and_in_a_cone() -> None:
    assert 1.0 - coupling.fresnel_transmittance() == pytest.approx(0.0390, abs=5e-5)  # derived: (0.492 / 2.492)^2
    assert 1.0 - coupling.fresnel_transmittance(na=0.5) == pytest.approx(0.0394, abs=1e-4)  # derived: cone average
    reflected = [1.0 - coupling.fresnel_transmittance(na=na) for na in (0.0, 0.3, 0.6, 0.9, 1.0)]
    assert reflected == sorted(reflected)
    assert reflected[-1] == pytest.approx(0.091, abs=0.002)  # source: diffuse reflectance for n 1.49, about 9 %
    assert coupling.fresnel_transmittance(1.0, 0.5) == pytest.approx(1.0)


@pytest.mark.parametrize("call", [
    lambda: coupling.acceptance_fraction(0.0, 1.0), lambda: coupling.acceptance_fraction(0.5, -1.0),
    lambda: point_fraction(1.0, gap_mm=0.0, core_radius_mm=0.2, offset_mm=0.0, na=0.5),
    lambda: point_fraction(1.0, gap_mm=1.0, core_radius_mm=0.2, offset_mm=-0.1, na=0.5),
    lambda: patch_fraction(patch_radius_mm=0.0, gap_mm=1.0, core_radius_mm=0.2, offset_mm=0.0, na=0.5),
    lambda: patch_fraction(patch_radius_mm=1.0, gap_mm=-1.0, core_radius_mm=0.2, offset_mm=0.0, na=0.5),
    lambda: coupling.radiance_limit_lm(-1.0, na=0.5, core_radius_mm=0.2),
    lambda: coupling.overlap_area_mm2(-1.0, 1.0, 0.0), lambda: coupling.fresnel_transmittance(0.9),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
