"""Edges and scaling of the spacing rules; the values are in tests/outside."""

from __future__ import annotations

import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import spacing

RULES = [spacing.pair_spacing_mm, spacing.ring_radius_mm, spacing.square_side_mm, spacing.triple_spacing_mm,
         spacing.long_row_pitch_mm]


@pytest.mark.parametrize("rule", RULES)
def test_scales_with_the_gap_shrinks_with_the_order_and_with_the_cosine(rule) -> None:
    assert rule(20.0, 3.0) == pytest.approx(2.0 * rule(10.0, 3.0))
    assert rule(10.0, 1.0) > rule(10.0, 5.0) > rule(10.0, 50.0)
    assert rule(10.0, 3.0) < rule(10.0, 3.0, plane=False)
    assert rule(10.0, 3.0) == pytest.approx(rule(10.0, 4.0, plane=False))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(("gap", "order"), [(0.0, 1.0), (1.0, 0.0)])
def test_edges_raise(rule, gap: float, order: float) -> None:
    with pytest.raises(OutOfRange, match="more than 0"):
        rule(gap, order)


def test_pitch_for_a_contrast_widens_with_what_is_allowed() -> None:
    pitches = [spacing.row_pitch_mm(10.0, 1.0, contrast=c) for c in (0.005, 0.01, 0.02, 0.05)]
    assert pitches == sorted(pitches)
    with pytest.raises(OutOfRange, match="gap"):
        spacing.row_pitch_mm(0.0, 1.0, contrast=0.02)
