"""Labels put where they hide least: a raster of what is drawn, and the cheapest free place near each mark."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rushlight.model.sheet import (
    TEXT_SIZES_MM,
    THIN,
    Arc,
    Band,
    Circle,
    Dimension,
    Ink,
    Mark,
    Picture,
    Point,
    Polyline,
    Text,
    TextSize,
)
from rushlight.sheets.place import Box, mark_bounds, on_circle, text_box_mm

CELL_MM = 0.4
GAPS_MM = (0.3, 1.2, 2.4, 4.0, 6.0, 8.5, 11.5)
WAYS_DEG = (45.0, 90.0, 0.0, 135.0, 315.0, 270.0, 180.0, 225.0, 67.5, 112.5, 22.5, 337.5, 292.5, 247.5, 157.5, 202.5)
WAYS = tuple(on_circle((0.0, 0.0), 1.0, angle) for angle in WAYS_DEG)
"""Directions in which a label is tried, the dearest to the eye first."""

FAR_COST = 1.5
"""What each further millimetre away costs, in cells of clutter."""

LEADER_FROM_MM = 1.0
PLATE_MM = 0.15
NEVER_HIDDEN = 6.0
"""Clutter of this weight (holes, splices, other texts) is never covered by a text's plate."""

MOST_CELLS = 4_000_000


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label asked for: beside a mark of this reach."""

    at_mm: Point
    words: str
    reach_mm: float
    size: TextSize = 1
    bold: bool = False


class Clutter:
    """How much is drawn where: a raster over the drawing's box, filled as marks and labels are put down."""

    def __init__(self, box: Box) -> None:
        self._left, self._bottom = box.left_mm, box.bottom_mm
        self._cell = max(CELL_MM, math.sqrt(max(box.width_mm * box.height_mm, 1e-9) / MOST_CELLS))
        columns, rows = (math.ceil(side / self._cell) + 1 for side in (box.width_mm, box.height_mm))
        self._cost: npt.NDArray[np.float64] = np.zeros((rows, columns))

    def add(self, marks: Iterable[Mark], weight: float = 1.0) -> None:
        """Put marks down: lines by their points, text and pictures by their boxes."""
        for mark in marks:
            if isinstance(mark, Text | Picture | Dimension):
                box = mark_bounds(mark)
                if box:
                    self.fill(box, 20.0 * weight)
            else:
                self._along(_outline_of(mark), weight)

    def fill(self, box: Box, weight: float) -> None:
        """Put a solid box down."""
        rows, columns = self._slices(box)
        self._cost[rows, columns] += weight

    def cost(self, box: Box) -> float:
        """What a label in this box would hide; beyond the drawing costs a little."""
        rows, columns = self._slices(box)
        height, width = self._cost.shape
        outside = (box.left_mm < self._left or box.bottom_mm < self._bottom
                   or box.right_mm > self._left + width * self._cell or box.top_mm > self._bottom + height * self._cell)
        return float(self._cost[rows, columns].sum()) + (6.0 if outside else 0.0)

    def _along(self, points: list[Point], weight: float) -> None:
        if not points:
            return
        line = np.asarray(points, dtype=float)
        steps = np.hypot(*np.diff(line, axis=0).T) if len(line) > 1 else np.zeros(0)
        along = np.concatenate(([0.0], np.cumsum(steps)))
        count = min(int(along[-1] / (self._cell * 0.7)) + 2, 20_000)
        where = np.linspace(0.0, along[-1], count)
        x = ((np.interp(where, along, line[:, 0]) - self._left) / self._cell).astype(int)
        y = ((np.interp(where, along, line[:, 1]) - self._bottom) / self._cell).astype(int)
        inside = (x >= 0) & (y >= 0) & (x < self._cost.shape[1]) & (y < self._cost.shape[0])
        np.maximum.at(self._cost, (y[inside], x[inside]), weight)

    def _slices(self, box: Box) -> tuple[slice, slice]:
        def bounds(low: float, high: float, start: float, most: int) -> slice:
            first = min(max(int((low - start) / self._cell), 0), most)
            return slice(first, min(max(int((high - start) / self._cell) + 1, first), most))

        height, width = self._cost.shape
        return (bounds(box.bottom_mm, box.top_mm, self._bottom, height),
                bounds(box.left_mm, box.right_mm, self._left, width))


