"""Heat-shrink tube against the wall that it comes to lie on."""

from __future__ import annotations

from pathlib import Path

import pytest

from designed import designed
from rushlight.findings.heat.shrink_near_wall import RULE
from rushlight.findings.heat.shrink_too_hot import RULE as SHRINK_TOO_HOT
from rushlight.sheets.cut_list import slide_first

IN = "as_built: [{step: fit_led}]\n"
BASES = Path(__file__).parents[2] / "cases" / "bases"
ROW = (BASES / "fibre-row.yaml").read_text(encoding="utf-8")


def test_all_tubes_that_lie_on_the_wall_are_one_finding() -> None:
    made = designed((BASES / "tug-lights.yaml").read_text(encoding="utf-8") + IN)
    (found,) = RULE.find(made)
    assert (found.number, found.limit) == (120.0, 70.0)  # source: drawer_tubes.csv, drawer_walls.csv
    heat = {tube.name: tube.recovery_c for tube in made.drawer.tubes}
    hot = [over for over, sleeve in made.loom.tubes if heat.get(sleeve.tube, 0) > 70]
    assert len(hot) > 2, "splices and a bundle"
    assert found.says.startswith(f"LEDs are in. {len(hot)} tubes on ") and " styrene of " in found.says
    # derived: low-heat tube shrinks at 90
    assert "90 degC (still 20 over)" in found.cure and "on the bench" in found.cure


@pytest.mark.parametrize(("steps", "told"), [
    ("{step: shrink}, {step: fit_led}", False), ("{step: shrink}", False), ("", False),
    ("{step: fit_led}, {step: shrink}", True), ("{step: fit_led}", True),
])
def test_only_what_is_left_to_shrink_once_leds_are_in_is_told(steps: str, told: bool) -> None:
    made = designed(ROW + f"as_built: [{steps}]\n")
    assert bool(RULE.find(made)) is told


@pytest.mark.parametrize(("wall", "told"), [("white PLA print", True), ("brass sheet", False), ("plywood", False)])
def test_walls_that_bear_the_heat_are_left_alone(wall: str, told: bool) -> None:
    made = designed(ROW.replace("black styrene", wall) + IN)
    assert bool(RULE.find(made)) is told
    assert ("wound with tape" in slide_first(made)) is told


def test_the_sheet_of_splices_has_both_temperatures() -> None:
    assert "only at 120 °C, and the black styrene bends from 70 °C" in slide_first(designed(ROW))


def test_tubes_on_fibre_are_told_with_what_the_wall_beside_them_bears() -> None:
    (found,) = SHRINK_TOO_HOT.find(designed(ROW))
    assert found.says.endswith("the fibre in them bears 70 degC, and the black styrene beside them bends from 70 degC.")
    (found,) = SHRINK_TOO_HOT.find(designed(ROW.replace("black styrene", "brass sheet")))
    assert found.says.endswith("the fibre in them bears 70 degC.")


def test_low_heat_tube_is_told_with_how_far_it_is_still_over() -> None:
    (found,) = SHRINK_TOO_HOT.find(designed(ROW))
    assert "low-heat tube (90 degC, still 20 over)" in found.cure  # derived: 90 less the 70 that the fibre bears
