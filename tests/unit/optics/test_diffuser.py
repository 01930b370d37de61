"""Rows of LEDs behind a diffuser."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import diffuser
from rushlight.tables import rows


@pytest.mark.parametrize("order", [0.5, 1.0, 4.8, 9.9, 10.1, 20.0, 80.0])
def test_more_gap_is_never_more_contrast(order: float) -> None:
    contrasts = [diffuser.row_contrast(ratio, order) for ratio in np.linspace(0.3, 3.0, 28)]
    assert all(later <= earlier + 1e-9 for earlier, later in pairwise(contrasts))
    assert 0.0 <= contrasts[-1] < contrasts[0] <= 1.0


@pytest.mark.parametrize("order", [1.0, 4.8, 9.99])
def test_the_two_ways_meet_where_they_hand_over(order: float) -> None:
    below, above = (diffuser.row_contrast(0.5 + step, order) for step in (-1e-6, 1e-6))
    assert below == pytest.approx(above, rel=1e-3)


def test_rule_of_thumb_numbers() -> None:
    assert diffuser.row_contrast(1.0, 1.0) == pytest.approx(0.0272, abs=1e-4)  # derived: 2 (1 + 2 pi) exp(-2 pi)
    assert diffuser.row_contrast(1.2, 1.0) == pytest.approx(0.0091, abs=2e-4)  # derived: the same form at 1.2


def test_a_mirrored_row_gives_mirrored_light() -> None:
    leds, x = np.array([0.0, 8.0, 21.0]), np.linspace(-10.0, 30.0, 41)
    power = np.array([1.0, 0.5, 2.0])
    lit = diffuser.row_light_lx(leds, power, order=1.0, gap_mm=6.0, x_mm=x, y_mm=2.0)
    mirrored = diffuser.row_light_lx(-leds, power, order=1.0, gap_mm=6.0, x_mm=-x, y_mm=-2.0)
    assert mirrored == pytest.approx(lit)
    swapped = diffuser.row_light_lx(leds[::-1], power[::-1], order=1.0, gap_mm=6.0, x_mm=x, y_mm=2.0)
    assert swapped == pytest.approx(lit)


def test_michelson() -> None:
    assert diffuser.michelson([3.0, 1.0, 2.0]) == pytest.approx(0.5)  # derived: 2 / 4
    assert diffuser.michelson([4.0, 4.0]) == 0.0


@pytest.mark.parametrize("contrast", [0.3, 0.05, 0.01, 0.001])
def test_gap_inverts_contrast_and_scales_with_pitch(contrast: float) -> None:
    gap = diffuser.gap_for_contrast(contrast, pitch_mm=16.7, order=1.247)
    assert diffuser.row_contrast(gap / 16.7, 1.247) == pytest.approx(contrast, rel=1e-6)
    assert diffuser.gap_for_contrast(contrast, pitch_mm=33.4, order=1.247) == pytest.approx(2.0 * gap)


def test_pattern_frequency_at_the_eye() -> None:
    assert diffuser.cycles_per_deg(16.7, 300.0) == pytest.approx(0.31, abs=0.005)  # derived: 1 / atan(16.7 / 300)
    assert diffuser.cycles_per_deg(5.0, 400.0) == pytest.approx(1.4, abs=0.01)  # derived: 1 / atan(5 / 400)


@pytest.mark.parametrize("row", rows("contrast_threshold"),
                         ids=lambda row: f"{row['cycles_per_degree']}-{row['luminance_cd_m2']}")
def test_threshold_meets_every_row(row: dict[str, str]) -> None:
    pitch = 1000.0 * math.tan(math.radians(1.0 / float(row["cycles_per_degree"])))
    got = diffuser.contrast_threshold(pitch + 1e-9, distance_mm=1000.0, luminance_cd_m2=float(row["luminance_cd_m2"]))
    assert got == pytest.approx(float(row["threshold_contrast"]), rel=1e-3)


def test_threshold_lies_between_its_rows_and_falls_with_light() -> None:
    dim, middle, bright = (diffuser.contrast_threshold(16.7, distance_mm=1000.0, luminance_cd_m2=level)
                           for level in (1.0, 4.0, 50.0))
    assert dim > middle > bright > 0.0015


@pytest.mark.parametrize("call", [
    lambda: diffuser.row_contrast(0.01, 1.0), lambda: diffuser.row_contrast(1.0, 0.0),
    lambda: diffuser.row_harmonic(1.0, 1.0, harmonic=0), lambda: diffuser.michelson([0.0, 0.0]),
    lambda: diffuser.michelson([-1.0, 1.0]), lambda: diffuser.gap_for_contrast(0.0, pitch_mm=1.0, order=1.0),
    lambda: diffuser.contrast_threshold(0.1, distance_mm=1000.0, luminance_cd_m2=10.0),
    lambda: diffuser.contrast_threshold(10.0, distance_mm=1000.0, luminance_cd_m2=0.1),
    lambda: diffuser.cycles_per_deg(0.0, 1.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
