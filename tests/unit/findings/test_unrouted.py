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
