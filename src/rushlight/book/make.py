"""The book: sheets typeset into one PDF.

A large book is typeset in parts, since the typesetter keeps all that it has laid out until it is done: a cell of a
table takes it some 16 kB. A frame gives the parts' pages their numbers, the contents and the outline.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from importlib import resources
from typing import TYPE_CHECKING, Any, Literal

from rushlight.book.pages import Data, book_data
from rushlight.errors import UnknownName
from rushlight.model.sheet import Sheet, TitlePage

if TYPE_CHECKING:
    from typst import Fonts

Paper = Literal["a4", "letter"]

PAPERS: dict[str, str] = {"a4": "a4", "letter": "us-letter"}
"""Papers by our name, with the typesetter's name."""

CELLS_A_PART = 8000
"""A part is typeset by itself when so many cells of tables are together; a sheet is never parted."""

DRAWING_BYTES_A_CELL = 800
"""So much of a drawing's text takes the typesetter the memory of one cell (measured)."""

KEPT_COMPILATIONS = 10
"""The typesetter forgets what it has laid out after so many compilations that did not need it."""


def typeset(
    sheets: Sequence[Sheet], title_page: TitlePage, paper: Paper = "a4", cells_a_part: int = CELLS_A_PART
) -> bytes:
    """The book as one PDF: title page, contents, every sheet, templates at true size.

    Parameters
    ----------
    sheets : sequence of Sheet
        In book order.
    title_page : TitlePage
        The first page.
    paper : str
        'a4' or 'letter'.
    cells_a_part : int
        About how many cells of tables are typeset at once; what is read is the same with any number.
    Returns
    -------
    bytes
        The PDF; the same bytes for the same sheets, always.
    Raises
    ------
    UnknownName
        If the paper is neither.
    Notes
    -----
    No file is written and no font of the system is used. Templates are the same on both papers.
    """
    import typst

    from rushlight.book.join import joined, page_shapes

    if paper not in PAPERS:
        raise UnknownName("paper", paper, PAPERS)
    data = book_data(sheets, title_page, PAPERS[paper])
    runs = _parts(data["pages"], cells_a_part)
    with resources.as_file(resources.files("rushlight").joinpath("book", "fonts")) as folder:
        fonts = typst.Fonts(include_system_fonts=False, font_paths=[folder])
        parts = [_part(data, run, fonts, alone=len(runs) == 1) for run in runs]
        leaves = [leaf for run, part in zip(runs, parts, strict=True) for leaf in _leaves(run, page_shapes(part))]
        frame = _compiled({**data, "pages": [], "leaves": leaves}, fonts)
    return joined(frame, parts)


def _parts(pages: Sequence[Data], most: int) -> list[list[Data]]:
    """Runs of pages with about so many cells together."""
    parts: list[list[Data]] = []
    held = 0
    for page in pages:
        cells = _cells(page)
        if not parts or held + cells > most:
            parts.append([])
            held = 0
        parts[-1].append(page)
        held += cells
    return parts


def _cells(page: Data) -> int:
    """Cells of a run's tables, its drawings counted as cells of the same weight."""
    blocks = [page, *page["blocks"]]
    drawn = sum(len(figure["svg"]) for block in blocks for figure in block.get("figures", ()))
    return sum(len(block["rows"]) * len(block["columns"]) for block in page["blocks"] if block["kind"] == "table") \
        + drawn // DRAWING_BYTES_A_CELL


def _part(data: Data, pages: Sequence[Data], fonts: Fonts, *, alone: bool) -> bytes:
    """Some pages, without their numbers; of one of several the typesetter remembers nothing afterwards."""
    import typst

    part = _compiled({**data, "front": None, "pages": pages, "leaves": []}, fonts)
    for _ in range(0 if alone else KEPT_COMPILATIONS):
        typst.compile(b"", font_paths=fonts)
    return part


def _leaves(pages: Sequence[Data], shapes: Sequence[Any]) -> list[Data]:
    headings = [page["heading"] for page in pages if page["heading"]]
    return [{"sideways": shape.sideways, "heading": None if shape.heading is None else headings[shape.heading]}
            for shape in shapes]


def _compiled(data: Data, fonts: Fonts) -> bytes:
    import typst

    template = resources.files("rushlight").joinpath("book", "book.typ").read_bytes()
    return bytes(typst.compile(template, font_paths=fonts, format="pdf",
                               sys_inputs={"book": json.dumps(data, ensure_ascii=False)}))
