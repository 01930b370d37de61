"""The part of a plane in which leads and fibres may lie: keep-outs, clearance, bend radius."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange
from rushlight.geometry.outline import (
    FloatArray,
    OutlineTrouble,
    Point,
    Points,
    Shape,
    outline_trouble,
)

QUARTER_SEGMENTS = 12
"""Chords to a quarter turn: 7.5 degrees each, and never more than 11.25 where a turn is not a whole number of them."""


def widest_chord_rad(chords: int) -> float:
    """The widest chord [rad] that the polygon library lays on a round join (it rounds the count of chords)."""
    return 1.5 * math.pi / 2 / chords


WIDEST_CHORD_RAD = widest_chord_rad(QUARTER_SEGMENTS)
"""The widest chord where bends matter."""

EASE_MM = 1e-6
"""Room given back so that a point on the edge counts as inside in floating-point numbers."""


KEPT_AREAS = 256
"""Prepared regions that are kept between questions."""


@dataclass(frozen=True, slots=True)
class KeepOut:
    """A named region in which nothing may run or sit."""

    name: str
    points_mm: Points


@dataclass(frozen=True, slots=True)
class Piece:
    """One connected piece of free space, with a point well inside it."""

    shape: Shape
    area_mm2: float
    inside_mm: Point


@dataclass(frozen=True, slots=True)
class FreeSpace:
    """Where leads may lie on one part.

    `raw` is the outline less the keep-outs; `pieces` (largest first) keep the clearance and the bend
    radius as well. More than one piece means that leads cannot pass between them: tell the user.
    With any trouble there are no pieces, so that nothing is routed over a keep-out that could not be read.
    """

    raw: tuple[Shape, ...]
    pieces: tuple[Piece, ...]
    margin_mm: float
    bend_radius_mm: float
    clearance_mm: float
    keep_outs: tuple[KeepOut, ...]
    troubles: tuple[OutlineTrouble, ...]


def free_space(
    outline_mm: Sequence[Sequence[float]],
    keep_outs: Sequence[KeepOut] = (),
    *,
    margin_mm: float,
    bend_radius_mm: float = 0.0,
    chords: int = QUARTER_SEGMENTS,
    name: str = "outline",
) -> FreeSpace:
    """Outline shrunk and keep-outs grown by the margin, with corners rounded to the bend radius.

    Parameters
    ----------
    outline_mm : sequence of (x, y)
        The part's outline [mm].
    keep_outs : sequence of KeepOut
        Regions where nothing may lie; they may overlap each other and the outline.
    margin_mm : float
        Clearance from outline and keep-outs [mm], 0 or more.
    bend_radius_mm : float
        Least radius of a bend round a corner [mm], 0 or more.
    chords : int
        Chords to a quarter turn of a round corner, 1 or more. Few are quick, and enough where no bend is measured:
        the clearance holds whatever their number.
    name : str
        The part's name for texts.
    Returns
    -------
    FreeSpace
        Connected pieces, largest first, the clearance measured on the result, and any troubles.
    Raises
    ------
    OutOfRange
        If the margin or the radius is negative or not finite, or there are no chords.
    Notes
    -----
    Joins are round: the clearance m is grown to m/cos(c/2) with c the widest chord, so that chords keep m; then
    the clearance is measured and any shortfall is grown again. Each corner that a lead could bend round
    gets a disc of the bend radius R whose centre lies inside the obstacle, at most R - m behind the corner, so that a
    taut lead never bends tighter than R. This forbids less than growing everything by R: a gap between two
    square-cornered walls stays open down to 2 m + 0.6 (R - m), not 2 R.
    """
    for label, value in (("margin_mm", margin_mm), ("bend_radius_mm", bend_radius_mm)):
        if not (math.isfinite(value) and value >= 0):
            raise OutOfRange(label, value, "0 or more, finite")
    if chords < 1:
        raise OutOfRange("chords", chords, "1 or more")
    troubles = _all_troubles(outline_mm, keep_outs, name)
    kept = tuple(keep_outs)
    if troubles:
        return FreeSpace((), (), margin_mm, bend_radius_mm, 0.0, kept, troubles)
    raw = _raw_geometry(outline_mm, kept)
    free, clearance = _with_clearance(raw, margin_mm, bend_radius_mm, chords)
    return FreeSpace(_shapes(raw), _pieces(free), margin_mm, bend_radius_mm, clearance, kept, ())


def contains(shapes: Sequence[Shape], points_mm: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    """Whether each point lies in, or within a millionth of a millimetre of, the region.

    Parameters
    ----------
    shapes : sequence of Shape
        The region.
    points_mm : array, shape (n, 2)
        Points [mm].
    Returns
    -------
    array of bool, shape (n,)
    """
    return distance_to_region_mm(shapes, points_mm) <= EASE_MM


def distance_to_region_mm(shapes: Sequence[Shape], points_mm: npt.ArrayLike) -> FloatArray:
    """Distance of each point from the region [mm]; 0 inside, infinite for an empty region.

    Parameters
    ----------
    shapes : sequence of Shape
        The region.
    points_mm : array, shape (n, 2)
        Points [mm].
    Returns
    -------
    array, shape (n,)
        Distances [mm].
    """
    import shapely

    xy = np.asarray(points_mm, dtype=float).reshape(-1, 2)
    if not shapes:
        return np.full(len(xy), math.inf)
    return np.asarray(shapely.distance(geometry(shapes), shapely.points(xy)), dtype=float)


def distance_to_edge_mm(shapes: Sequence[Shape], points_mm: npt.ArrayLike) -> FloatArray:
    """Distance of each point from the nearest edge of the region [mm]: positive inside, negative outside.

    Parameters
    ----------
    shapes : sequence of Shape
        The region, not empty.
    points_mm : array, shape (n, 2)
        Points [mm].
    Returns
    -------
    array, shape (n,)
        Signed distances [mm].
    """
    import shapely

    xy = np.asarray(points_mm, dtype=float).reshape(-1, 2)
    area = geometry(shapes)
    dots = shapely.points(xy)
    sign = np.where(shapely.covers(area, dots), 1.0, -1.0)
    return np.asarray(sign * shapely.distance(shapely.boundary(area), dots), dtype=float)


def geometry(shapes: Sequence[Shape]) -> Any:
    """The region as one prepared shapely geometry."""
    return _geometry(tuple(shapes))


@lru_cache(maxsize=KEPT_AREAS)
def _geometry(shapes: tuple[Shape, ...]) -> Any:
    """Kept, because the same few regions are asked about again and again, and building one is slow."""
    import shapely

    polygons = [shapely.Polygon(s.exterior_mm, s.holes_mm) for s in shapes]
    whole = polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)
    shapely.prepare(whole)
    return whole


@lru_cache(maxsize=KEPT_AREAS)
def allowed_area(shapes: tuple[Shape, ...]) -> Any:
    """The region grown by a hair (mitred) as one prepared shapely geometry: what lies on its edge lies inside."""
    import shapely

    grown = shapely.buffer(geometry(shapes), EASE_MM, join_style="mitre")
    shapely.prepare(grown)
    return grown


def eased(shapes: Sequence[Shape]) -> tuple[Shape, ...]:
    """The region grown by a hair (mitred), so that what lies on its edge lies inside."""
    return _shapes(allowed_area(tuple(shapes)))


def nearest_edge_mm(shapes: Sequence[Shape], point_mm: Point) -> Point:
    """The point on the edges of shapes that is nearest to a place.

    Parameters
    ----------
    shapes : sequence of Shape
        At least one shape.
    point_mm : (x, y)
        The place [mm].
    Returns
    -------
    (x, y)
        Foot of the perpendicular on the nearest edge, or its nearest corner [mm].
    """
    edges = np.concatenate([edges_mm(shape) for shape in shapes])
    start, span = edges[:, 0], edges[:, 1] - edges[:, 0]
    square = np.maximum(np.sum(span**2, axis=1), 1e-300)
    along = np.clip(np.sum((np.asarray(point_mm) - start) * span, axis=1) / square, 0.0, 1.0)
    feet = start + along[:, None] * span
    best = feet[np.argmin(np.hypot(*(feet - np.asarray(point_mm)).T))]
    return (float(best[0]), float(best[1]))


def edges_mm(shape: Shape) -> FloatArray:
    """Every edge of a shape as start and end [mm], shape (n, 2, 2)."""
    rings = [np.asarray(ring, dtype=float) for ring in (shape.exterior_mm, *shape.holes_mm)]
    return np.concatenate([np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings])


def _all_troubles(
    outline: Sequence[Sequence[float]], keep_outs: Sequence[KeepOut], name: str
) -> tuple[OutlineTrouble, ...]:
    found = [outline_trouble(outline, name=name)]
    found += [outline_trouble(k.points_mm, name=f"{name}, keep-out '{k.name}'") for k in keep_outs]
    return tuple(trouble for trouble in found if trouble is not None)


# --- growing ------------------------------------------------------------------------------------


def _raw_geometry(outline: Sequence[Sequence[float]], keep_outs: Sequence[KeepOut]) -> Any:
    import shapely

    area = shapely.Polygon([(float(p[0]), float(p[1])) for p in outline])
    if not keep_outs:
        return area
    return shapely.difference(area, shapely.union_all([shapely.Polygon(k.points_mm) for k in keep_outs]))


def _with_clearance(raw: Any, margin_mm: float, bend_radius_mm: float, chords: int) -> tuple[Any, float]:
    """Free space whose clearance was measured, not believed: any shortfall is grown again."""
    import shapely

    extra = 0.0
    for _ in range(4):
        free = _shrunk(raw, margin_mm + extra, _Round(margin_mm, max(bend_radius_mm, 0.0), chords))
        if free.is_empty or margin_mm == 0:
            return free, 0.0
        clearance = float(shapely.distance(free, shapely.boundary(raw)))
        if clearance >= margin_mm:
            break
        extra += (margin_mm - clearance) * 1.01
    return free, clearance


@dataclass(frozen=True, slots=True)
class _Round:
    """What corners are rounded with."""

    margin_mm: float
    bend_radius_mm: float
    chords: int


def _shrunk(raw: Any, grow_mm: float, corner: _Round) -> Any:
    import shapely

    radius_mm = corner.bend_radius_mm
    if radius_mm <= 1.02 * corner.margin_mm:  # as good as the margin: one growing does both
        grow_mm, radius_mm = max(grow_mm, radius_mm), 0.0
    grown = grow_mm / math.cos(widest_chord_rad(corner.chords) / 2) + EASE_MM if grow_mm > 0 else 0.0
    free = shapely.buffer(raw, -grown, quad_segs=corner.chords, join_style="round") if grow_mm > 0 else raw
    if not radius_mm or free.is_empty:
        return free
    return shapely.difference(free, _corner_discs(raw, radius_mm, grown, corner.chords))


def _corner_discs(raw: Any, radius_mm: float, grown_mm: float, chords: int) -> Any:
    """A disc behind every corner that a taut lead could bend round; it covers what growing rounded there."""
    import shapely

    corners, inward = _reflex_corners(_shapes(raw))
    if not len(corners):
        return shapely.Polygon()
    depth = np.minimum(radius_mm - grown_mm, _depth_behind(raw, corners, inward, 2 * radius_mm) / 2)
    disc = radius_mm / math.cos(math.pi / 4 / chords) + EASE_MM
    centres = shapely.points(corners + inward * depth[:, None])
    return shapely.union_all(shapely.buffer(centres, disc, quad_segs=chords))


def _reflex_corners(shapes: Sequence[Shape]) -> tuple[FloatArray, FloatArray]:
    """Corners that stick into the free space, and the unit direction from each into its obstacle."""
    spots, inward = [np.empty((0, 2))], [np.empty((0, 2))]
    for shape in shapes:
        for ring in (shape.exterior_mm, *shape.holes_mm):
            xy = np.asarray(ring, dtype=float)
            back, ahead = _unit(np.roll(xy, 1, axis=0) - xy), _unit(np.roll(xy, -1, axis=0) - xy)
            turn = -back[:, 0] * ahead[:, 1] + back[:, 1] * ahead[:, 0]
            # Into the obstacle: between the two edges, which for a reflex corner is the side of the obstacle.
            reflex = turn < -1e-9
            spots.append(xy[reflex])
            inward.append(_unit(back[reflex] + ahead[reflex]))
    return np.concatenate(spots), np.concatenate(inward)


def _unit(vectors: FloatArray) -> FloatArray:
    return np.asarray(vectors / np.hypot(vectors[:, 0], vectors[:, 1])[:, None], dtype=float)


def _depth_behind(raw: Any, corners: FloatArray, inward: FloatArray, reach_mm: float) -> FloatArray:
    """How far each obstacle reaches behind its corner, up to `reach_mm`."""
    import shapely

    start = corners + 1e-4 * inward  # off the corner itself
    rays = shapely.linestrings(np.stack([start, corners + reach_mm * inward], axis=1))
    hits = shapely.intersection(rays, shapely.boundary(raw))
    away = np.asarray(shapely.distance(shapely.points(corners), hits), dtype=float)
    return np.where(np.isnan(away), reach_mm, away)


# --- plain shapes -------------------------------------------------------------------------------


def _polygons(area: Any) -> list[Any]:
    import shapely

    parts = shapely.get_parts(area)
    kept = [p for p in parts if p.geom_type == "Polygon" and p.area > 1e-6]
    return [shapely.orient_polygons(p) for p in kept]


def _ring(ring: Any) -> Points:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


def _shape(polygon: Any) -> Shape:
    return Shape(_ring(polygon.exterior), tuple(_ring(hole) for hole in polygon.interiors))


def _shapes(area: Any) -> tuple[Shape, ...]:
    return tuple(_shape(p) for p in _polygons(area))


def _pieces(area: Any) -> tuple[Piece, ...]:
    ranked = sorted(_polygons(area), key=lambda p: (-p.area, p.bounds))
    spots = [p.representative_point() for p in ranked]
    return tuple(
        Piece(_shape(p), float(p.area), (float(s.x), float(s.y))) for p, s in zip(ranked, spots, strict=True)
    )
