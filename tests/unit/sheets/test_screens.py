"""Screens of sector lights: true size, one for each size and sector."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.model.sheet import Dimension, Drawing, Polyline
from rushlight.sheets.screens import screen_sheets, screens_of

LAMP = "{name: %s, part: board, at_mm: [%g, 60], colour: red, model_mm: %g, states: day, arc_deg: [%g, %g]}"


def test_the_strip_is_drawn_at_true_size() -> None:
    made = designed(board(LAMP % ("a", 20, 3, 0, 112.5) + "\n" + LAMP % ("b", 60, 3, 247.5, 360)))
    (screen,) = screens_of(made)
    assert screen.lamps == ("a", "b")
    assert screen.length_mm == pytest.approx(screen.size_mm / math.tan(math.radians(3)))  # derived: straight rays
    (sheet,) = screen_sheets(made)
    drawing = next(block for block in sheet.blocks if isinstance(block, Drawing))
    assert drawing.template and drawing.scale == 1.0
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
