"""The table of what is seen from eight bearings."""

from __future__ import annotations

import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.model.sheet import Table
from rushlight.sheets.seen_from import BEARINGS, draw

LAMP = "{name: a, part: board, at_mm: [20, 60], model_mm: 3, states: day%s}"
DOME = ", colour: red, source: {kind: led}"
ROW = "rows: [{name: r, part: board, along_mm: [[20, 70], [80, 70]], count: 3, colour: white, model_mm: 0.5, states: day}]\n"


def made(lamp: str, *, faces: str = "", more: str = "", view: str = "") -> Design:
    text = board(LAMP % (lamp if "source" in lamp else lamp + DOME), more=more).replace("invented: true", "invented: true" + view)
    return designed(text.replace("    relief:", f"    faces: {faces}\n    relief:") if faces else text)


def rows(design: Design) -> dict[str, tuple[object, ...]]:
    (sheet,) = draw(design)
    return {str(row[0]): row[1:] for table in sheet.blocks if isinstance(table, Table) for row in table.rows}


def test_a_stern_light_is_seen_from_astern_with_its_candela_on_the_subject() -> None:
    design = made(", facing: astern, arc_deg: [112.5, 247.5]")
    count, sector, *cells = rows(design)["a"]
    assert (count, sector) == (1, "112.5 to 247.5 deg")
    seen = [bearing for bearing, cell in zip(BEARINGS, cells, strict=True) if cell != "-"]
    assert seen == [135.0, 180.0, 225.0]  # source: COLREGs 1972 Rule 21(c)
    astern = float(str(cells[list(BEARINGS).index(180.0)]))
    assert astern == pytest.approx(design.light.lamps[0].intensity_cd.typical * 100**2, rel=0.06)  # derived: 1:100, two digits


def test_rows_stand_once_for_each_side_and_unknown_lamps_are_counted() -> None:
    both = rows(made("", faces="starboard", more=ROW))
    assert both["r"][0] == 3 and both["a"][2:].count("-") == 3  # derived: five of eight bearings see a half space with its rim
    (sheet,) = draw(made(", facing: ahead", more=ROW))
    assert isinstance(sheet.blocks[0], Table)
    assert "where they look is not said: 3 lamps" in sheet.blocks[0].caption and [row[0] for row in sheet.blocks[0].rows] == ["a"]


def test_no_sheet_where_nothing_is_known_and_none_of_lamps_that_shine_inward() -> None:
    assert draw(made("")) == () == draw(made(", facing: inward"))


def test_the_height_of_the_eye_counts() -> None:
    up = ", facing: up, colour: white, source: {kind: led, led: 0805 cool white}"  # no dome that is seen from its side
    level, high = rows(made(up))["a"], rows(made(up, view=", viewing_height_deg: 60"))["a"]
    assert set(level[2:]) == {"-"} and "-" not in high[2:]
    assert "60 degrees over the horizon" in draw(made(up, view=", viewing_height_deg: 60"))[0].blocks[0].caption  # type: ignore[union-attr]
