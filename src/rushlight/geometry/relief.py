"""Depth of a part: how much longer a lead on the real surface is than on the flat drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange
from rushlight.geometry.outline import FloatArray
from rushlight.units import Range

UNKNOWN_DEPTH = Range(1.0, 1.15, 1.5)
"""Stretch of a part whose depth nobody measured (a judgement, no source): its routes carry this as slack."""


@dataclass(frozen=True, slots=True)
class Height:
    """A measured height of the surface at a point of the drawing."""

    x_mm: float
    y_mm: float
    height_mm: float


def surface_stretch(string_mm: float, flat_mm: float) -> float:
    """Factor from flat to real length, from a string laid on the surface between two marks.

    Parameters
    ----------
    string_mm : float
        Length of the string [mm], not shorter than the flat distance by more than 2 % (reading error).
    flat_mm : float
        Distance of the two marks on the drawing [mm], above 0.
    Returns
    -------
    float
        Stretch [-], 1 or more.
    Raises
    ------
    OutOfRange
        For lengths that are not positive, a string too short for its marks, or a factor above 5.
    Notes
    -----
    string / flat. One factor for the whole part: exact along that line, an estimate elsewhere.
    Source
    ------
    Definition of a ratio of lengths; no source needed.
    """
    if not (math.isfinite(flat_mm) and flat_mm > 0):
        raise OutOfRange("flat_mm", flat_mm, "above 0, finite")
    if not (math.isfinite(string_mm) and 0.98 * flat_mm <= string_mm <= 5 * flat_mm):
        expected = f"between the flat distance ({flat_mm:g} mm) and five times it"
        raise OutOfRange("string_mm", string_mm, expected)
    return max(1.0, string_mm / flat_mm)


def surface_length_mm(
    points_mm: Sequence[Sequence[float]], heights: Sequence[Height], *, step_mm: float = 1.0
) -> float:
    """Length of a polyline on the surface that passes through measured heights.

    Parameters
    ----------
    points_mm : sequence of (x, y)
        The polyline on the drawing [mm].
    heights : sequence of Height
        One or more measured heights at different points.
    step_mm : float
        The polyline is cut into steps no longer than this [mm], above 0.
    Returns
    -------
    float
        Length in space [mm], never less than the flat length.
    Raises
    ------
    OutOfRange
        Without heights, for two different heights at one point, or for a step that is not positive.
    Notes
    -----
    Heights between the measured points: linear over their Delaunay triangles, beyond them the height of the
    nearest. The length is that of chords no longer than the step, so that it falls short on sharply curved
    surfaces.
    Source
    ------
    Arc length as a sum of chords; linear interpolation on a triangulation (scipy). Checked on a plane and a cylinder.
    """
    if not (math.isfinite(step_mm) and step_mm > 0):
        raise OutOfRange("step_mm", step_mm, "above 0, finite")
    flat = _cut(np.asarray(points_mm, dtype=float).reshape(-1, 2), step_mm)
    if len(flat) < 2:
        return 0.0
    space = np.column_stack([flat, surface_heights_mm(heights, flat)])
    return float(np.sum(np.sqrt(np.sum(np.diff(space, axis=0) ** 2, axis=1))))


def surface_heights_mm(heights: Sequence[Height], points_mm: npt.ArrayLike) -> FloatArray:
    """Heights of the surface at points, between and beyond the measured ones; see `surface_length_mm`.

    Parameters
    ----------
    heights : sequence of Height
        One or more measured heights.
    points_mm : array, shape (n, 2)
        Points of the drawing [mm].
    Returns
    -------
    array, shape (n,)
        Heights [mm].
    Raises
    ------
    OutOfRange
        Without heights, or for two different heights at one point.
    """
    from scipy.interpolate import LinearNDInterpolator, NearestNDInterpolator

    known = _known(heights)
    xy = np.asarray(points_mm, dtype=float).reshape(-1, 2)
    nearest = np.asarray(NearestNDInterpolator(known[:, :2], known[:, 2])(xy), dtype=float)
    if len(known) < 3 or np.linalg.matrix_rank(known[:, :2] - known[0, :2], tol=1e-6) < 2:
        return _along_line(known, xy, nearest)
    inside = np.asarray(LinearNDInterpolator(known[:, :2], known[:, 2])(xy), dtype=float)
    return np.where(np.isnan(inside), nearest, inside)


def _along_line(known: FloatArray, xy: FloatArray, nearest: FloatArray) -> FloatArray:
    """Heights on one line hold across it: linear along, constant beyond both ends."""
    spans = known[:, :2] - known[0, :2]
    far = spans[int(np.argmax(np.hypot(spans[:, 0], spans[:, 1])))]
    if float(np.hypot(*far)) == 0:
        return nearest
    along = spans @ far
    order = np.argsort(along)
    return np.asarray(np.interp((xy - known[0, :2]) @ far, along[order], known[order, 2]), dtype=float)


def _known(heights: Sequence[Height]) -> FloatArray:
    rows = sorted({(h.x_mm, h.y_mm, h.height_mm) for h in heights})
    if not rows or not np.isfinite(rows).all():
        raise OutOfRange("heights", rows or "empty", "at least one height, all finite")
    for a, b in pairwise(rows):
        if a[:2] == b[:2]:
            raise OutOfRange("heights", f"{a[2]} and {b[2]} mm at {a[:2]}", "one height at a point")
    return np.array(rows, dtype=float)


def _cut(points: FloatArray, step_mm: float) -> FloatArray:
    pieces = [points[:1]]
    for a, b in pairwise(points):
        count = max(1, math.ceil(float(np.hypot(*(b - a))) / step_mm - 1e-9))
        pieces.append(a + (b - a) * (np.arange(1, count + 1) / count)[:, None])
    return np.concatenate(pieces)
