"""Screens that are longer than any on the subject: told, with the lamp that needs a shorter one."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import rushlight
from designed import PACKAGED, designed
from plans import board
from rushlight.findings import find
from rushlight.model.sheet import Note
from rushlight.sheets.screens import screen_sheets
from rushlight.stages.long_screens import long_screen

TUG = Path(rushlight.__file__).parent / "demos" / "tug" / "plan.yaml"
SIDE, STERN = (0.0, 112.5), (112.5, 247.5)


def test_a_wide_lamp_at_a_small_scale_has_a_long_screen() -> None:
    long = long_screen(PACKAGED, 100, 1.8, SIDE)
    assert long is not None
    assert long.length_mm == pytest.approx(1.8 / math.tan(math.radians(3)))  # source: COLREGs Annex I 9(a)(i), 3 degrees
    assert long.scale_mm == 10.0 and long.soft_deg == pytest.approx(math.degrees(math.atan(1.8 / 10)))  # derived
    assert long.fibre_mm == 0.5 and long.fibre_screen_mm == pytest.approx(0.485 / math.tan(math.radians(3)), rel=0.02)
    assert "34 mm beyond it would be 3.4 m long on the subject. Cut to 10 mm" in long.words


def test_what_is_as_long_as_on_the_subject_is_not_told() -> None:
    assert long_screen(PACKAGED, 100, 0.5, SIDE) is None
    assert long_screen(PACKAGED, 20, 1.8, SIDE) is None  # 34 mm are 0.7 m there
    assert long_screen(PACKAGED, 2000, 0.1, STERN) is None  # nobody cuts a shorter one than 2 mm


def test_where_no_fibre_is_thin_enough_the_thinnest_is_told_and_none_beyond_it() -> None:
    long = long_screen(PACKAGED, 1000, 1.8, SIDE)
    assert long is not None and long.fibre_mm == min(row.diameter_mm for row in PACKAGED.fibres)
    least = min(row.core_mm for row in PACKAGED.fibres)
    bare = long_screen(PACKAGED, 1000, least, SIDE)
    assert bare is not None and bare.fibre_mm is None and bare.words.endswith("3 are wanted.")


def test_the_sheet_and_the_finding_say_so() -> None:
    design = designed(TUG.read_text(encoding="utf-8"))
    (sheet,) = screen_sheets(design)
    (note,) = [block for block in sheet.blocks if isinstance(block, Note)]
    assert note.title == "Long for this scale" and "For sidelight starboard, sidelight port: " in note.text
    (spill,) = [row for row in find(design) if row.key == "light.sector-spill"]
    assert "a fibre of 0.5 mm or a slit" in spill.cure and "the sheet of screens" in spill.cure


def test_at_a_large_scale_nothing_is_said() -> None:
    lamp = "{name: light, part: board, at_mm: [60, 60], colour: red, model_mm: 3, facing: starboard, arc_deg: [0, 112.5], states: [night]}"
    design = designed(board(lamp).replace('"1:100"', '"1:10"'))
    (sheet,) = screen_sheets(design)
    assert not [block for block in sheet.blocks if isinstance(block, Note)]
    assert all("At this scale" not in row.cure for row in find(design))
