"""The whole book's sheets."""

from __future__ import annotations

from pathlib import Path

import pytest

from book_designs import BARE, HUGE, LIKE_NAMES, NEVER_LIT, SMALL, UNFED, UNPLACED, of, small
from rushlight.book.make import typeset
from rushlight.files.book_files import write_parts
from rushlight.findings import find
from rushlight.model.finding import Finding, Grade
from rushlight.model.place import Spot
from rushlight.model.sheet import Drawing, Note, Sheet, Table
from rushlight.sheets import SHEETS, draw, title_page
from rushlight.sheets import findings as findings_sheet
from rushlight.sheets.exports import exports

WHOLE = ("subject", "findings", "dark", "lamps", "part-hull", "part-house", "template-hull", "template-house", "bundles",
         "circuit", "cut-list", "tails", "splices", "resistors", "switch-and-supply", "evening", "rhythms", "gates", "by-eye", "order", "shopping",
         "light", "heat", "filming")


def sheets_of(text: str) -> tuple[Sheet, ...]:
    design = of(text)
    return draw(design, find(design))


def test_the_book_holds_every_sheet_in_order() -> None:
    assert tuple(sheet.key for sheet in sheets_of(SMALL)) == WHOLE


def test_every_file_of_the_folder_is_a_kind_of_sheet_or_a_helper() -> None:
    """A sheet that is written but not listed would never be printed."""
    import rushlight.sheets

    folder = Path(rushlight.sheets.__file__).parent
    drawing = {path.stem for path in folder.glob("*.py") if "\ndef draw(design: Design" in path.read_text("utf-8")}
    assert drawing - {"__init__"} == {kind.module for kind in SHEETS}
    assert all(kind.holds for kind in SHEETS)


@pytest.mark.parametrize("text", [BARE, UNFED, UNPLACED, NEVER_LIT, LIKE_NAMES, HUGE])
def test_strange_plans_still_give_a_book(text: str) -> None:
    sheets = sheets_of(text)
    keys = [sheet.key for sheet in sheets]
    assert len(set(keys)) == len(keys) and {"subject", "findings", "dark", "lamps", "order"} <= set(keys)
    design = of(text)
    assert typeset(sheets, title_page(design, find(design)), "letter").startswith(b"%PDF")


def test_the_same_design_gives_the_same_bytes(tmp_path: Path) -> None:
    design = small()
    page = title_page(design, ())
    assert typeset(draw(design, ()), page) == typeset(draw(design, ()), page)
    assert exports(draw(design, ())) == exports(draw(design, ()))


def test_every_table_drawing_and_template_is_a_file(tmp_path: Path) -> None:
    sheets = sheets_of(SMALL)
    files = write_parts(sheets, tmp_path / "book")
    assert len(set(files)) == len(files) and all(path.is_file() and path.stat().st_size for path in files)
    blocks = [block for sheet in sheets for block in sheet.blocks]
    by_kind = {name: [path for path in files if path.parent.name == name] for name in ("tables", "drawings", "templates")}
    assert len(by_kind["tables"]) == sum(isinstance(block, Table) for block in blocks)
    plain = [block for block in blocks if isinstance(block, Drawing) and not block.template]
    assert len(by_kind["drawings"]) == len(plain)
    dxf = [path for path in by_kind["templates"] if path.suffix == ".dxf"]
    assert len(dxf) == sum(isinstance(block, Drawing) and block.template for block in blocks)
    assert write_parts(sheets, tmp_path / "book") == files  # written again over themselves
    assert not list((tmp_path / "book").rglob("*.new"))


def test_title_page_tells_the_subject_and_what_it_is_not_for() -> None:
    page = title_page(small(), ())
    assert page.title == "Punt <invented> & co" and ("Findings", "none") in page.facts
    assert page.drawing is not None
    assert [caution.hazard for caution in page.cautions] == ["scope", "display"]


def test_findings_stand_worst_first_with_cures() -> None:
    def found(grade: Grade, item: str) -> Finding:
        return Finding(key="a.b", grade=grade, item=item, spot=Spot("hull", 1.0, 2.0), number=1.234, limit=2.0, unit="A",
                       says="too much.", why="it burns.", cure="use less.", source="test")

    rows = (found(Grade.DOUBTFUL, "x"), found(Grade.DANGEROUS, "y"), found(Grade.DOUBTFUL, "z"))
    (sheet,) = findings_sheet.draw(small(), rows)
    tables = [block for block in sheet.blocks if isinstance(block, Table)]
    assert [table.title for table in tables] == ["Dangerous", "Doubtful"]
    assert [row[0] for row in tables[1].rows] == ["x (hull at 1, 2 mm)", "z (hull at 1, 2 mm)"]
    assert tables[0].rows[0][1:] == ("Too much. (1.23 A against 2 A)", "It burns.", "Use less.")
    assert findings_sheet.counted(rows) == "1 dangerous, 2 doubtful"
    assert isinstance(findings_sheet.draw(small(), ())[0].blocks[0], Note)
