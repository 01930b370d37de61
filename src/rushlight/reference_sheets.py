"""Reference page made from the code: the sheets of the book."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from rushlight.sheets import SHEETS, SheetKind

_HEAD = """# Sheets of the book

Made from the code; do not edit. The book holds these in this order; a kind that has nothing to show is left out.
Beside the book lie every table as CSV in `tables/`, every drawing as SVG in `drawings/`, and every template as DXF and
SVG at true size in `templates/`.
"""


def sheets_reference() -> str:
    """The page docs/generated/sheets.md: every kind of sheet and what it holds.

    Returns
    -------
    str
        Markdown, the same for the same code.
    """
    return "\n".join([_HEAD, "| sheet | holds | file |", "| --- | --- | --- |", *(_line(kind) for kind in SHEETS), ""])


def _line(kind: SheetKind) -> str:
    """The first sentence of the module's own words, what it holds, where it is drawn."""
    says = (import_module(f"rushlight.sheets.{kind.module}").__doc__ or "").split("\n")[0].rstrip(".")
    return f"| {says} | {kind.holds} | `sheets/{kind.module}.py` |"


def write_page(folder: Path) -> Path:
    """The page written into a folder as sheets.md; its path is given back."""
    path = folder / "sheets.md"
    path.write_text(sheets_reference(), encoding="utf-8", newline="\n")
    return path


if __name__ == "__main__":
    write_page(Path("docs/generated"))
