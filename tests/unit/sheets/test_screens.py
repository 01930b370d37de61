"""Screens of sector lights: true size, one for each size and sector."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.model.sheet import Dimension, Drawing, Polyline, Text
from rushlight.sheets.bearings import bearing_words, sectors_of
from rushlight.sheets.place import bounds
from rushlight.sheets.screens import screen_sheets, screens_of

LAMP = "{name: %s, part: board, at_mm: [%g, 60], colour: red, model_mm: %g, states: day, arc_deg: [%g, %g]}"


def test_the_strip_is_drawn_at_true_size() -> None:
    made = designed(board(LAMP % ("a", 20, 3, 0, 112.5) + "\n" + LAMP % ("b", 60, 3, 247.5, 360)))
    (screen,) = screens_of(made)
    assert screen.lamps == ("a", "b")
    assert screen.length_mm == pytest.approx(screen.size_mm / math.tan(math.radians(3)))  # derived: straight rays
    (sheet,) = screen_sheets(made)
    drawing = next(block for block in sheet.blocks if isinstance(block, Drawing) and block.template)
    assert drawing.scale == 1.0
    assert isinstance(sheet.blocks[-1], Drawing) and sheet.blocks[-1].template, "pages of their own come last"
    marks = [mark for layer in drawing.layers for mark in layer.marks]
    strip = next(mark for mark in marks if isinstance(mark, Polyline) and mark.closed)
    xs = [x for x, _ in strip.points_mm]
    assert max(xs) - min(xs) == pytest.approx(2 * screen.flank_mm)
    assert sum(isinstance(mark, Dimension) for mark in marks) == 3


def test_an_edge_right_ahead_is_cut_sharper() -> None:
    made = designed(board(LAMP % ("a", 20, 1, 0, 112.5) + "\n" + LAMP % ("b", 60, 1, 112.5, 225)))
    ahead, aside = sorted(screens_of(made), key=lambda row: row.lamps)
    assert ahead.length_mm / aside.length_mm == pytest.approx(math.tan(math.radians(5)) / math.tan(math.radians(3)))
    # source: COLREGs 1972 Annex I 9(a): 3 degrees outside for sidelights ahead, 5 elsewhere


def test_lamps_without_a_sector_need_no_screen() -> None:
    assert screen_sheets(designed(board(LAMP % ("a", 20, 3, 0, 360)))) == ()


@pytest.mark.parametrize(("bearing", "ship", "aircraft"), [
    (0.0, "right ahead", "straight ahead"), (360.0, "right ahead", "straight ahead"),
    (180.0, "right aft", "straight behind"), (30.0, "30° on the starboard bow", "30° to the right"),
    (110.0, "20° abaft the starboard beam", "110° to the right"), (270.0, "on the port beam", "90° to the left"),
    (250.0, "20° abaft the port beam", "110° to the left"),
])
def test_bearings_in_words(bearing: float, ship: str, aircraft: str) -> None:
    assert (bearing_words(bearing, ship=True), bearing_words(bearing, ship=False)) == (ship, aircraft)


def test_lamps_of_equal_screens_have_each_its_bearings() -> None:
    made = designed(board(LAMP % ("a", 20, 3, 0, 112.5) + "\n" + LAMP % ("b", 60, 3, 247.5, 360)))
    (sheet,) = screen_sheets(made)
    assert [(row.from_deg, row.to_deg, row.lamps) for row in sectors_of(made)] == [(0, 112.5, ("a",)), (247.5, 0, ("b",))]
    roses = [block for block in sheet.blocks if isinstance(block, Drawing) and block.key.startswith("sector-bearings")]
    assert [rose.title for rose in roses] == ["A", "B"] and not any(rose.template for rose in roses)


@pytest.mark.parametrize("arc", [(0, 112.5), (247.5, 112.5), (112.5, 247.5), (350, 10), (30, 75), (355, 5)])
def test_no_label_of_a_rose_covers_another(arc: tuple[float, float]) -> None:
    (sheet,) = screen_sheets(designed(board(LAMP % ("a", 20, 3, *arc))))
    rose = next(block for block in sheet.blocks if isinstance(block, Drawing) and block.key == "sector-bearings-1")
    boxes = [bounds([mark]) for layer in rose.layers for mark in layer.marks if isinstance(mark, Text)]
    for k, one in enumerate(boxes):
        for other in boxes[:k]:
            assert one is not None and other is not None
            assert (one.left_mm >= other.right_mm or other.left_mm >= one.right_mm
                    or one.bottom_mm >= other.top_mm or other.bottom_mm >= one.top_mm)


@pytest.mark.parametrize(("kind", "wide_mm"), [("ship", 3.2), ("aircraft", 8.8), ("rail vehicle", 3.2)])
def test_the_subject_in_the_rose_is_of_its_kind(kind: str, wide_mm: float) -> None:
    plan = board(LAMP % ("a", 20, 3, 0, 110)).replace("invented: true", f"invented: true, kind: {kind}", 1)
    (sheet,) = screen_sheets(designed(plan))
    rose = next(block for block in sheet.blocks if isinstance(block, Drawing) and block.key == "sector-bearings-1")
    subject = next(mark for layer in rose.layers for mark in layer.marks
                   if isinstance(mark, Polyline) and mark.closed and mark.ink.fill == "paper")
    xs = [x for x, _ in subject.points_mm]
    assert max(xs) - min(xs) == pytest.approx(wide_mm)
