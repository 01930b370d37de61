"""Sheets laid out as a list of pages in plain data, for the typesetter's template."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any

from rushlight.book.columns import ColumnText, column_shares
from rushlight.model.sheet import (
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    Block,
    Caution,
    Cautions,
    Cell,
    Column,
    Drawing,
    Listing,
    Note,
    Sheet,
    Step,
    Steps,
    Table,
    TitlePage,
)
from rushlight.sheets.place import refitted, scale_words
from rushlight.sheets.svg import to_svg
from rushlight.sheets.tile import Tile, tile_count, tiles
from rushlight.sheets.words import cut_at_clause, one_line, printable, shortened, shown

SIDEWAYS_WIDTH_MM = 240.0
"""Widest drawing on a page laid on its side, on both papers."""

SIDEWAYS_HEIGHT_MM = 160.0
"""Tallest drawing on a page laid on its side, on both papers."""

TEMPLATES_HIGH_MM = (233.0, 165.0)
"""Templates that follow each other share an upright page, or one on its side, while they and their titles fit this."""

PAIR_HEIGHT_MM, LEAST_PAIRED = 94.0, 0.7
"""Two drawings so tall, with their captions and a heading, share a page on both papers. One that follows another is
made smaller for that, but to no less than this share of its size."""

TEMPLATE_TITLE_MM = 10.0
"""Room for a template's title and caption, and the space below it."""

LONGEST_WORD = 24
LONGEST_CELL = 600
LONGEST_CAPTION = 1200
"""Eight lines under a drawing as wide as the page: what a page has left below the tallest drawing and a heading."""
LONGEST_LABEL = 80
LONGEST_HEADING = 120
LONGEST_RUNNING_TITLE = 48

Data = dict[str, Any]


def book_data(sheets: Sequence[Sheet], title_page: TitlePage, paper: str) -> Data:
    """Everything that the template needs, as JSON values; the user's words are data, never source.

    Parameters
    ----------
    sheets : sequence of Sheet
        In book order.
    title_page : TitlePage
        The first page.
    paper : str
        'a4' or 'us-letter', as the typesetter calls them.
    Returns
    -------
    dict
        Keys paper, title (running title), front, pages.
    Notes
    -----
    A table's cell prints at most LONGEST_CELL characters and a label LONGEST_LABEL; the CSV file holds them in full.
    A drawing's caption of more than LONGEST_CAPTION goes on in a note below the drawing.
    """
    pages = [page for sheet in sheets for page in _pages(sheet)]
    return {"paper": paper, "title": _shortened(title_page.title, LONGEST_RUNNING_TITLE),
            "front": _front(title_page), "pages": pages}


def _front(page: TitlePage) -> Data:
    drawing = [] if page.drawing is None else [_figure(refitted(page.drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM / 2))]
    return {
        "title": _heading(page.title), "rest": _rest(page.title),
        "subtitle": _words(page.subtitle), "note": _paragraphs(page.note),
        "facts": [[_label(label), _shortened(value, LONGEST_CELL)] for label, value in page.facts],
        "figures": drawing, "cautions": [_caution(item) for item in page.cautions],
    }


def _pages(sheet: Sheet) -> Iterator[Data]:
    """Runs of blocks that flow, and pages of their own for templates and drawings laid on their side."""
    part = sheet.part if sheet.part and sheet.part.casefold() not in sheet.title.casefold() else ""
    heading = {"title": _heading(sheet.title), "rest": _rest(sheet.title), "part": _label(part)}
    running = _shortened(sheet.title, LONGEST_RUNNING_TITLE)
    head = {"running": running, "part": _shortened(part, LONGEST_RUNNING_TITLE)}
    pages = list(_shared(_runs(sheet.blocks))) or [{"kind": "flow", "blocks": []}]
    for index, page in enumerate(pages):
        yield {**head, "heading": heading if index == 0 else None, "sideways": False, **page}


