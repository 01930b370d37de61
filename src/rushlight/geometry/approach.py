"""Stubs: how a lamp that sits within the clearance reaches free space."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.geometry.outline import FloatArray, Point, Shape, shape_from_outline
from rushlight.geometry.region import (
    FreeSpace,
    allowed_area,
    contains,
    distance_to_region_mm,
    edges_mm,
)


@dataclass(frozen=True, slots=True)
class Approach:
    """The straight stub from a place to the first point where the full clearance holds."""

    legal_mm: Point
    piece: int
    stub_mm: float


@dataclass(frozen=True, slots=True)
class NoApproach:
    """Why a place cannot be reached. `why` is one of: outside, in-keep-out, no-free-space, walled-in."""

    why: str
    text: str
    distance_mm: float


def approach(space: FreeSpace, point_mm: Sequence[float]) -> Approach | NoApproach:
    """The shortest straight stub from a place to free space that crosses no keep-out.

    Parameters
    ----------
    space : FreeSpace
        Free space of the part.
    point_mm : (x, y)
        The place [mm].
    Returns
    -------
    Approach or NoApproach
        A stub of length 0 when the place is legal already; otherwise the stub, or why there is none.
    Notes
    -----
    The nearest point of each edge of free space is tried, nearest first; the first stub that stays within the
    outline and off the keep-outs themselves (not their margins) is taken.
    """
    return approaches(space, [point_mm])[0]


def approaches(space: FreeSpace, points_mm: npt.ArrayLike) -> tuple[Approach | NoApproach, ...]:
    """`approach` for many places at once.

    Parameters
    ----------
    space : FreeSpace
        Free space of the part.
    points_mm : array, shape (n, 2)
        Places [mm].
    Returns
    -------
    tuple of Approach or NoApproach
    """
    xy = np.asarray(points_mm, dtype=float).reshape(-1, 2)
    home = np.full(len(xy), -1)
    for index, piece in reversed(list(enumerate(space.pieces))):
        home[contains([piece.shape], xy)] = index
    lost = _unreachable(space, xy)
    stubs = _Stubs.of(space) if np.any(home < 0) and space.pieces else None
    found: list[Approach | NoApproach] = []
    for (x, y), index, why in zip(xy, home, lost, strict=True):
        if index >= 0:
            found.append(Approach((float(x), float(y)), int(index), 0.0))
        elif why is not None or stubs is None:
            found.append(why or NoApproach("no-free-space", "no free space is left on the part", math.inf))
        else:
            found.append(stubs.nearest(float(x), float(y)))
    return tuple(found)


def _unreachable(space: FreeSpace, xy: FloatArray) -> list[NoApproach | None]:
    """For each place: why no stub may even be tried, or None."""
    inside = contains(space.raw, xy)
    return [None if ok else _why_outside(space, x, y) for ok, (x, y) in zip(inside, xy, strict=True)]


def _why_outside(space: FreeSpace, x: float, y: float) -> NoApproach:
    away = float(distance_to_region_mm(space.raw, [(x, y)])[0])
    for keep_out in space.keep_outs:
        shape = shape_from_outline(keep_out.points_mm)
        if isinstance(shape, Shape) and bool(contains([shape], [(x, y)])[0]):
            text = f"({x:.2f}, {y:.2f}) mm lies in keep-out '{keep_out.name}', {away:.2f} mm from its edge"
            return NoApproach("in-keep-out", text, away)
    return NoApproach("outside", f"({x:.2f}, {y:.2f}) mm lies {away:.2f} mm outside the outline", away)


@dataclass(frozen=True, slots=True)
class _Stubs:
    """Edges of free space and the raw area, made once for many places."""

    start: FloatArray
    span: FloatArray
    piece: npt.NDArray[np.int_]
    allowed: Any

    @classmethod
    def of(cls, space: FreeSpace) -> _Stubs:
        edges = [edges_mm(piece.shape) for piece in space.pieces]
        owner = np.concatenate([np.full(len(e), k) for k, e in enumerate(edges)])
        joined = np.concatenate(edges)
        return cls(joined[:, 0], joined[:, 1] - joined[:, 0], owner, allowed_area(space.raw))

    def nearest(self, x: float, y: float) -> Approach | NoApproach:
        import shapely

        away = np.array([x, y]) - self.start
        square = np.maximum(np.sum(self.span**2, axis=1), 1e-300)
        along = np.clip(np.sum(away * self.span, axis=1) / square, 0.0, 1.0)
        foot = self.start + along[:, None] * self.span
        length = np.hypot(foot[:, 0] - x, foot[:, 1] - y)
        for k in np.argsort(length, kind="stable"):
            if shapely.covers(self.allowed, shapely.LineString([(x, y), foot[k]])):
                legal = (float(foot[k, 0]), float(foot[k, 1]))
                return Approach(legal, int(self.piece[k]), float(length[k]))
        text = f"no straight stub leads from ({x:.2f}, {y:.2f}) mm to free space"
        return NoApproach("walled-in", text, float(length.min()))
