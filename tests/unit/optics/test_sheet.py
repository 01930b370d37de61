"""Second sheet, thickness, overlap."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.diffuser import row_contrast
from rushlight.optics.sheet import overlap_factor, second_sheet_factor, sheet_blur_factor
from rushlight.tables import rows


@pytest.mark.parametrize("spacing", [0.5, 2.0, 5.0, 9.0])
def test_second_sheet_is_the_transform_of_its_kernel(spacing: float) -> None:
    from scipy.special import j0

    radius = np.linspace(0.0, 400.0 * spacing, 2_000_001)
    kernel = spacing**2 / (math.pi * (radius**2 + spacing**2) ** 2)
    expected = float(np.trapezoid(kernel * 2.0 * math.pi * radius * j0(2.0 * math.pi * radius / 16.7), radius))
    assert second_sheet_factor(16.7, spacing) == pytest.approx(expected, abs=1e-4)  # derived: Hankel transform


def test_worked_row_with_one_sheet_and_two() -> None:
    one = row_contrast(10.0 / 16.7, 1.0)
    assert one == pytest.approx(0.22, abs=0.005)  # derived: harmonics at z / p 0.6
    assert one * second_sheet_factor(16.7, 5.0) == pytest.approx(0.068, abs=0.001)  # derived: times q g K1(q g)


@pytest.mark.parametrize("law", [second_sheet_factor, sheet_blur_factor])
def test_more_sheet_never_shows_more(law) -> None:
    left = [law(10.0, size) for size in (0.0, 0.1, 0.5, 1.0, 2.0, 4.0)]
    assert left[0] == 1.0
    assert left == sorted(left, reverse=True)
    assert left[-1] > 0.0


@pytest.mark.parametrize("row", [row for row in rows("diffuser_blur")
                                 if float(row["L_over_lstar"]) >= 5 and float(row["qL"]) <= 2],
                         ids=lambda row: f"{row['L_over_lstar']}-{row['qL']}")
def test_blur_is_near_a_monte_carlo_of_photons(row: dict[str, str]) -> None:
    pitch = 2.0 * math.pi / float(row["qL"])
    assert sheet_blur_factor(pitch, 1.0) == pytest.approx(float(row["MTF_montecarlo"]), abs=0.06)


def test_a_millimetre_keeps_most_of_a_wide_pattern() -> None:
    assert sheet_blur_factor(10.0, 1.0) == pytest.approx(0.94, abs=0.005)  # derived: 0.628 / sinh 0.628


def test_overlap() -> None:
    assert overlap_factor(0.5, 0.45) == pytest.approx(0.627, abs=0.001)  # derived: 0.5 / (1 - 0.2025)
    assert overlap_factor(1.0, 0.0) == 1.0
    assert overlap_factor(0.5, 0.5) == pytest.approx(2.0 / 3.0)  # derived: 1 / T adds up without absorption


@pytest.mark.parametrize("call", [
    lambda: second_sheet_factor(0.0, 1.0), lambda: second_sheet_factor(1.0, -1.0),
    lambda: sheet_blur_factor(1.0, 2.0), lambda: overlap_factor(0.6, 0.5), lambda: overlap_factor(0.0, 0.5),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
