"""Resistors as they look."""

from __future__ import annotations

from rushlight.model.sheet import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, Drawing, Polyline, Table, Text
from rushlight.sheets.resistor_bands import MOST_DRAWN, Painted, band_blocks, code_table
from rushlight.sheets.svg import BANDS, PAPER, to_svg


def fills(drawing: Drawing) -> list[str]:
    """Fills of the bands, line by line from the left."""
    marks = [mark for layer in drawing.layers for mark in layer.marks]
    return [mark.ink.fill for mark in marks if isinstance(mark, Polyline) and mark.ink.fill.startswith("band ")]


def test_each_value_is_drawn_with_four_bands_and_with_five():
    drawing = band_blocks([Painted(470, 0.05, 3)])[0]
    assert isinstance(drawing, Drawing)
    four, five = ["yellow", "violet", "brown", "gold"], ["yellow", "violet", "black", "black", "brown"]
    assert fills(drawing) == [f"band {colour}" for colour in (*four, *five)]
    words = [mark.text for layer in drawing.layers for mark in layer.marks if isinstance(mark, Text)]
    assert [word for word in words if word in (*four, *five)] == [*four, *five]  # never by colour alone
    assert "470 ohm, 5 %: 3 of them" in words
    assert all(BANDS[fill] in to_svg(drawing, PAPER) for fill in fills(drawing))


def test_a_value_of_one_percent_is_drawn_once_and_what_has_no_code_not_at_all():
    drawing = band_blocks([Painted(475, 0.01, 1), Painted(475, 0.05, 1)])[0]
    assert isinstance(drawing, Drawing)
    assert fills(drawing) == [f"band {c}" for c in ("yellow", "violet", "green", "black", "brown")] * 2
    assert band_blocks([]) == ()
    many = band_blocks([Painted(100 + n, 0.01, 1) for n in range(MOST_DRAWN + 5)])
    drawings = [block for block in many if isinstance(block, Drawing)]
    assert sum(len(fills(drawing)) for drawing in drawings) == 5 * MOST_DRAWN
    assert all(drawing.height_mm <= PAGE_HEIGHT_MM and drawing.width_mm <= PAGE_WIDTH_MM for drawing in drawings)


def test_the_table_reads_what_the_drawing_shows():
    table = code_table()
    assert isinstance(table, Table)
    rows = {row[0]: row[1:] for row in table.rows}
    assert rows["yellow"] == (4, "0000", "0.02 %")  # source: IEC 60062:2016, from memory
    assert rows["brown"] == (1, "0", "1 %")
    assert rows["black"] == (0, "none", "")
    assert rows["gold"] == (None, "x 0.1", "5 %")
