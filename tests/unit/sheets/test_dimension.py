"""Dimensions: their text keeps clear of their own lines."""

from __future__ import annotations

import pytest

from rushlight.model.sheet import Dimension, Polyline, Text
from rushlight.sheets.dimension import dimension_marks


def text_of(mark: Dimension) -> Text:
    return next(one for one in dimension_marks(mark) if isinstance(one, Text))


def line_of(mark: Dimension) -> Polyline:
    """The dimension line itself: the longest."""
    return next(one for one in dimension_marks(mark)[2:] if isinstance(one, Polyline))


@pytest.mark.parametrize("offset_mm", [-4.0, 4.0])
def test_an_upright_dimension_shorter_than_its_text_has_it_beside(offset_mm: float) -> None:
    short = Dimension((10.0, 0.0), (10.0, 4.0), offset_mm, "4.0 mm")
    text, x_mm = text_of(short), line_of(short).points_mm[0][0]
    assert text.angle_deg == 0.0 and text.at_mm[1] == pytest.approx(2.0)
    assert (text.at_mm[0] > x_mm + 1 and text.anchor == "w") if offset_mm < 0 else (
        text.at_mm[0] < x_mm - 1 and text.anchor == "e")


def test_a_long_upright_and_any_level_dimension_have_it_along_the_line() -> None:
    assert text_of(Dimension((10.0, 0.0), (10.0, 30.0), -4.0, "30 mm")).angle_deg == 90.0
    assert text_of(Dimension((0.0, 0.0), (3.0, 0.0), -4.0, "3.0 mm")).angle_deg == 0.0
    assert text_of(Dimension((0.0, 0.0), (3.0, 0.0), -4.0, "3.0 mm")).anchor == "s"
