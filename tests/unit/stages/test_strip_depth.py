"""Strips that reach farther back than there is room behind their windows."""

from __future__ import annotations

import pytest
import yaml

from finding_cases import design_of
from rushlight.findings.cures import cure_of
from rushlight.findings.plan.strip_too_deep import RULE
from rushlight.model.design import Design
from rushlight.model.finding import Grade
from rushlight.stages.strip_cures import strip_cures
from rushlight.stages.strip_place import place_of
from rushlight.working_plan import changed
from strip_plans import wall


def room(size: str, **more: object) -> Design:
    """A wall with a strip that reaches 30 mm back, 100 mm long, before a window of 40 x 6 mm and a room."""
    spaces = f"spaces: [{{name: room, parts: [wall], size_mm: [{size}]}}]\n"
    return design_of(yaml.safe_load(wall(spaces=spaces, **more)))  # type: ignore[arg-type]


def deep(depth: str) -> Design:
    """The same wall with no space, and the strip's own depth."""
    plan = yaml.safe_load(wall())
    plan["strips"][0]["depth_mm"] = depth
    return design_of(plan)


def test_a_strip_that_goes_in_either_way_is_not_told() -> None:
    assert not RULE.find(room("120, 30, 60"))
    assert not RULE.find(design_of(yaml.safe_load(wall())))


@pytest.mark.parametrize("size", ["120, 24, 24", "24, 120, 6"])
def test_one_that_goes_in_no_way_will_fail_with_what_it_wants_and_what_is_there(size: str) -> None:
    made = room(size)
    (found,) = RULE.find(made)
    assert found.grade is Grade.WILL_FAIL and (found.number, found.limit) == (30, 24)
    assert "30 mm behind its windows (25 for the gap, 3 for what stands in the windows, 2 for strip" in found.says
    assert "'room' behind them is 24 mm deep" in found.says
    assert found.cure.startswith("Bring it nearer, from 25 to 19 mm (tried: ")


def test_windows_of_6_mm_need_their_height_beside_the_depth() -> None:
    # 100 mm of strip go along 120 mm alone, and 5 mm are too low for the windows: they lie behind.
    (found,) = RULE.find(room("120, 60, 5"))
    assert found.grade is Grade.WILL_FAIL and found.limit == 5
    # Where no side leaves room for both, the longest still lies along the strip.
    (found,) = RULE.find(room("120, 5, 4"))
    assert found.grade is Grade.WILL_FAIL and "5 mm deep at the most" in found.says


def test_where_it_hangs_on_the_side_that_lies_behind_it_is_asked_for_and_nothing_is_changed() -> None:
    made = room("120, 24, 60")
    (found,) = RULE.find(made)
    assert found.grade is Grade.COULD_BE_BETTER and found.limit == 24
    assert "it does not go in if the 24 mm lie that way" in found.says
    assert found.cure.startswith("Measure how deep it is there") and cure_of(made, found) is None


def test_the_strips_own_depth_goes_before_any_space_and_no_cure_sets_it_deeper() -> None:
    (found,) = RULE.find(deep("28"))
    assert found.says.endswith("28 mm are free there.")
    plan = yaml.safe_load(wall(gap=12, spaces="spaces: [{name: room, parts: [wall], size_mm: [120, 60, 60]}]\n"))
    plan["strips"][0]["depth_mm"] = 18
    made = design_of(plan)
    assert not RULE.find(made)
    assert place_of(made, made.loom.emitter("glow")).depth_mm == 18
    cures = strip_cures(made, "glow")
    assert all(row.laid.run.gap_mm <= 13 for row in cures.tried)


def test_the_edit_takes_a_finer_strip_where_that_is_more_even_and_the_strip_goes_in_then() -> None:
    for size, row in (("120, 24, 24", None), ("120, 15, 15", "12 V warm white 3528, 120 a metre")):
        made = room(size)
        (found,) = RULE.find(made)
        edit = cure_of(made, found)
        assert edit is not None and edit.changes[0].values.get("strip") == row
        after = changed(made.plan, edit.changes).strips[0]
        assert after.gap_mm + 3 + 2 <= float(size.split(",")[1])
        assert ("its LEDs show in the windows then" in edit.says) == (row is not None)


def test_where_not_even_a_bare_strip_goes_in_another_source_is_named() -> None:
    made = room("120, 5, 5")
    (found,) = RULE.find(made)
    assert found.cure == "No strip goes in: light the windows by an LED in the room behind each, or by fibre."
    assert cure_of(made, found) is None
