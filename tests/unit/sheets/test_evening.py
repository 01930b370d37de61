"""The evening's charts: what happens has its number in the table and its line in the chart."""

from __future__ import annotations

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.model.design_evening import EveningMark
from rushlight.model.sheet import Drawing, Polyline, Table, Text
from rushlight.sheets.evening import CURVE, FADED, FLAG, FLAG_MM, LIGHT_MM, SEEN, _flags, evening_blocks, faded_table
from rushlight.units import Range

BLUE = "{name: c, part: board, at_mm: [60, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
EVENING = "evening: [{state: day, minutes: 45}]\n"


def test_marks_have_their_numbers_in_the_chart_of_the_supplys_life() -> None:
    design = designed(board(BLUE, supply=SUPPLY_AA + EVENING))
    blocks = {block.key: block for block in evening_blocks(design) if isinstance(block, (Drawing, Table))}
    table, life, first = blocks["evening-marks"], blocks["evenings"], blocks["evening"]
    assert isinstance(table, Table)
    assert isinstance(life, Drawing)
    assert isinstance(first, Drawing | Table)
    numbers = {str(row[0]) for row in table.rows}
    bold = {mark.text for layer in life.layers for mark in layer.marks if isinstance(mark, Text) and mark.bold}
    assert numbers == bold - {"V", "mA", "%"}
    assert [float(str(row[1])) for row in table.rows] == sorted(float(str(row[1])) for row in table.rows)


def test_numbers_that_would_touch_stand_lower_and_what_comes_later_is_left_out() -> None:
    hours = (1.0, 1.0, 1.01, 5.0, 30.0)
    marks = [EveningMark(kind="half", state="day", lamps=("a",), at_h=Range.exactly(hour)) for hour in hours]
    drawn = _flags(marks, 10.0)
    texts = [mark for mark in drawn if isinstance(mark, Text)]
    assert [mark.text for mark in texts] == ["1", "2", "3", "4"]
    heights = [mark.at_mm[1] for mark in texts]
    assert heights[0] - heights[1] >= FLAG_MM - 1e-9
    assert heights[1] - heights[2] >= FLAG_MM - 1e-9
    assert heights[3] == heights[0]
    assert sum(isinstance(mark, Polyline) and mark.ink == FLAG for mark in drawn) == 4


def test_which_lamps_fade_first_is_told_with_what_they_keep() -> None:
    lamps = "\n".join([BLUE, *(BLUE.replace("name: c", f"name: {name}").replace("blue", "red").replace("60", at)
                               for name, at in (("a", "20"), ("b", "40")))])
    design = designed(board(lamps, supply=SUPPLY_AA + EVENING))
    blue, red = faded_table(design).rows
    assert (blue[0], red[0]) == ("c", "a, b") and "blue" in str(blue[1]) and "red" in str(red[1])
    assert float(str(blue[3])) < float(str(red[3])) < float(str(red[2])) <= 100
    mains = designed(board(BLUE, supply="supply: {kind: adapter, adapter_v: 5, bay: bay}\n" + EVENING))
    assert "evening-fades" not in {block.key for block in evening_blocks(mains) if isinstance(block, Table)}


def test_the_charts_show_how_bright_the_lamps_look_beside_a_fresh_supply() -> None:
    lamps = "\n".join([BLUE, BLUE.replace("name: c", "name: a").replace("blue", "red").replace("60", "20")])
    design = designed(board(lamps, supply=SUPPLY_AA + EVENING))
    evening = design.power.evening
    assert evening is not None
    last = {row.group: row.last_share for row in evening.faded}
    first, end = evening.points[0], evening.whole[-1]
    assert (first.light_share, first.least_share) == (1.0, 1.0)
    assert end.least_share == pytest.approx(min(last.values()))  # the table's own, lamp by lamp
    assert end.least_share < end.light_share < max(last.values())  # all together lie between
    falls = [point.light_share for point in evening.whole]
    assert falls == sorted(falls, reverse=True)
    for drawing in (block for block in evening_blocks(design) if isinstance(block, Drawing)):
        curves = [mark for layer in drawing.layers for mark in layer.marks
                  if isinstance(mark, Polyline) and mark.ink in (CURVE, FADED)]
        assert len(curves) == 4 and curves[2].ink == FADED
        points = evening.points if drawing.key == "evening" else evening.whole
        for curve, share in ((curves[3], points[-1].light_share), (curves[2], points[-1].least_share)):
            low, high = LIGHT_MM
            shown = (curve.points_mm[-1][1] - low) / (high - low) * SEEN[1]
            assert shown == pytest.approx(116 * share ** (1 / 3) - 16)  # source: CIE 15 lightness


def test_a_stretch_without_light_keeps_its_share_whole() -> None:
    design = designed(board(BLUE, supply=SUPPLY_AA + "evening: [{state: day, minutes: 45}, {state: night, minutes: 5}]\n"))
    assert design.power.evening is not None
    night = [point for point in design.power.evening.whole if point.state == "night"]
    assert night and {(point.light_share, point.least_share) for point in night} == {(1.0, 1.0)}
