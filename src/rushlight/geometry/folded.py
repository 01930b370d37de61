"""Flat parts in space: how they stand on one another, how their walls fold up, what shadow they throw on a flat ground.

A frame is a 4 x 4 matrix from a part's drawing (x, y, 0; z towards whoever looks at the drawing) to the drawing of the
part on which it stands.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.geometry.outline import Point
from rushlight.geometry.shadow import FAR
from rushlight.units import checked

Frame = NDArray[np.float64]

CUT_MM = 0.01
"""A fold is drawn out this far at both ends, so that it cuts an outline that it only just meets."""

EDGE_ON = 1e-6
"""A shadow of less area [mm2] is that of a sheet seen edge on."""


@dataclass(frozen=True, slots=True)
class FoldLine:
    """A fold: its line on the drawing, how far it is folded, and whether towards whoever looks at the drawing."""

    from_mm: Point
    to_mm: Point
    angle_deg: float
    to_viewer: bool


@dataclass(frozen=True, slots=True)
class Panel:
    """A flat piece of a part: what it covers on the drawing, and the frame that folds it up."""

    area: Any
    frame: Frame


def standing_frame(
    points_mm: Sequence[Point], at_mm: Sequence[Point], *, above_mm: float = 0.0, up_deg: float = 90.0, up: float = 1.0
) -> Frame:
    """The frame of a part that stands on another with two of its points.

    Parameters
    ----------
    points_mm : two of (x, y)
        Points of the part's own drawing [mm].
    at_mm : two of (x, y)
        Where they lie on the drawing of what it stands on [mm].
    above_mm : float
        Height of both over that [mm].
    up_deg : float
        How far it is turned up about their line: 0 lies flat the same way round, 90 is upright, 180 folded over [deg].
    up : float
        1 where heights count towards whoever looks at that drawing, -1 away.
    Returns
    -------
    array (4, 4)
        The first point lies exactly where it is said, the second in its direction.
    Raises
    ------
    OutOfRange
        If two points are one.
    Source
    ------
    A rigid body by two points and an angle; no source needed.
    """
    (own, own_left), (along, left) = _way(points_mm), _way(at_mm)
    z = np.array([0.0, 0.0, up])
    turn = math.radians(up_deg)
    first = np.array([*along, 0.0])
    second = math.cos(turn) * np.array([*left, 0.0]) + math.sin(turn) * z
    space = np.stack([first, second, np.cross(first, second)], axis=1)
    flat = np.array([[*own, 0.0], [*own_left, 0.0], [0.0, 0.0, 1.0]])
    frame = np.eye(4)
    frame[:3, :3] = space @ flat
    start = np.array([*at_mm[0], up * above_mm])
    frame[:3, 3] = start - frame[:3, :3] @ np.array([*points_mm[0], 0.0])
    return frame


def _way(points_mm: Sequence[Point]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Unit vector from the first to the second point, and the one to its left."""
    by = np.asarray(points_mm[1], dtype=float) - np.asarray(points_mm[0], dtype=float)
    unit = by / checked("distance of the two points (mm)", float(np.hypot(*by)), 0.0, above=True)
    return unit, np.array([-unit[1], unit[0]])


def turned(axis_at: Sequence[float], axis: Sequence[float], turn_deg: float) -> Frame:
    """A turn about an axis in space, by the right hand.

    Parameters
    ----------
    axis_at, axis : (x, y, z)
        A point of the axis [mm] and its direction.
    turn_deg : float
        Angle [deg].
    Returns
    -------
    array (4, 4)
        The frame.
    Source
    ------
    Rodrigues' formula.
    """
    k = np.asarray(axis, dtype=float) / np.linalg.norm(axis)
    cross = np.array([[0.0, -k[2], k[1]], [k[2], 0.0, -k[0]], [-k[1], k[0], 0.0]])
    turn = math.radians(turn_deg)
    frame = np.eye(4)
    frame[:3, :3] += math.sin(turn) * cross + (1.0 - math.cos(turn)) * cross @ cross
    start = np.asarray(axis_at, dtype=float)
    frame[:3, 3] = start - frame[:3, :3] @ start
    return frame


def moved_by(frame: Frame, points: Any) -> NDArray[np.float64]:
    """Points (n, 2 or 3) of a drawing through a frame, shape (n, 3)."""
    held = np.atleast_2d(np.asarray(points, dtype=float))
    if held.shape[1] == 2:
        held = np.column_stack([held, np.zeros(len(held))])
    return np.asarray(held @ frame[:3, :3].T + frame[:3, 3])


# --- folds ---------------------------------------------------------------------------------------------------------


def folded(
    outline_mm: Sequence[Point], folds: Sequence[FoldLine], *, base_at: Point | None = None
) -> tuple[Panel, ...]:
    """The flat pieces of a part that is drawn folded flat, the one that stays as drawn first.

    Parameters
    ----------
    outline_mm : sequence of (x, y)
        The part's outline [mm].
    folds : sequence of FoldLine
        Where it is folded.
    base_at : (x, y), optional
        A point of the piece that stays; the largest without it.
    Returns
    -------
    tuple of Panel
        Each with all turns on the way from the first; a fold that cuts nothing off changes nothing.
    Source
    ------
    Turns about fold lines one after another, from piece to neighbour; no source needed.
    """
    whole = shapely.make_valid(shapely.Polygon(outline_mm))
    pieces = _cut(whole, folds)
    base = _nearest(pieces, base_at) if base_at else int(np.argmax([piece.area for piece in pieces]))
    frames: dict[int, Frame] = {base: np.eye(4)}
    waiting = [base]
    while waiting:
        at = waiting.pop(0)
        for other in range(len(pieces)):
            fold = _between(pieces[at], pieces[other], folds) if other not in frames else None
            if fold is not None:
                frames[other] = frames[at] @ _fold_frame(fold, pieces[other])
                waiting.append(other)
    return tuple(Panel(pieces[k], frames[k]) for k in frames)


