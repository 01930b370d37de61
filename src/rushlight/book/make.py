"""The book: sheets typeset into one PDF."""

from __future__ import annotations

import json
from collections.abc import Sequence
from importlib import resources
from typing import Literal

from rushlight.book.pages import book_data
from rushlight.errors import UnknownName
from rushlight.model.sheet import Sheet, TitlePage

Paper = Literal["a4", "letter"]

PAPERS: dict[str, str] = {"a4": "a4", "letter": "us-letter"}
"""Papers by our name, with the typesetter's name."""


def typeset(sheets: Sequence[Sheet], title_page: TitlePage, paper: Paper = "a4") -> bytes:
    """The book as one PDF: title page, contents, every sheet, templates at true size.

    Parameters
    ----------
    sheets : sequence of Sheet
        In book order.
    title_page : TitlePage
        The first page.
    paper : str
        'a4' or 'letter'.
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

    if paper not in PAPERS:
        raise UnknownName("paper", paper, PAPERS)
    data = json.dumps(book_data(sheets, title_page, PAPERS[paper]), ensure_ascii=False)
    book = resources.files("rushlight").joinpath("book")
    with resources.as_file(book.joinpath("fonts")) as folder:
        fonts = typst.Fonts(include_system_fonts=False, font_paths=[folder])
        return typst.compile(book.joinpath("book.typ").read_bytes(), font_paths=fonts, format="pdf",
                             sys_inputs={"book": data})
