"""What makes each lamp's light."""

from __future__ import annotations

import pytest

from designed import PACKAGED, planned
from plans import board
from rushlight.stages.lamps import place_lamps
from rushlight.stages.sources import choose_sources
from rushlight.stages.sources.common import drill_for, led_for, matching_leds


def kinds(text: str) -> list[tuple[str, str]]:
    plan = planned(text)
    return [(source.kind, source.why) for source in choose_sources(plan, PACKAGED, place_lamps(plan))]


def one(lamp: str, more: str = "") -> tuple[str, str]:
    return kinds(board(f"{{name: a, part: board, at_mm: [20, 50], colour: white, states: day, {lamp}}}", more=more))[0]


def test_small_lamps_are_fibres_and_wide_ones_leds() -> None:
    assert one("model_mm: 0.6")[0] == "fibre"
    assert one("model_mm: 3")[0] == "led"


def test_a_floodlight_is_an_led_however_small() -> None:
    assert one("model_mm: 0.6, lights_mm: 40")[0] == "led"


def test_the_modeller_may_insist() -> None:
    kind, why = one("model_mm: 3, source: {kind: fibre, fibre_mm: 1}")
    assert (kind, why) == ("fibre", "as the plan insists")


def test_the_nearest_fibre_is_taken_and_its_hole_is_wide_enough() -> None:
    plan = planned(board("{name: a, part: board, at_mm: [20, 50], colour: white, states: day, model_mm: 0.8}"))
    source = choose_sources(plan, PACKAGED, place_lamps(plan))[0]
    assert source.fibre_mm == 0.75  # derived: nearest in ratio to 0.8 among the stock diameters
    assert source.hole_mm == pytest.approx(1.06 * 0.75 + 0.03)  # source: fibre_hole.csv rule
    drill = next(row for row in PACKAGED.drills if row.name == source.drill)
    assert drill.diameter_mm >= source.hole_mm


@pytest.mark.parametrize("colour", ["red", "green", "amber", "warm white", "blue"])
def test_an_led_is_of_the_lamps_colour(colour: str) -> None:
    plan = planned(board(f"{{name: a, part: board, at_mm: [20, 50], colour: {colour}, states: day, model_mm: 3}}"))
    lamp = place_lamps(plan)[0]
    assert led_for(PACKAGED, lamp.colour, use="hole", face_mm=3.0).colour in {
        led.colour for led in matching_leds(PACKAGED, lamp.colour)
    }
    assert colour in {led.colour for led in matching_leds(PACKAGED, lamp.colour)}


def test_no_drill_is_named_for_a_hole_wider_than_all() -> None:
    assert drill_for(PACKAGED, 500.0) is None
    assert drill_for(PACKAGED, 0.6) == "0.6 mm"


def test_a_strip_lights_each_opening() -> None:
    text = board(more="strips: [{name: s, part: board, openings: [w], along_mm: [[10, 45], [60, 45]], gap_mm: 12, states: day}]\n")
    text = text.replace("    relief:", "    openings: [{name: w, rect_mm: [10, 40, 50, 10]}]\n    relief:")
    assert kinds(text)[0][0] == "strip"
