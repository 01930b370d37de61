"""A plan against its rule: propulsion words, lamps that cannot be taken for lights of the rule, rows."""

from __future__ import annotations

import pytest

from designed import planned
from rushlight.stages.rule_check import differences, unknown_rules


def ship(propulsion: str, rule: str, lamps: str = "", rows: str = "") -> str:
    return f"""
rushlight: 1
subject: {{title: ship, kind: ship, scale: 100, length_m: 30, breadth_m: 8, propulsion: {propulsion}}}
states: [{{name: "on", rule: {rule}}}]
parts: [{{name: board, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]],
         openings: [{{name: port, rect_mm: [10, 10, 5, 5]}}]}}]
lamps: [{lamps}]
rows: [{rows}]
"""


@pytest.mark.parametrize(
    ("propulsion", "rule"),
    [
        ("power", "under way"), ("sail", "under way"), ("oars", "under way"), ("air cushion", "under way"),
        ("being towed", "being towed"), ("none", "being towed"), ("power", "being towed"), ("none", "at anchor"),
    ],
)
def test_each_word_for_propulsion_finds_its_rule(propulsion: str, rule: str) -> None:
    plan = planned(ship(propulsion, rule))
    assert unknown_rules(plan) == ()
    assert [state for state, _ in differences(plan)] == ["on"]


def test_a_dumb_barge_shows_sidelights_and_sternlight_but_no_masthead_light() -> None:
    missing = {found.rule_key.split("/")[0] for found in differences(planned(ship("none", "being towed")))[0][1]}
    assert missing == {"side_port", "side_starboard", "stern"}  # source: COLREGs 1972 Rule 24(e)


def test_an_unknown_state_is_named() -> None:
    found = unknown_rules(planned(ship("power", "flying low")))
    assert found[0][0] == "on" and "flying low" in found[0][1]


def test_a_red_lamp_in_a_room_is_no_light_of_the_rule() -> None:
    lamp = "{name: chart, part: board, at_mm: [12, 12], colour: red, opening: port, states: [\"on\"]}"
    shown = "{name: odd, part: board, at_mm: [40, 12], colour: red, states: [\"on\"]}"
    extra = [found.lamp for found in differences(planned(ship("power", "at anchor", f"{lamp}, {shown}")))[0][1]
             if found.kind == "extra"]
    assert extra == ["odd"]


def test_a_row_that_names_its_rule_counts_each_lamp() -> None:
    row = ("{name: anchor lights, part: board, along_mm: [[40, 40], [80, 40]], count: 2, colour: white, "
           "rule: allround_white, states: [\"on\"]}")
    kinds = [found.kind for found in differences(planned(ship("power", "at anchor", rows=row)))[0][1]]
    assert "missing" not in kinds and kinds.count("extra") == 1
