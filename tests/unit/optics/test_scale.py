"""Sizes, holes, drills: trends and edges; the values are in tests/outside."""

from __future__ import annotations

import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import scale
from rushlight.tables import rows


@pytest.mark.parametrize("row", rows("scales"), ids=lambda row: row["scale_denominator"])
def test_table_of_scales(row: dict[str, str]) -> None:
    denominator = float(row["scale_denominator"])
    assert scale.on_subject_mm(3.0, denominator) == pytest.approx(float(row["real_mm_of_3"]))
    assert scale.on_model_mm(1000.0, denominator) == pytest.approx(float(row["model_mm_of_1_m"]), abs=6e-4)
    assert scale.on_model_mm(scale.on_subject_mm(0.37, denominator), denominator) == pytest.approx(0.37)


def test_oversize() -> None:
    assert scale.oversize(0.5, subject_mm=180.0, scale=72.0) == pytest.approx(0.2)  # derived: 36 / 180
    assert scale.oversize(0.5, subject_mm=25.0, scale=350.0) == pytest.approx(7.0)  # derived: 175 / 25


@pytest.mark.parametrize("drills", [scale.metric_drills(), scale.number_drills()])
def test_drill_is_the_smallest_that_is_wide_enough(drills: tuple[scale.Drill, ...]) -> None:
    for step in range(20, 160):
        hole = step / 100.0
        drill = scale.drill_for(hole, drills)
        assert drill.diameter_mm >= hole - 1e-9
        assert all(other.diameter_mm < hole for other in drills if other.diameter_mm < drill.diameter_mm)
        near = scale.nearest_drill(hole, drills)
        assert abs(near.diameter_mm - hole) <= abs(drill.diameter_mm - hole) + 1e-12


@pytest.mark.parametrize("call", [
    lambda: scale.on_subject_mm(-1.0, 72.0), lambda: scale.on_model_mm(1.0, 0.0), lambda: scale.fibre_hole_mm(0.0),
    lambda: scale.drill_for(9.0, scale.metric_drills()), lambda: scale.drill_for(0.0, scale.metric_drills()),
    lambda: scale.oversize(1.0, subject_mm=0.0, scale=72.0), lambda: scale.nearest_drill(0.0, scale.metric_drills()),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