def _runs(blocks: Iterable[Block]) -> Iterator[Data]:
    flow: list[Data] = []
    for block in _paired(blocks):
        own = _own_pages(block) if isinstance(block, Drawing) else []
        if own and flow:
            yield {"kind": "flow", "blocks": flow}
            flow = []
        yield from own
        if not own:
            _append(flow, block)
    if flow:
        yield {"kind": "flow", "blocks": flow}


def _paired(blocks: Iterable[Block]) -> Iterator[Block]:
    """Drawings that follow each other, each a little too tall for half a page, made smaller so that two share one."""
    for drawn, group in groupby(blocks, lambda block: isinstance(block, Drawing) and not block.template):
        found = list(group)
        yield from [_half_page(block) if isinstance(block, Drawing) else block for block in found] \
            if drawn and len(found) > 1 else found


def _half_page(drawing: Drawing) -> Drawing:
    fitting = refitted(drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM)
    if fitting.height_mm <= PAIR_HEIGHT_MM:
        return drawing
    picture = any(layer.name == "picture" for layer in drawing.layers)
    half = refitted(fitting, PAGE_WIDTH_MM, PAIR_HEIGHT_MM, any_scale=picture)
    return half if half.height_mm >= LEAST_PAIRED * fitting.height_mm else drawing


def _shared(pages: Iterable[Data]) -> Iterator[Data]:
    """Template pages that follow each other put on one page while they fit."""
    held: Data | None = None
    for page in pages:
        if held is not None and _fit_together(held, page):
            held = {**held, "figures": [*held["figures"], *page["figures"]]}
            continue
        if held is not None:
            yield held
        held = page
    if held is not None:
        yield held


def _fit_together(held: Data, page: Data) -> bool:
    if held["kind"] != "template" or page["kind"] != "template" or held["sideways"] != page["sideways"]:
        return False
    figures = [*held["figures"], *page["figures"]]
    high = sum(figure["height_mm"] + TEMPLATE_TITLE_MM for figure in figures)
    return bool(high <= TEMPLATES_HIGH_MM[held["sideways"]])


def _append(flow: list[Data], block: Block) -> None:
    """Drawings that follow each other share one row while they fit."""
    data = _block(block)
    if data["kind"] == "figures" and flow and flow[-1]["kind"] == "figures":
        flow[-1]["figures"].extend(data["figures"])
    else:
        flow.append(data)
    if isinstance(block, Drawing):
        flow.extend(_caption_rest(block))


def _own_pages(drawing: Drawing) -> list[Data]:
    if drawing.template:
        return _template_pages(drawing)
    upright = refitted(drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM)
    turned = refitted(drawing, SIDEWAYS_WIDTH_MM, SIDEWAYS_HEIGHT_MM)
    if turned.width_mm <= upright.width_mm * 1.05:
        return []
    return [{"kind": "flow", "sideways": True, "blocks": [
        {"kind": "figures", "figures": [_figure(turned)]}, *_caption_rest(drawing)]}]


def _template_pages(drawing: Drawing) -> list[Data]:
    sideways = _fewer_sideways(drawing)
    room = (SIDEWAYS_WIDTH_MM, SIDEWAYS_HEIGHT_MM) if sideways else (PAGE_WIDTH_MM, PAGE_HEIGHT_MM)
    rest = _caption_rest(drawing)
    pages = [_template_page(tile, sideways) for tile in tiles(drawing, *room)]
    return [*pages, *([{"kind": "flow", "blocks": rest}] if rest else [])]


def _fewer_sideways(drawing: Drawing) -> bool:
    sideways = tile_count(drawing, SIDEWAYS_WIDTH_MM, SIDEWAYS_HEIGHT_MM)
    return sideways < tile_count(drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM)


def _template_page(tile: Tile, sideways: bool) -> Data:
    return {"kind": "template", "sideways": sideways, "blocks": [], "figures": [_figure(tile.drawing)]}


