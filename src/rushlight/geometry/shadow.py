"""Shadows on a flat ground: what stands on it, seen from a lamp above."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from rushlight.geometry.outline import Point, Points
from rushlight.units import checked

FAR = 1000.0
"""A thing as tall as the lamp or taller casts its shadow this many times as far as it stands away."""


SLIT_MM = 1e-4
"""Half the width of a slit that joins a hole with the edge round it."""


def shadow_on_ground(
    outline_mm: Sequence[Point], *, tall_mm: float, foot_mm: Point, lamp_mm: float, above_mm: float = 0.0
) -> Any:
    """Ground that a point lamp does not reach because something upright stands there, or hangs there.

    Parameters
    ----------
    outline_mm : sequence of (x, y)
        Corners of what stands on the ground [mm], either way round.
    tall_mm : float
        Its height [mm], more than 0.
    foot_mm : (x, y)
        Point of the ground straight below the lamp [mm].
    lamp_mm : float
        The lamp's height [mm], more than 0.
    above_mm : float
        Free height under it [mm], 0 or more, below its top.
    Returns
    -------
    shapely geometry
        What it stands on and its shadow; empty where the lamp sits in it (its foot inside, no higher than its top), or
        hangs no higher than its underside.
    Raises
    ------
    OutOfRange
        If a height is not above 0, or the free height not below the top.
    Notes
    -----
    A corner q at the height z lands at f + (q - f) h / (h - z): the shadow is the image of the underside (the base, if
    it stands), that of the top and what lies between their edges.
    Source
    ------
    Central projection; similar triangles.
    """
    checked("height of what stands there (mm)", tall_mm, 0.0, above=True)
    checked("height of the lamp (mm)", lamp_mm, 0.0, above=True)
    checked("free height under it (mm)", above_mm, 0.0, tall_mm)
    foot, plan = np.asarray(foot_mm, dtype=float), np.asarray(outline_mm, dtype=float)
    below = lamp_mm <= tall_mm
    if lamp_mm <= above_mm or (below and shapely.make_valid(shapely.Polygon(plan)).contains(shapely.Point(foot))):
        return shapely.Polygon()
    corners = foot + (plan - foot) * min(FAR, lamp_mm / (lamp_mm - above_mm))
    cast = foot + (plan - foot) * (FAR if below else min(FAR, lamp_mm / (lamp_mm - tall_mm)))
    base = shapely.make_valid(shapely.Polygon(corners))
    pieces = [base] if below else [base, shapely.make_valid(shapely.Polygon(cast))]
    for k in range(len(corners)):
        quad = [corners[k - 1], corners[k], cast[k], cast[k - 1]]
        pieces.append(shapely.MultiPoint(quad).convex_hull)
    return shapely.union_all([piece for piece in pieces if piece.area > 0])


def inside(area: Any, x_mm: npt.ArrayLike, y_mm: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    """Whether places lie in an area: a shadow, or a ring of corners."""
    shape = shapely.make_valid(shapely.Polygon(area)) if isinstance(area, tuple) else area
    shapely.prepare(shape)
    x, y = np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float)
    return np.asarray(shapely.contains_xy(shape, x, y), dtype=np.bool_)


def rings_within(area: Any, outline_mm: Sequence[Point]) -> tuple[Points, ...]:
    """The edges of what an area has in common with an outline, a slit to each hole so that none is left."""
    cut = area.intersection(shapely.make_valid(shapely.Polygon(outline_mm)))
    pieces = [whole for piece in shapely.get_parts(cut) if piece.geom_type == "Polygon" for whole in _opened(piece)]
    return tuple(tuple((float(x), float(y)) for x, y in piece.exterior.coords) for piece in pieces)


def _opened(piece: Any) -> list[Any]:
    """A polygon with a slit from each hole to its edge."""
    while piece.interiors:
        hole = shapely.LinearRing(piece.interiors[0])
        others = shapely.union_all([piece.exterior, *piece.interiors[1:]])
        slit = shapely.shortest_line(hole, others)
        if slit.length == 0.0:
            return [piece]
        cut = shapely.get_parts(piece.difference(slit.buffer(SLIT_MM, cap_style="square")))
        piece = max((part for part in cut if part.geom_type == "Polygon"), key=lambda part: part.area)
    return [piece]


def level_lines(
    values: npt.ArrayLike, levels: Sequence[float], *, corner_mm: Point, step_mm: float, within_mm: Sequence[Point] = ()
) -> list[tuple[float, list[Points]]]:
    """Lines of equal value of a map, in millimetres.

    Parameters
    ----------
    values : array (rows, columns)
        The map, rows from below upwards.
    levels : sequence of float
        Values to draw.
    corner_mm : (x, y)
        Place of its first value [mm].
    step_mm : float
        Grid step [mm].
    within_mm : sequence of (x, y)
        Outline to which the lines are cut [mm]; none leaves them whole.
    Returns
    -------
    list of (level, lines)
        In the order of the levels.
    Source
    ------
    contourpy, a general-purpose library.
    """
    from contourpy import contour_generator

    grid = np.asarray(values, dtype=float)
    x = corner_mm[0] + step_mm * np.arange(grid.shape[1])
    y = corner_mm[1] + step_mm * np.arange(grid.shape[0])
    made = contour_generator(x, y, grid)
    edge = shapely.make_valid(shapely.Polygon(within_mm)) if within_mm else None
    return [(level, _cut(made.lines(level), edge)) for level in levels]


def _cut(lines: Sequence[Any], edge: Any) -> list[Points]:
    kept: list[Points] = []
    for line in lines:
        whole = shapely.LineString(line).simplify(0.02)
        left = whole if edge is None else whole.intersection(edge)
        pieces = getattr(left, "geoms", [left])
        kept += [tuple((float(x), float(y)) for x, y in piece.coords) for piece in pieces
                 if piece.geom_type == "LineString" and len(piece.coords) > 1]
    return kept
