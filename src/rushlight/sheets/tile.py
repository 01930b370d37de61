"""A template cut into pages at true size, with register marks and a check bar on each."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from rushlight.errors import OutOfRange
from rushlight.model.sheet import (
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    THIN,
    Circle,
    Drawing,
    Ink,
    Layer,
    Mark,
    Point,
    Polyline,
    Text,
)
from rushlight.sheets.place import Box, mark_bounds, translated

OVERLAP_MM = 10.0
"""Breadth of the strip that two neighbouring tiles share."""

FOOT_MM = 16.0
"""Height of the strip below each tile that holds its label and the check bar."""

CHECK_BAR_MM = 50.0
"""Length of the check bar."""

SMALLEST_PAGE_MM = 100.0


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of a template.

    Parameters
    ----------
    label : str
        Row letter and column number, A1 at the upper left.
    row, column : int
        Counted from 0 at the upper left.
    window_mm : Box
        What part of the whole drawing it shows, in the drawing's frame.
    marks_mm : tuple of Point
        Register marks that it shows, in the whole drawing's frame.
    drawing : Drawing
        The page itself: the window over a foot with label and check bar; a template at true size.
    """

    label: str
    row: int
    column: int
    window_mm: Box
    marks_mm: tuple[Point, ...]
    drawing: Drawing


def tiles(drawing: Drawing, page_width_mm: float = PAGE_WIDTH_MM,
          page_height_mm: float = PAGE_HEIGHT_MM) -> tuple[Tile, ...]:
    """The template as pages of one size or smaller; a template that fits becomes one page, A1.

    Parameters
    ----------
    drawing : Drawing
        A drawing at scale 1.0.
    page_width_mm, page_height_mm : float
        Room on the paper [mm], each at least 100.
    Returns
    -------
    tuple of Tile
        Row by row from the upper left; neighbours share a strip of OVERLAP_MM with the same register marks.
    Raises
    ------
    OutOfRange
        If the page is too small or the drawing is not at true size.
    """
    if min(page_width_mm, page_height_mm) < SMALLEST_PAGE_MM:
        raise OutOfRange("page", (page_width_mm, page_height_mm), f"at least {SMALLEST_PAGE_MM:g} mm each way")
    if drawing.scale != 1.0:
        raise OutOfRange(f"scale of '{drawing.key}'", drawing.scale, "1.0 to be cut into tiles")
    columns = _spans(drawing.width_mm, page_width_mm)
    rows = tuple(reversed(_spans(drawing.height_mm, page_height_mm - FOOT_MM)))
    grid = _Grid(columns, rows)
    places = ((row, column) for row in range(len(rows)) for column in range(len(columns)))
    return tuple(_tile(drawing, place, grid) for place in places)


def tile_count(drawing: Drawing, page_width_mm: float, page_height_mm: float) -> int:
    """How many pages the template takes."""
    return len(_spans(drawing.width_mm, page_width_mm)) * len(_spans(drawing.height_mm, page_height_mm - FOOT_MM))


Spans = tuple[tuple[float, float], ...]


def _spans(total_mm: float, most_mm: float) -> Spans:
    """Equal spans with overlap that cover the total, none longer than `most_mm`."""
    count = max(1, math.ceil((total_mm - OVERLAP_MM) / (most_mm - OVERLAP_MM) - 1e-9))
    length = (total_mm + (count - 1) * OVERLAP_MM) / count
    starts = (k * (length - OVERLAP_MM) for k in range(count))
    return tuple((start, start + length) for start in starts)


@dataclass(frozen=True, slots=True)
class _Grid:
    """Spans of the columns from the left and of the rows from the top."""

    columns: Spans
    rows: Spans

    def has(self, row: int, column: int) -> bool:
        return row in range(len(self.rows)) and column in range(len(self.columns))

    def window(self, row: int, column: int) -> Box:
        (left, right), (bottom, top) = self.columns[column], self.rows[row]
        return Box(left, bottom, right, top)

    def register_marks(self) -> tuple[Point, ...]:
        upright = {(x, y) for x in _seams(self.columns) for y in _stations(self.rows)}
        level = {(x, y) for y in _seams(self.rows) for x in _stations(self.columns)}
        return tuple(sorted(upright | level))


def _seams(spans: Spans) -> tuple[float, ...]:
    """Middles of the strips that neighbours share."""
    ordered = sorted(spans)
    return tuple((here[1] + after[0]) / 2 for here, after in itertools.pairwise(ordered))


def _stations(spans: Spans) -> tuple[float, ...]:
    """Where marks stand along a seam: near both ends, at every crossing seam, and half way between."""
    ordered = sorted(spans)
    inset = min(OVERLAP_MM / 2, (ordered[-1][1] - ordered[0][0]) / 4)
    ends = sorted({ordered[0][0] + inset, ordered[-1][1] - inset, *_seams(spans)})
    return tuple(sorted({*ends, *((a + b) / 2 for a, b in itertools.pairwise(ends))}))


def _tile(drawing: Drawing, place: tuple[int, int], grid: _Grid) -> Tile:
    window = grid.window(*place)
    shown = tuple(point for point in grid.register_marks() if _inside(point, window))
    label = tile_label(*place)
    return Tile(label, *place, window, shown, _page(drawing, window, label, (shown, _foot(place, grid))))


