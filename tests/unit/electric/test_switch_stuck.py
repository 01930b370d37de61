"""One contact of a switch stuck: what shows, sneak paths, shorts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rushlight.electric.switch import Tie, switch_kinds, switch_plans
from rushlight.electric.switch_stuck import passed_by, shown, stuck_contacts


def family(states, circuits, name):
    return next(plan for plan in switch_plans(states, circuits) if plan.family == name)


def by(plan):
    return {(row.terminal, row.welded): row for row in stuck_contacts(plan)}


def test_a_changeover_with_a_welded_contact_lights_both_and_stays_lit_when_off() -> None:
    plan = family(["A", "B"], {"x": "A", "y": "B"}, "poles")
    found = by(plan)
    assert plan.kind is not None and plan.kind.key == "spdt_off"
    assert shown(found["1", True]) == "'B': x lit too; off: x lit too"
    assert shown(found["1", False]) == "'A': x dark"
    assert set(found) == {("1", True), ("1", False), ("3", True), ("3", False)}


def test_a_steered_circuit_goes_dark_with_its_contact_alone() -> None:
    plan = family(["A", "B", "C"], {"x": ["A"], "y": ["A", "B"], "z": ["C"]}, "diodes")
    found = [row for row in stuck_contacts(plan) if not row.welded]
    assert [shown(row) for row in found] == ["'A': x, y dark", "'B': y dark", "'C': z dark"]


@pytest.mark.parametrize("name", ["poles", "diodes", "plain"])
def test_no_stuck_contact_makes_a_sneak_path_or_a_short(name: str) -> None:
    cases = ({"x": "AB", "y": "AC", "z": "BC"}, {"x": "A", "y": "AB", "z": "C", "always": "ABC"})
    for circuits in cases:
        found = stuck_contacts(family(["A", "B", "C"], circuits, name))
        assert found and not any(row.sneaks or row.shorts for row in found)


def test_a_wire_in_place_of_a_diode_is_a_sneak_path_when_the_contact_welds() -> None:
    plan = family(["A", "B", "C"], {"x": ["A"], "y": ["A", "B"], "z": ["C"]}, "diodes")
    bad = replace(plan, ties=(*plan.ties, Tie(1, 1, 1)), diodes=())
    found = [row for row in stuck_contacts(bad) if row.welded]
    assert ("C", "x") in found[1].sneaks


def test_current_that_passes_the_lamps_by_is_a_short() -> None:
    lamps = np.array([[0.014, 0.014], [0.0, 0.014]])
    assert passed_by(lamps, np.array([0.014, 9.0])).tolist() == [False, True]


def test_contacts_that_feed_nothing_are_left_out_and_no_contacts_is_no_rows() -> None:
    assert stuck_contacts(switch_plans(["A"], {"x": "A"})[0]) == ()
    plan = family(["A", "B"], {"x": "A"}, "poles")
    assert {row.terminal for row in stuck_contacts(plan)} == {"1"}


def test_without_an_off_of_its_own_no_off_is_solved() -> None:
    plan = family(["A", "B"], {"x": "A", "y": "B"}, "poles")
    plain = next(kind for kind in switch_kinds() if kind.key == "spdt")
    assert {position for row in stuck_contacts(replace(plan, kind=plain)) for position, _, _ in row.lit} == {"A", "B"}
