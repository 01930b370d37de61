"""The finding about a contact that sticks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import designed
from rushlight.findings.electric.stuck_contact import RULE
from rushlight.model.design import Design
from rushlight.model.design_power import StuckContact

PLAN = """
rushlight: 1
subject: {title: two sets, scale: 1:50}
states: [{name: day}, {name: night}]
parts:
  - {name: hull, relief: {flat: true}, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]],
     bays: [{name: bay, rect_mm: [5, 5, 60, 35], depth_mm: 20,
     access: screwed hatch}]}
lamps:
  - {name: a, part: hull, at_mm: [100, 50], colour: red, size_mm: 100, states: day}
  - {name: b, part: hull, at_mm: [150, 50], colour: red, size_mm: 100, states: night}
supply: {kind: cells, cell: AA, in_series: 4, bay: bay, fuse_a: 0.5}
"""


@pytest.fixture(scope="module")
def plain() -> Design:
    return designed(PLAN)


def fused(made: Design, fuse_a: float) -> Design:
    assert made.power.supply is not None
    return replace(made, power=replace(made.power, supply=replace(made.power.supply, fuse_a=fuse_a)))


def most(made: Design) -> float:
    return max(state.supply_a.high for state in made.power.states)


def test_every_contact_in_use_is_told_with_what_it_shows(plain: Design) -> None:
    switch = plain.power.switch
    assert switch is not None and not any(row.wrong for row in switch.stuck)
    assert {row.welded for row in switch.stuck} == {True, False} and len(switch.stuck) == 4
    assert any("lit too" in row.shows for row in switch.stuck) and any("dark" in row.shows for row in switch.stuck)


def test_a_fuse_that_bears_both_sets_is_quiet_and_one_that_bears_one_is_told(plain: Design) -> None:
    assert RULE.look(plain) == ()
    (trouble,) = RULE.look(fused(plain, 1.4 * most(plain)))
    assert trouble.limit is not None and trouble.number is not None and trouble.number > trouble.limit
    assert "welded closed" in trouble.says and "fuse" in trouble.says


def test_a_fuse_too_small_for_the_sound_switch_is_another_rules_matter(plain: Design) -> None:
    assert RULE.look(fused(plain, 0.5 * most(plain))) == ()


def test_a_sneak_path_or_a_short_is_told(plain: Design) -> None:
    switch = plain.power.switch
    assert switch is not None
    bad = StuckContact(terminal="1", pole=1, welded=True, shows="nothing", lit=(),
                       wrong=("in 'day' the supply is shorted",))
    made = replace(plain, power=replace(plain.power, switch=replace(switch, stuck=(bad,))))
    (trouble,) = RULE.look(made)
    assert "supply is shorted" in trouble.says
