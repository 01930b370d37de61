"""The page of sheets is what the code says."""

from __future__ import annotations

from pathlib import Path

from rushlight.reference_sheets import sheets_reference, write_page
from rushlight.sheets import SHEETS

PAGE = Path(__file__).parents[2] / "docs" / "generated" / "sheets.md"


def test_the_page_is_not_stale() -> None:
    assert PAGE.read_text("utf-8") == sheets_reference(), "run python -m rushlight.reference_sheets"


def test_every_kind_has_its_line(tmp_path: Path) -> None:
    text = write_page(tmp_path).read_text("utf-8")
    assert all(f"`sheets/{kind.module}.py`" in text and kind.holds in text for kind in SHEETS)
