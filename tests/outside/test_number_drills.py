"""Number and metric drills, holes for fibres, sizes at scale.

ASME B94.11M number drills as in a public-domain drill table (CircuitousRoot, v. 2, 2007): #80 0.0135 in,
#61 0.0390 in, #60 0.0400 in, #51 0.0670 in. An inch is 25.4 mm (1959).
"""

from __future__ import annotations

import pytest

from rushlight.optics.scale import (
    drill_for,
    fibre_hole_mm,
    metric_drills,
    nearest_drill,
    number_drills,
    on_model_mm,
    on_subject_mm,
)
from rushlight.tables import rows


# source: drill table
@pytest.mark.parametrize(("mark", "inch"), [("#80", 0.0135), ("#61", 0.0390), ("#60", 0.0400), ("#51", 0.0670)])
def test_number_drill(mark: str, inch: float) -> None:
    drill = next(drill for drill in number_drills() if drill.mark == mark)
    assert drill.diameter_mm == pytest.approx(25.4 * inch, abs=6e-5)


def test_higher_numbers_are_thinner() -> None:
    numbers = [int(drill.mark[1:]) for drill in number_drills()]
    assert numbers == sorted(numbers, reverse=True)


def test_three_millimetres_at_one_to_seventy_two() -> None:
    assert on_subject_mm(3.0, 72.0) == pytest.approx(216.0)  # derived: 3 x 72
    assert on_subject_mm(3.0, 72.0) / 25.4 == pytest.approx(8.504, abs=5e-4)  # derived: in inches
    assert on_model_mm(216.0, 72.0) == pytest.approx(3.0)


@pytest.mark.parametrize("row", rows("fibre_hole"), ids=lambda row: row["fibre_nominal_mm"])
def test_hole_and_drills_for_stock_fibre(row: dict[str, str]) -> None:
    hole = fibre_hole_mm(float(row["fibre_nominal_mm"]))
    assert hole == pytest.approx(float(row["hole_min_mm"]))
    assert drill_for(hole, metric_drills()).diameter_mm == pytest.approx(float(row["metric_drill_mm"]))
    assert drill_for(hole, number_drills()).mark == row["number_drill"]


def test_nearest_may_be_under() -> None:
    assert nearest_drill(0.56, metric_drills()).diameter_mm == pytest.approx(0.55)
    assert drill_for(0.56, metric_drills()).diameter_mm == pytest.approx(0.6)
