"""What no lead or fibre reaches."""

from __future__ import annotations

from designed import PACKAGED, designed
from plans import board
from rushlight.findings.loom.unrouted import OPEN_A_WAY, RULE

LAMP = "{name: a, part: board, at_mm: [100, 60], colour: warm white, model_mm: 1, states: day, source: {kind: %s}}"


def _blocked(rows: str) -> str:
    return board(rows).replace("    relief:", "    keep_outs: [{name: block, rect_mm: [0, 0, 200, 100]}]\n    relief:", 1)


def test_a_lone_lamp_that_no_fibre_reaches_is_offered_the_smallest_led() -> None:
    (found,) = RULE.find(designed(_blocked(LAMP % "fibre")))
    named = next(led for led in PACKAGED.leds if f"'{led.name}'" in found.cure)
    white = [led for led in PACKAGED.leds if led.colour == named.colour]
    assert named.body_mm == min(led.body_mm for led in white)
    assert f"source: {{kind: led, led: {named.name}}}" in found.cure and found.cure.startswith(OPEN_A_WAY)


def test_an_led_that_has_no_place_is_not_offered_itself() -> None:
    assert [row.cure for row in RULE.find(designed(_blocked(LAMP % "led")))] == [OPEN_A_WAY]


def test_a_crossing_that_ends_in_a_bay_is_named() -> None:
    """There is a crossing, so that 'no crossing' alone would send one looking for what is there."""
    wing = "  - {name: wing, outline_mm: [[0, 0], [80, 0], [80, 40], [0, 40]], relief: {flat: true}}\n"
    root = "crossings: [{name: root, kind: fixed, ends: [{part: board, at_mm: [150, 20]}, {part: wing, at_mm: [5, 20]}]}]\n"
    plan = board(LAMP.replace("part: board, at_mm: [100, 60]", "part: wing, at_mm: [40, 20]") % "led",
                 supply=wing + root + "supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay}\n")
    (found,) = RULE.find(designed(plan))
    assert "'root' ends in the bay 'bay' of 'board', where nothing may run" in found.says
    assert found.cure == "Move that end out of the bay 'bay' of 'board', or make the bay smaller."
    assert not RULE.find(designed(plan.replace("at_mm: [150, 20]", "at_mm: [100, 80]")))