def _outline_of(mark: Mark) -> list[Point]:
    if isinstance(mark, Circle):
        return [on_circle(mark.centre_mm, mark.radius_mm, angle) for angle in range(0, 361, 20)]
    if isinstance(mark, Arc):
        sweep = (mark.end_deg - mark.start_deg) % 360.0 or 360.0
        return [on_circle(mark.centre_mm, mark.radius_mm, mark.start_deg + sweep * k / 18) for k in range(19)]
    if isinstance(mark, Polyline):
        return [*mark.points_mm, mark.points_mm[0]] if mark.closed and mark.points_mm else list(mark.points_mm)
    return list(mark.points_mm) if isinstance(mark, Band) else []


def placed_labels(wanted: Iterable[Wanted], clutter: Clutter) -> tuple[Mark, ...]:
    """Each label at its cheapest place, with a hairline to its mark where it stands away from it.

    Parameters
    ----------
    wanted : iterable of Wanted
        In order of right of way.
    clutter : Clutter
        What is drawn already; the labels are added to it.
    Returns
    -------
    tuple of Mark
        Hairlines, plates of bare paper under texts that lie over lines, and texts.
    Notes
    -----
    Sixteen directions at seven distances; the cost is the clutter under the text's box and FAR_COST for each
    millimetre away. Greedy: nothing that is placed moves again.
    """
    marks: list[Mark] = []
    for label in wanted:
        marks += _placed(label, clutter)
    return tuple(marks)


def _placed(label: Wanted, clutter: Clutter) -> list[Mark]:
    width, height = text_box_mm(label.words, TEXT_SIZES_MM[label.size])
    best: tuple[float, Box, float] | None = None
    for gap in GAPS_MM:
        far = FAR_COST * gap
        if best and far >= best[0]:
            break
        for way in WAYS:
            box = _box_at(label, way, gap, (width, height))
            cost = far + clutter.cost(box)
            if best is None or cost < best[0] - 1e-9:
                best = (cost, box, gap)
    assert best is not None
    cost, box, gap = best
    hidden = cost - FAR_COST * gap
    clutter.fill(box, 40.0)
    text = Text((box.left_mm, box.bottom_mm), label.words, size=label.size, anchor="sw", bold=label.bold)
    plate = [_plate(box)] if 0 < hidden < NEVER_HIDDEN else []
    return [*_leader(label, box, gap), *plate, text]


def _plate(box: Box) -> Polyline:
    """Bare paper under a text that lies over lines."""
    around = box.grown(PLATE_MM)
    corners = ((around.left_mm, around.bottom_mm), (around.right_mm, around.bottom_mm),
               (around.right_mm, around.top_mm), (around.left_mm, around.top_mm))
    return Polyline(corners, Ink("dimension", fill="paper", stroked=False), closed=True)


def _box_at(label: Wanted, way: Point, gap_mm: float, size_mm: tuple[float, float]) -> Box:
    """The text's box, its nearest edge `gap_mm` off the mark in that direction."""
    (cos, sin), away = way, label.reach_mm + gap_mm
    x, y = label.at_mm[0] + away * cos, label.at_mm[1] + away * sin
    left = x if cos > 0.39 else x - size_mm[0] if cos < -0.39 else x - size_mm[0] / 2
    low = y if sin > 0.39 else y - size_mm[1] if sin < -0.39 else y - size_mm[1] / 2
    return Box(left, low, left + size_mm[0], low + size_mm[1])


def _leader(label: Wanted, box: Box, gap_mm: float) -> list[Mark]:
    if gap_mm < LEADER_FROM_MM:
        return []
    near = (min(max(label.at_mm[0], box.left_mm), box.right_mm), min(max(label.at_mm[1], box.bottom_mm), box.top_mm))
    distance = math.dist(near, label.at_mm)
    if distance <= label.reach_mm:
        return []
    share = label.reach_mm / distance
    edge = (label.at_mm[0] + (near[0] - label.at_mm[0]) * share, label.at_mm[1] + (near[1] - label.at_mm[1]) * share)
    return [Polyline((edge, near), THIN)]
