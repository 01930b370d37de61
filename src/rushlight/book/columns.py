"""How wide the columns of a printed table are: the fewest lines that the page's width allows.

Least total height at a given width is hard in general (R. J. Anderson, S. Sobti, 'The table layout problem',
Proc. 15th Symp. Computational Geometry, 1999, 115-123); widening by turns the column that saves most lines a millimetre
comes near enough, and always gives the same widths.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np
from numpy.typing import NDArray
from PIL import ImageFont

TEXT_MM = 2.5
"""Size of the letters of a table, as in the template."""

INSET_MM = 2.8
"""Empty width at both sides of a cell together, as in the template."""

SPARE_MM = 0.4
"""More than the letters need, for what the typesetter rounds."""

STEPS_MM = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0)
"""How much wider a column is tried at once: one more line may be saved only by a lot."""

CELL_WEIGHT = 0.02
"""A line saved in one cell counts so much of a line saved in the row: it leads to rows that become lower later."""

Lines = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class ColumnText:
    """A column's texts: its heading, its unit, its cells; `wide` takes what width is left, `splits` may wrap."""

    heading: str
    unit: str
    cells: tuple[str, ...]
    wide: bool = False
    splits: bool = True


def column_shares(columns: Sequence[ColumnText], room_mm: float) -> tuple[float, ...]:
    """Shares of the page's width, one a column.

    Parameters
    ----------
    columns : sequence of ColumnText
        All with the same number of cells.
    room_mm : float
        Width of the page between its margins.

    Returns
    -------
    tuple of float
        0 for a column that is as wide as its longest text, else its width in mm, to be shared in proportion.
    """
    whole = [_whole_mm(column) for column in columns]
    if sum(whole) <= room_mm:
        return tuple(width if column.wide else 0.0 for column, width in zip(columns, whole, strict=True))
    narrowest = [_narrowest_mm(column, splits=column.splits) for column in columns]
    if sum(narrowest) > room_mm:
        narrowest = [_narrowest_mm(column, splits=True) for column in columns]
    widths = _fewest_lines(columns, (narrowest, whole), room_mm)
    return tuple(0.0 if width >= most else round(width, 2) for width, most in zip(widths, whole, strict=True))


def line_count(text: str, width_mm: float) -> int:
    """Lines that a text takes in a column of this width, its insets counted."""
    room, lines, used = width_mm - INSET_MM, 1, 0.0
    for word in _words_mm(text):
        if used and used + _letter_mm(" ") + word > room:
            lines, used = lines + 1, word
        else:
            used += word + (_letter_mm(" ") if used else 0.0)
    return lines


def _whole_mm(column: ColumnText) -> float:
    return max(_text_mm(text) for text in (column.heading, column.unit, *column.cells)) + INSET_MM + SPARE_MM


def _narrowest_mm(column: ColumnText, *, splits: bool) -> float:
    """The longest word of a column, or the longest text where its cells do not split; headings always do."""
    heads = max((*_words_mm(column.heading), *_words_mm(column.unit)), default=0.0)
    cells = (_text_mm(cell) if not splits else max(_words_mm(cell), default=0.0) for cell in column.cells)
    return max(heads, max(cells, default=0.0)) + INSET_MM + SPARE_MM


def _fewest_lines(
    columns: Sequence[ColumnText], bounds: tuple[Sequence[float], Sequence[float]], room_mm: float
) -> list[float]:
    """Widths between the narrowest and the whole ones that together fill the room."""
    widths, whole = list(bounds[0]), bounds[1]
    lines = np.array([_lines(column, width) for column, width in zip(columns, widths, strict=True)])
    while (spare := room_mm - sum(widths)) > 0:
        saved, place, wider = max(
            ((_saved(lines, place, _lines(columns[place], wider)) / (wider - widths[place]), place, wider)
             for place in range(len(widths)) for wider in _tried(widths[place], whole[place], spare)),
            default=(0.0, 0, 0.0))
        if saved <= 0:
            break
        widths[place], lines[place] = wider, _lines(columns[place], wider)
    return _filled(widths, whole, room_mm)


def _tried(width: float, whole: float, spare: float) -> list[float]:
    """Widths to try beyond this one, within what is left."""
    most = min(whole, width + spare)
    return [wider for wider in (*(width + step for step in STEPS_MM), most) if width < wider <= most]


def _saved(lines: Lines, place: int, new: Lines) -> float:
    """What the table loses in height, in lines, if one column's cells take so many."""
    others = np.delete(lines, place, axis=0).max(axis=0, initial=1)
    rows = (np.maximum(others, lines[place]) - np.maximum(others, new)).sum()
    return float(rows + CELL_WEIGHT * (lines[place] - new).sum())


def _filled(widths: Sequence[float], whole: Sequence[float], room_mm: float) -> list[float]:
    """What is left over given to the columns that are narrower than their text, in proportion to their width."""
    narrow = sum(width for width, most in zip(widths, whole, strict=True) if width < most)
    factor = 1.0 + max(room_mm - sum(widths), 0.0) / narrow if narrow else 1.0
    return [min(width * factor, most) if width < most else width for width, most in zip(widths, whole, strict=True)]


def _lines(column: ColumnText, width_mm: float) -> Lines:
    """Lines of the heading and of each cell."""
    head = line_count(column.heading, width_mm) + bool(column.unit)
    return np.array([head, *(line_count(cell, width_mm) for cell in column.cells)], dtype=np.intp)


@cache
def _words_mm(text: str) -> tuple[float, ...]:
    """Widths of what may not be parted: words, and the pieces of very long ones."""
    return tuple(_text_mm(word) for word in text.replace("\u200b", " ").split())


@cache
def _text_mm(text: str) -> float:
    return sum(_letter_mm("0" if letter.isdigit() else letter) for letter in text if letter != "\u200b")


@cache
def _letter_mm(letter: str) -> float:
    """A letter's width; digits are printed equally wide."""
    return float(_font().getlength(letter)) * TEXT_MM / FONT_PX


FONT_PX = 1000


@cache
def _font() -> ImageFont.FreeTypeFont:
    font = resources.files("rushlight").joinpath("book", "fonts", "AtkinsonHyperlegibleNext-Regular.ttf")
    return ImageFont.truetype(io.BytesIO(font.read_bytes()), FONT_PX, layout_engine=ImageFont.Layout.BASIC)
