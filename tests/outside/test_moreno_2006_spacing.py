"""Flattest light of a few LEDs.

I. Moreno, M. Avendano-Alejo & R. I. Tzonchev, Designing light-emitting diode arrays for uniform near-field
irradiance, Appl. Opt. 45 (2006) 2265 (formulas from memory). Its kernel z^m / r^(m+2) leaves out the cosine at
the target; the form for a flat diffuser puts m + 1 for m. Both are tested on the kernel they belong to: the second
derivative in the middle must vanish.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.diffuser import row_contrast
from rushlight.optics.spacing import (
    long_row_pitch_mm,
    pair_spacing_mm,
    ring_radius_mm,
    row_pitch_mm,
    square_side_mm,
    triple_spacing_mm,
)

ORDERS = [1.0, 4.8, 20.0, 80.0]


def _curvature(places: list[complex], order: float, plane: bool) -> float:
    """Second derivative of the light in the middle along x (gap 1)."""
    power = (order + 3.0 if plane else order + 2.0) / 2.0
    step = 1e-3

    def light(x: float) -> float:
        return sum((1.0 + abs(place - x) ** 2) ** -power for place in places)

    return (light(step) + light(-step) - 2.0 * light(0.0)) / step**2


@pytest.mark.parametrize("plane", [True, False])
@pytest.mark.parametrize("order", ORDERS)
def test_pair(order: float, plane: bool) -> None:
    half = pair_spacing_mm(1.0, order, plane=plane) / 2.0
    assert abs(_curvature([half, -half], order, plane)) < 2e-3 * order


@pytest.mark.parametrize("plane", [True, False])
@pytest.mark.parametrize("count", [3, 4, 6, 12])
@pytest.mark.parametrize("order", ORDERS)
def test_ring(order: float, count: int, plane: bool) -> None:
    radius = ring_radius_mm(1.0, order, plane=plane)
    ring = [radius * complex(math.cos(turn), math.sin(turn)) for turn in np.arange(count) * 2.0 * math.pi / count]
    assert abs(_curvature(ring, order, plane)) < 2e-3 * order


def test_square_is_a_ring_of_four() -> None:
    assert square_side_mm(10.0, 1.0) == pytest.approx(10.0)  # source: z sqrt(4 / (m + 3)), m = 1
    assert square_side_mm(10.0, 1.0, plane=False) == pytest.approx(11.54701)  # source: z sqrt(4 / (m + 2))


def test_lambertian_pair_with_and_without_the_cosine() -> None:
    assert pair_spacing_mm(1.0, 1.0) == pytest.approx(0.894427)  # derived: sqrt(4/5)
    assert pair_spacing_mm(1.0, 1.0, plane=False) == pytest.approx(1.0)  # source: Moreno 2006, sqrt(4 / (m + 3))


@pytest.mark.parametrize("order", ORDERS)
def test_how_much_the_cosine_at_the_sheet_brings_leds_together(order: float) -> None:
    """The published forms, put behind a flat sheet, stand too far apart: their middle sags, by up to 11 % of the spacing."""
    pair = pair_spacing_mm(1.0, order) / pair_spacing_mm(1.0, order, plane=False)
    ring = ring_radius_mm(1.0, order) / ring_radius_mm(1.0, order, plane=False)
    assert pair == pytest.approx(math.sqrt((order + 3.0) / (order + 4.0)))  # derived: m + 1 for m
    assert ring == pytest.approx(math.sqrt((order + 2.0) / (order + 3.0)))  # derived: m + 1 for m
    half = pair_spacing_mm(1.0, order, plane=False) / 2.0
    assert _curvature([half, -half], order, True) > 0.0, "a dark middle"


@pytest.mark.parametrize("order", ORDERS)
def test_triple_is_the_flattest_of_its_neighbours(order: float) -> None:
    best = triple_spacing_mm(1.0, order)
    flat = [abs(_curvature([-best * f, 0.0, best * f], order, True)) for f in (0.9, 1.0, 1.1)]
    assert flat[1] < flat[0]
    assert flat[1] < flat[2]


@pytest.mark.parametrize("order", [1.0, 4.8, 20.0])
def test_long_row_rule_keeps_its_ripple(order: float) -> None:
    ripple = row_contrast(1.0 / long_row_pitch_mm(1.0, order, plane=False), order)
    assert 0.004 < ripple < 0.0075  # source: 0.53-0.70 % with the target's cosine, published pitch
    assert row_contrast(1.0 / long_row_pitch_mm(1.0, order), order) < ripple


def test_pitch_for_a_contrast_inverts_the_contrast() -> None:
    pitch = row_pitch_mm(12.0, 1.0, contrast=0.02)
    assert row_contrast(12.0 / pitch, 1.0) == pytest.approx(0.02)
