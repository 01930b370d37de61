"""Lights of a rule in their vertical lines."""

from __future__ import annotations

import pytest

from designed import planned
from rushlight.stages.lamps import place_lamps
from rushlight.stages.rule_places import vertical_gaps

HEAD = """
rushlight: 1
subject: {title: ship, kind: ship, scale: 100, length_m: LENGTH, breadth_m: 4}
states: [{name: "on", rule: not under command}]
parts:
  - {name: mast, outline_mm: [[0, 0], [100, 0], [100, 100], [0, 100]]}
  - {name: house, outline_mm: [[0, 0], [100, 0], [100, 100], [0, 100]]}
lamps:
"""


def light(name: str, x: float, y: float, part: str = "mast") -> str:
    return (f"  - {{name: {name}, part: {part}, at_mm: [{x}, {y}], colour: red, rule: allround_red/vertical-line, "
            "states: [\"on\"]}\n")


def gaps(lamps: str, length_m: float = 30) -> list[tuple[str, str, float, float]]:
    plan = planned(HEAD.replace("LENGTH", str(length_m)) + lamps)
    return [(gap.upper, gap.lower, gap.gap_m, gap.least_m) for gap in vertical_gaps(plan, place_lamps(plan))]


def test_the_gap_is_carried_to_the_subject() -> None:
    assert gaps(light("low", 50, 40) + light("high", 50, 58)) == [
        ("high", "low", pytest.approx(1.8), 2.0)]  # source: COLREGs 1972 Annex I 2(i)(i), 20 m and over; derived: 18 mm


def test_a_short_vessel_may_hang_them_closer() -> None:
    assert gaps(light("low", 50, 40) + light("high", 50, 58), 15)[0][3] == 1.0  # source: COLREGs 1972 Annex I 2(i)(ii)


def test_lights_aside_or_on_another_part_are_no_line() -> None:
    assert gaps(light("low", 50, 40) + light("high", 52, 58)) == []
    assert gaps(light("low", 50, 40) + light("high", 50, 58, "house")) == []


def test_three_lights_make_two_gaps_from_the_lowest_up() -> None:
    found = gaps(light("top", 50, 80) + light("low", 50, 40) + light("middle", 50, 60))
    assert [(upper, lower) for upper, lower, _, _ in found] == [("middle", "low"), ("top", "middle")]


def test_other_kinds_and_unknown_states_have_none() -> None:
    text = HEAD.replace("LENGTH", "30") + light("low", 50, 40) + light("high", 50, 58)
    for plan in (planned(text.replace("kind: ship", "kind: other")), planned(text.replace("not under command", "x"))):
        assert vertical_gaps(plan, place_lamps(plan)) == ()