def panel_at(panels: Sequence[Panel], at_mm: Point) -> int:
    """Which piece a point of the drawing lies on, or nearest to."""
    return _nearest([panel.area for panel in panels], at_mm)


def _nearest(pieces: Sequence[Any], at_mm: Point) -> int:
    return int(np.argmin([piece.distance(shapely.Point(at_mm)) for piece in pieces]))


def _cut(whole: Any, folds: Sequence[FoldLine]) -> list[Any]:
    if not folds:
        return [whole]
    lines = [whole.boundary, *(_drawn_out(fold) for fold in folds)]
    made = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(lines))))
    return [piece for piece in made if whole.contains(piece.representative_point())] or [whole]


def _drawn_out(fold: FoldLine) -> Any:
    unit, _ = _way((fold.from_mm, fold.to_mm))
    return shapely.LineString([np.asarray(fold.from_mm) - CUT_MM * unit, np.asarray(fold.to_mm) + CUT_MM * unit])


def _between(a: Any, b: Any, folds: Sequence[FoldLine]) -> FoldLine | None:
    """The fold on which two pieces meet."""
    shared = a.intersection(b)
    if shared.length < 10 * CUT_MM:
        return None
    middle = shared.centroid
    near = min(folds, key=lambda fold: _drawn_out(fold).distance(middle))
    return near if _drawn_out(near).distance(middle) < CUT_MM else None


def _fold_frame(fold: FoldLine, piece: Any) -> Frame:
    """The turn of a piece about its fold, towards the viewer or away."""
    unit, left = _way((fold.from_mm, fold.to_mm))
    centre = piece.representative_point()
    side = math.copysign(1.0, float(np.dot(np.array([centre.x, centre.y]) - np.asarray(fold.from_mm), left)))
    sign = side * (1.0 if fold.to_viewer else -1.0)
    return turned((*fold.from_mm, 0.0), (*unit, 0.0), sign * fold.angle_deg)


# --- shadows -------------------------------------------------------------------------------------------------------


def sheet_shadow(area: Any, frame: Frame, *, foot_mm: Point, lamp_mm: float) -> Any:
    """Ground that a point lamp does not reach because a thin flat sheet stands or hangs there, at any slant.

    Parameters
    ----------
    area : shapely geometry
        The sheet on its own drawing [mm], with holes where light gets through.
    frame : array (4, 4)
        From that drawing to the ground's, heights over the ground as z.
    foot_mm : (x, y)
        Point of the ground straight below the lamp [mm].
    lamp_mm : float
        The lamp's height [mm], more than 0.
    Returns
    -------
    shapely geometry
        The shadow, with holes; empty where the sheet lies below the ground, no lower than the lamp, or edge on to it.
        What comes nearer to the lamp's height than a FAR-th of it is left out: its shadow lies FAR times as far.
    Raises
    ------
    OutOfRange
        If the height is not above 0.
    Notes
    -----
    A point q at the height z lands at f + (q - f) h / (h - z), so that a flat sheet's image is that of its edges.
    Source
    ------
    Central projection.
    """
    checked("height of the lamp (mm)", lamp_mm, 0.0, above=True)
    rise = (float(frame[2, 0]), float(frame[2, 1]), float(frame[2, 3]))
    above = _half(area, rise)
    between = _half(above, (-rise[0], -rise[1], lamp_mm * (1.0 - 1.0 / FAR) - rise[2]))
    if between.is_empty:
        return shapely.Polygon()
    foot = np.asarray(foot_mm, dtype=float)

    def cast(flat: NDArray[np.float64]) -> NDArray[np.float64]:
        spots = moved_by(frame, flat)
        return np.asarray(foot + (spots[:, :2] - foot) * (lamp_mm / (lamp_mm - spots[:, 2:])))

    shadow = shapely.transform(between, cast)
    return shapely.make_valid(shadow) if shadow.area > EDGE_ON else shapely.Polygon()


def _half(area: Any, plane: tuple[float, float, float]) -> Any:
    """What of an area lies where a x + b y + c is 0 or more."""
    a, b, c = plane
    steep = math.hypot(a, b)
    if area.is_empty or steep < 1e-12:
        return area if c >= 0.0 or area.is_empty else shapely.Polygon()
    x0, y0, x1, y1 = area.bounds
    middle = np.array([(x0 + x1) / 2, (y0 + y1) / 2])
    up = np.array([a, b]) / steep
    away = (a * middle[0] + b * middle[1] + c) / steep
    reach = abs(away) + 2.0 * math.hypot(x1 - x0, y1 - y0) + 1.0
    along = reach * np.array([-up[1], up[0]])
    on = middle - away * up
    kept = shapely.Polygon([on - along, on + along, on + along + 2 * reach * up, on - along + 2 * reach * up])
    return area.intersection(kept)