def _block(block: Block) -> Data:
    if isinstance(block, Drawing):
        return {"kind": "figures", "figures": [_figure(refitted(block, PAGE_WIDTH_MM, PAGE_HEIGHT_MM))]}
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Note):
        return {"kind": "note", "title": _heading(block.title), "paragraphs": _paragraphs(block.text)}
    if isinstance(block, Listing):
        return {"kind": "note", "title": "", "paragraphs": [_words(f"{block.title}: {block.path}, beside this book.")]}
    if isinstance(block, Cautions):
        return {"kind": "cautions", "cautions": [_caution(item) for item in block.items]}
    return _steps(block)


def _figure(drawing: Drawing) -> Data:
    scale = "" if drawing.scale is None else f"Scale {scale_words(drawing.scale)}"
    return {"svg": to_svg(drawing), "width_mm": drawing.width_mm, "height_mm": drawing.height_mm, "scale": scale,
            "title": _heading(drawing.title), "caption": _words(cut_at_clause(drawing.caption, LONGEST_CAPTION)[0])}


def _caption_rest(drawing: Drawing) -> list[Data]:
    """What a caption of many words says beyond those below its drawing."""
    rest = cut_at_clause(drawing.caption, LONGEST_CAPTION)[1]
    title = _heading(f"{drawing.title}, continued")
    return [{"kind": "note", "title": title, "paragraphs": _paragraphs(rest)}] if rest else []


def _table(table: Table) -> Data:
    rows = [[_cell(cell, column) for cell, column in zip(row, table.columns, strict=True)] for row in table.rows]
    texts = [
        ColumnText(_label(column.heading), _label(column.unit), tuple(row[place] for row in rows), column.wide,
                   splits=column.wide or column.align == "left")
        for place, column in enumerate(table.columns)
    ]
    shares = column_shares(texts, PAGE_WIDTH_MM)
    columns = [_column(column, share) for column, share in zip(table.columns, shares, strict=True)]
    return {"kind": "table", "title": _heading(table.title), "caption": _words(table.caption), "columns": columns,
            "rows": rows}


def _column(column: Column, share: float) -> Data:
    align = "center" if column.align == "centre" else column.align
    return {"heading": _label(column.heading), "unit": _label(column.unit), "align": align, "share": share}


def _cell(cell: Cell, column: Column) -> str:
    return _shortened(shown(cell, column.decimals), LONGEST_CELL)


def _steps(block: Steps) -> Data:
    steps = [_step(step, step.label or str(number)) for number, step in enumerate(block.steps, start=1)]
    return {"kind": "steps", "title": _heading(block.title), "steps": steps}


def _step(step: Step, label: str) -> Data:
    return {
        "label": _shortened(label, LONGEST_WORD), "gate": step.gate,
        "text": _words(step.text), "detail": _paragraphs(step.detail),
        "readings": [[_shortened(what, LONGEST_CELL), _label(expected)] for what, expected in step.readings],
        "cautions": [_caution(item) for item in step.cautions],
    }


def _caution(caution: Caution) -> Data:
    return {"hazard": _label(caution.hazard), "text": _words(caution.text), "standard": _words(caution.standard)}


def _paragraphs(text: str) -> list[str]:
    return [_words(part) for part in re.split(r"\n\s*\n", printable(text)) if part.strip()]


def _words(text: str) -> str:
    """One line of text in which very long words may break."""
    return " ".join(_breakable(word) for word in one_line(text).split(" "))


def _breakable(word: str) -> str:
    if len(word) <= LONGEST_WORD:
        return word
    half = LONGEST_WORD // 2
    return "\u200b".join(word[k:k + half] for k in range(0, len(word), half))


def _shortened(text: str, most: int) -> str:
    return _words(shortened(text, most))


def _heading(text: str) -> str:
    return _shortened(text, LONGEST_HEADING)


def _label(text: str) -> str:
    return _shortened(text, LONGEST_LABEL)


def _rest(title: str) -> str:
    """The whole title where the heading had to be cut."""
    return _words(title) if len(one_line(title)) > LONGEST_HEADING else ""
