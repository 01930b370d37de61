"""LED, fibre, room and strip beside each other."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.optics.led_light import light_laws
from rushlight.sheets.source_ways import ways_table, ways_tables
from rushlight.stages.source_ways import source_ways


def row(more: str, count: int = 6, rest: str = "") -> str:
    return board(more="rows: [{name: r, part: board, along_mm: [[20, 50], [160, 50]], colour: warm white, states: day, "
                      f"count: {count}, {more}}}]\n" + rest)


def kinds(text: str) -> dict[str, str]:
    (found,) = source_ways(designed(text))
    return {way.kind: verdict for way, verdict in zip(found.ways, found.verdicts, strict=True)}


def test_a_row_of_holes_is_weighed_as_leds_as_fibre_and_over_a_strip() -> None:
    made = designed(row("model_mm: 0.8"))
    (found,) = source_ways(made)
    by = {way.kind: way for way in found.ways}
    assert set(by) == {"fibre", "led", "strip"} and found.ways[0].kind == made.sources[0].kind
    assert (by["led"].leds, by["led"].tails, by["fibre"].tails) == (6, 0, 6)
    assert by["fibre"].leds == len(made.loom.bundles)
    part = made.drawer.strip(by["strip"].part)
    assert by["strip"].leds >= 140 / part.pitch_mm  # derived: its run covers the row's 140 mm
    assert by["strip"].uneven < 1.5  # derived: at a gap of more than one pitch a long row is even within some 20 %


def test_the_light_of_the_built_way_is_the_designs() -> None:
    """Second way: what the aim expects at its current, carried to the most and the least current."""
    made = designed(row("model_mm: 3, brightness: {intensity_mcd: 40}"))
    way = source_ways(made)[0].ways[0]
    aim, led = made.aims[0], made.drawer.led(made.source("r 1").led)
    assert way.kind == "led" and made.sources[0].kind == "led"
    law, rated_a = light_laws(led.law).usual, led.test_ma / 1000
    each = aim.expected_cd.typical / law.times(aim.current_a / rated_a) / aim.wanted_cd
    warm = math.exp(-0.003 * 25)  # source: led_flux_temperature.csv, white LEDs; project rule: 25 K warmer
    assert way.enough == pytest.approx(each * warm * law.times(led.max_ma * 0.75 / led.test_ma))  # source: DERATE, common practice
    assert way.least == pytest.approx(each * law.times(1.0 / led.test_ma))  # source: habit `dim`


def test_a_strip_wants_a_line_and_its_own_colour() -> None:
    assert "strip" in kinds(row("model_mm: 0.8"))
    assert "strip" not in kinds(row("model_mm: 0.8", count=2))
    bent = row("model_mm: 0.8").replace("[[20, 50], [160, 50]]", "[[20, 20], [90, 80], [160, 20]]")
    assert "strip" not in kinds(bent)
    assert "strip" not in kinds(row("model_mm: 0.8").replace("warm white", "500 nm"))


def test_a_strip_and_a_room_are_weighed_for_openings() -> None:
    text = board(more="strips: [{name: s, part: board, openings: [w, v], along_mm: [[0, 45], [150, 45]], gap_mm: 12, "
                      "states: day}]\n")
    text = text.replace("    relief:", "    openings: [{name: w, rect_mm: [10, 40, 50, 10]}, {name: v, rect_mm: [70, 40, 50, 10]}]\n    relief:")
    (found,) = source_ways(designed(text))
    by = {way.kind: way for way in found.ways}
    assert found.ways[0].kind == "strip" and by["room"].leds == 2
    # derived: two openings alike, alike before the strip
    assert by["strip"].uneven < 1.05 and by["strip"].pieces == 2.0


def test_what_is_insisted_on_is_told_only_where_numbers_speak_against_it() -> None:
    insisted = designed(row("model_mm: 3, source: {kind: led}, brightness: {intensity_mcd: 40}", count=2))
    assert source_ways(insisted)[0].verdicts[0] == "as you say" and not ways_table(insisted).rows
    faint = designed(row("model_mm: 3, source: {kind: led}, brightness: {intensity_mcd: 0.2}", count=2))
    assert "at the least current" in source_ways(faint)[0].verdicts[0] and len(ways_table(faint).rows) == 2


def test_floodlights_and_dark_lamps_are_left_out() -> None:
    flood = board("{name: a, part: board, at_mm: [60, 50], colour: white, model_mm: 2, states: day, lights_mm: 40}")
    assert source_ways(designed(flood)) == ()


def test_the_lamp_list_has_what_is_proposed_for_a_row() -> None:
    tables = {table.key: table for table in ways_tables(designed(row("model_mm: 1, source: {kind: led}")))}
    (line,) = tables["lamp-picks"].rows
    assert line[:4] == ("r", "tails, not built so", "6 of 1 mm on 1 LED", 5)
    assert "LED each: " in str(line[-1]) and "bends are 20 mm" in str(line[-1])
