"""Charts are laid out for a phone too: as narrow as its screen, with the same lettering and all that they show."""

from __future__ import annotations

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.model.sheet import Drawing, Polyline, Text
from rushlight.sheets.evening import evening_blocks
from rushlight.sheets.filming import draw as filming
from rushlight.sheets.heat_evening import heat_blocks
from rushlight.stages.filming import filming_of
from rushlight.web.worker import _block

PHONE_PX, PX_PER_MM = 325.0, 3.4
"""What a leaf leaves of a screen of 360 px, and how large the app draws a millimetre."""

LAMP = "{name: c, part: board, at_mm: [60, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
EVENING = "evening: [{state: day, minutes: 45}]\nspaces: [{name: box, parts: [board], size_mm: [60, 40, 20]}]\n"


def charts() -> list[Drawing]:
    design = designed(board(LAMP, supply=SUPPLY_AA + EVENING))
    blocks = [*evening_blocks(design), *heat_blocks(design), *(block for sheet in filming(design) for block in sheet.blocks)]
    found = [block for block in blocks if isinstance(block, Drawing)]
    assert {"evening", "evenings", "filming-exposures"} <= {block.key for block in found} and filming_of(design).lamps
    return found


def marks_of(drawing: Drawing) -> list[object]:
    return [mark for layer in drawing.layers for mark in layer.marks]


@pytest.mark.parametrize("chart", charts(), ids=lambda chart: chart.key)
def test_a_chart_goes_into_a_phone_with_all_that_it_shows(chart: Drawing) -> None:
    narrow = chart.narrow
    assert narrow is not None and narrow.narrow is None
    assert chart.width_mm * PX_PER_MM > PHONE_PX >= narrow.width_mm * PX_PER_MM
    xs = [x for mark in marks_of(narrow) if isinstance(mark, Polyline) for x, _ in mark.points_mm]
    assert min(xs) >= 0 and max(xs) <= narrow.width_mm + 1e-6
    wide, small = ([mark for mark in marks_of(one) if isinstance(mark, Text)] for one in (chart, narrow))
    assert {mark.size for mark in small} <= {mark.size for mark in wide}  # lettering is no smaller
    bold = [{mark.text for mark in texts if mark.bold} for texts in (wide, small)]
    assert bold[0] == bold[1]


def test_the_app_gets_both() -> None:
    chart = charts()[0]
    block = _block(chart)
    assert chart.narrow is not None and block["narrow"]["width_mm"] == chart.narrow.width_mm
    assert block["narrow"]["svg"] != block["svg"]
    assert _block(chart.narrow)["narrow"] is None
