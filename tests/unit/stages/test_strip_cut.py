"""Strips that are drawn otherwise than they can be cut."""

from __future__ import annotations

import yaml

from finding_cases import design_of
from rushlight.findings.cures import cure_of
from rushlight.findings.plan.strip_off_cut import RULE
from rushlight.model.design import Design
from rushlight.model.finding import Finding, Grade
from rushlight.sheets.windows import cut_mark_table
from rushlight.stages.strip_cut import off_cut_strips
from rushlight.working_plan import changed
from strip_plans import wall


def drawn(along: str, wide: int = 300, part: str = "") -> tuple[Design, Finding]:
    """A wall with a strip of 50 mm cut lengths on a line, and what is found of its length."""
    made = design_of(yaml.safe_load(wall(along=along, wide=wide, part=part)))
    (found,) = RULE.find(made)
    return made, found


def test_what_stays_without_leds_is_told_with_the_cut_lengths_next_to_it() -> None:
    made, found = drawn("[[30, 26], [108, 26]]")
    assert found.grade is Grade.COULD_BE_BETTER and found.number == 28
    assert "drawn 78 mm long" in found.says and "cut every 50 mm: 50 mm are laid, and 28 mm at its right" in found.says
    assert found.cure == "Draw it 100 mm long, or 50 mm long, as it is laid."
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values == {"along_mm": [[30, 26], [130, 26]]}
    after = design_of(yaml.safe_load(wall(along="[[30, 26], [130, 26]]")))
    assert not RULE.find(after)
    assert changed(made.plan, edit.changes).strips == after.plan.strips


def test_a_line_that_just_misses_its_mark_is_drawn_to_it_and_a_hairs_breadth_is_not_told() -> None:
    made, found = drawn("[[30, 26], [129.5, 26]]")
    assert found.number == 49.5
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values["along_mm"][1] == [130, 26]
    assert not off_cut_strips(design_of(yaml.safe_load(wall(along="[[30, 26], [130.9, 26]]"))))


def test_a_longer_one_that_does_not_fit_its_place_is_not_offered() -> None:
    made, found = drawn("[[30, 26], [119, 26]]", wide=125)
    assert found.cure == "Draw it 50 mm long, as it is laid (100 mm would not fit there)."
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values["along_mm"][1] == [80, 26]


def test_a_bent_run_is_cut_or_run_on_along_itself() -> None:
    made, found = drawn("[[30, 26], [100, 26], [100, 49]]")
    assert "at its upper end" in found.says
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values["along_mm"] == [[30, 26], [100, 26], [100, 56]]
    made, found = drawn("[[30, 26], [90, 26], [90, 35]]")
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values["along_mm"] == [[30, 26], [80, 26]]


def test_one_cut_length_that_is_longer_than_drawn_is_doubted_and_over_the_edge_it_fails() -> None:
    _, found = drawn("[[30, 26], [60, 26]]")
    assert found.grade is Grade.DOUBTFUL and "50 mm are laid, 20 mm past its right end." in found.says
    made, found = drawn("[[140, 26], [168, 26]]", wide=170)
    assert found.grade is Grade.WILL_FAIL and "over the edge of 'wall'" in found.says
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values == {
        "along_mm": [[140, 26], [165, 26]], "strip": "12 V warm white 3528, 120 a metre"}
    _, found = drawn("[[30, 26], [60, 26]]", part=", keep_outs: [{name: post, why: post, rect_mm: [70, 20, 5, 12]}]")
    assert found.grade is Grade.WILL_FAIL


def test_the_table_of_cuts_has_the_drawn_length_beside_what_is_cut() -> None:
    made, _ = drawn("[[30, 26], [108, 26]]")
    (row,) = cut_mark_table(made).rows
    assert row[4:6] == (50, 78)