def _page(drawing: Drawing, window: Box, label: str, extras: tuple[tuple[Point, ...], tuple[Mark, ...]]) -> Drawing:
    """The window over a foot; what hangs out of the window is covered."""
    dx, dy = -window.left_mm, FOOT_MM - window.bottom_mm
    kept = (Layer(layer.name, translated(_within(layer.marks, window), dx, dy)) for layer in drawing.layers)
    crosses = translated(_crosses(extras[0]), dx, dy)
    register = Layer("register", (*_foot_cover(window), *crosses, *_window_edge(window), *extras[1]))
    return replace(
        drawing, key=f"{drawing.key}-{label.lower()}", template=True, width_mm=max(window.width_mm, SMALLEST_PAGE_MM),
        height_mm=window.height_mm + FOOT_MM, layers=(*(layer for layer in kept if layer.marks), register),
        origin_mm=(drawing.origin_mm[0] + dx, drawing.origin_mm[1] + dy),
    )


def tile_label(row: int, column: int) -> str:
    """A1, A2, ... by column; A, B, ... Z, AA, ... by row."""
    letters, rest = "", row + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return f"{letters}{column + 1}"


def _inside(point: Point, box: Box) -> bool:
    return box.left_mm <= point[0] <= box.right_mm and box.bottom_mm <= point[1] <= box.top_mm


def _within(marks: tuple[Mark, ...], window: Box) -> tuple[Mark, ...]:
    return tuple(mark for mark in marks if (box := mark_bounds(mark)) is not None and box.touches(window))


def _crosses(points: tuple[Point, ...]) -> tuple[Mark, ...]:
    return tuple(mark for point in points for mark in _cross(point))


def _cross(point: Point, arm_mm: float = 3.0) -> tuple[Mark, ...]:
    x, y = point
    level = Polyline(((x - arm_mm, y), (x + arm_mm, y)), THIN)
    upright = Polyline(((x, y - arm_mm), (x, y + arm_mm)), THIN)
    return (Circle(point, arm_mm / 2, THIN), level, upright)


def _window_edge(window: Box) -> tuple[Mark, ...]:
    w, h = window.width_mm, window.height_mm
    frame = ((0.0, FOOT_MM), (w, FOOT_MM), (w, FOOT_MM + h), (0.0, FOOT_MM + h))
    return (Polyline(frame, Ink("dimension", "dotted"), closed=True),)


def _foot_cover(window: Box) -> tuple[Mark, ...]:
    """Paper over what hangs out of the window: into the foot, and to the right of a narrow window."""
    w, h, wide = window.width_mm, window.height_mm, max(window.width_mm, SMALLEST_PAGE_MM)
    blank = Ink(fill="paper", stroked=False)
    foot = Polyline(((0.0, 0.0), (wide, 0.0), (wide, FOOT_MM), (0.0, FOOT_MM)), blank, closed=True)
    side = Polyline(((w, FOOT_MM), (wide, FOOT_MM), (wide, FOOT_MM + h), (w, FOOT_MM + h)), blank, closed=True)
    return (foot, side) if wide > w else (foot,)


def _foot(place: tuple[int, int], grid: _Grid) -> tuple[Mark, ...]:
    label = tile_label(*place)
    words = _joins(place, grid)
    return (*check_bar((0.0, 4.0)), Text((0.0, FOOT_MM - 4.2), label, size=4, anchor="sw", bold=True),
            Text((12.0, FOOT_MM - 4.2), words, size=1, anchor="sw"))


def _joins(place: tuple[int, int], grid: _Grid) -> str:
    """Which pages meet this one, and how."""
    row, column = place
    count = len(grid.rows) * len(grid.columns)
    if count == 1:
        return "The only page: true size."
    sides = {"to the left": (0, -1), "to the right": (0, 1), "above": (-1, 0), "below": (1, 0)}
    beside = ((side, row + down, column + across) for side, (down, across) in sides.items())
    words = [f"{tile_label(r, c)} {side}" for side, r, c in beside if grid.has(r, c)]
    return f"One of {count} pages. Lay cross on cross: {', '.join(words)}."


def check_bar(at_mm: Point, length_mm: float = CHECK_BAR_MM) -> tuple[Mark, ...]:
    """A bar to lay a ruler on: exactly this long from outer edge to outer edge, ticked every 10 mm.

    Parameters
    ----------
    at_mm : Point
        Its left end.
    length_mm : float
        Its length on paper [mm], > 0.
    Returns
    -------
    tuple of Mark
        A filled box without an outline (so that no line width adds to its length), ticks, and a sentence.
    """
    x, y = at_mm
    corners = ((x, y), (x + length_mm, y), (x + length_mm, y + 1.5), (x, y + 1.5))
    box = Polyline(corners, Ink(fill="ink", stroked=False), closed=True)
    ticks = tuple(Polyline(((x + k, y - 1.5), (x + k, y)), THIN) for k in range(10, int(length_mm), 10))
    words = f"This bar is {length_mm:g} mm long. If your ruler disagrees, print again without scaling."
    return (box, *ticks, Text((x, y - 3.6), words, size=1, anchor="sw"))
