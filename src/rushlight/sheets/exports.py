"""What goes into files beside the book: tables as CSV, drawings as SVG, templates as DXF and as single pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from rushlight.model.sheet import Block, Drawing, Listing, Sheet, Table
from rushlight.sheets.csv_table import to_csv
from rushlight.sheets.dxf import to_dxf
from rushlight.sheets.svg import to_svg
from rushlight.sheets.tile import tiles


@dataclass(frozen=True, slots=True)
class Export:
    """One file: its path below the folder of the book, with '/', and its text (write as UTF-8, line ends kept)."""

    path: str
    text: str


def exports(sheets: Sequence[Sheet]) -> tuple[Export, ...]:
    """Every table and drawing of the sheets as a file.

    Parameters
    ----------
    sheets : sequence of Sheet
        In book order.
    Returns
    -------
    tuple of Export
        tables/*.csv, drawings/*.svg, program/*.py, templates/*.dxf, and templates/*-a1.svg and so on for the pages of a
        template. Every path once: a name met again gets a number.
    """
    return tuple(_each_once(export for sheet in sheets for block in sheet.blocks for export in _of(sheet, block)))


def _of(sheet: Sheet, block: Block) -> Iterator[Export]:
    if isinstance(block, Table):
        yield Export(f"tables/{_name(sheet, block.key)}.csv", to_csv(block))
    elif isinstance(block, Drawing) and block.template:
        yield from _template(_name(sheet, block.key), block)
    elif isinstance(block, Drawing):
        yield Export(f"drawings/{_name(sheet, block.key)}.svg", to_svg(block))
    elif isinstance(block, Listing):
        yield Export(block.path, block.text)


def _template(name: str, drawing: Drawing) -> Iterator[Export]:
    yield Export(f"templates/{name}.dxf", to_dxf(drawing))
    yield Export(f"templates/{name}.svg", to_svg(drawing))
    for tile in tiles(drawing):
        yield Export(f"templates/{name}-{tile.label.lower()}.svg", to_svg(tile.drawing))


def _name(sheet: Sheet, key: str) -> str:
    return key if key == sheet.key or key.startswith(f"{sheet.key}-") else f"{sheet.key}-{key}"


def _each_once(found: Iterable[Export]) -> Iterator[Export]:
    taken: set[str] = set()
    for export in found:
        stem, _, ending = export.path.rpartition(".")
        path, number = export.path, 1
        while path in taken:
            number += 1
            path = f"{stem}-{number}.{ending}"
        taken.add(path)
        yield replace(export, path=path)
