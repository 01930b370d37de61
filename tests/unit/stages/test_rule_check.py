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


def mark(key: str, colour: str, rhythm: str) -> list[str]:
    plan = planned(f"""
rushlight: 1
subject: {{title: buoy, kind: sea mark, scale: 50}}
states: [{{name: "on", rule: {key.replace("-", " ")}}}]
parts: [{{name: board, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]]}}]
lamps: [{{name: light, part: board, at_mm: [50, 25], colour: {colour}, rule: mark/{key}, rhythm: "{rhythm}",
          states: ["on"]}}]
""")
    return [found.expected for found in differences(plan)[0][1] if found.kind == "wrong rhythm"]


@pytest.mark.parametrize(
    ("key", "colour", "rhythm", "right"),
    [  # source: IALA Maritime Buoyage System, as in aton_marks.csv
        ("north-cardinal", "white", "VQ W", True), ("north-cardinal", "white", "Fl W 5s", False),
        ("west-cardinal", "white", "Q(9) W 15s", True), ("west-cardinal", "white", "Q(3) W 10s", False),
        ("north-cardinal", "white", "steady", False), ("lateral-port", "red", "Q R", True),
    ],
)
def test_a_sea_mark_is_known_by_its_class(key: str, colour: str, rhythm: str, right: bool) -> None:
    assert (mark(key, colour, rhythm) == []) is right


def test_rates_have_two_ends_and_steady_lights_stay_steady() -> None:
    def van(rule: str, rhythm: str) -> list[str]:
        text = f"""
rushlight: 1
subject: {{title: van, kind: road vehicle, scale: 24}}
states: [{{name: "on", rule: turning at night}}]
parts: [{{name: board, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]]}}]
lamps: [{{name: lamp, part: board, at_mm: [50, 25], colour: amber, rule: {rule}, rhythm: {rhythm}, states: ["on"]}}]
"""
        return [found.expected for found in differences(planned(text))[0][1] if found.kind == "wrong rhythm"]

    limits = ["60 to 120 a minute"]  # source: UN R6 / R48, 90 +- 30 a minute
    assert van("indicator", "flash 55/min") == van("indicator", "flash 125/min") == limits
    assert van("indicator", "flash 60/min") == van("indicator", "flash 120/min") == []
    assert van("indicator", "steady") and van("plate", "flash 60/min") == ["steady"]
