"""From a photograph's pixels to a part's millimetres: a homography, or a scale from two points."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange

FloatArray = npt.NDArray[np.float64]

MOST_STEPS = 20
"""Gauss-Newton steps; three or four are usual."""


@dataclass(frozen=True, slots=True)
class Homography:
    """A plane-to-plane map, row by row (last element 1 where possible), with its fit.

    `residual_mm` is the root mean square distance between mapped and given points, `worst_mm` the largest, and
    `worst_point` its number (from 1). Four points fit exactly: their residual of 0 proves nothing.
    """

    matrix: tuple[tuple[float, float, float], ...]
    residual_mm: float
    worst_mm: float
    worst_point: int


@dataclass(frozen=True, slots=True)
class NoFit:
    """Why no homography fits. `why` is one of: too-few-points, on-a-line, folded."""

    why: str
    text: str


def fit_homography(pixels_px: npt.ArrayLike, places_mm: npt.ArrayLike) -> Homography | NoFit:
    """The homography that maps picture points to places on a flat part: least squares of the clicks' pixels.

    Parameters
    ----------
    pixels_px : array, shape (n, 2)
        Points on the picture [px]; a pixel's centre may be a half or a whole number, for all points alike.
    places_mm : array, shape (n, 2)
        Where they are on the part [mm].
    Returns
    -------
    Homography or NoFit
        NoFit with fewer than 4 points, points on one line, or a map that folds the picture between them.
    Raises
    ------
    OutOfRange
        If the arrays differ in length or hold a value that is not finite.
    Notes
    -----
    Normalised direct linear transform: both sets are centred and scaled to a mean distance of sqrt(2), the
    smallest singular vector solves the homogeneous equations. With more than four points, Gauss-Newton steps then
    make the sum of squares of the pixel errors least: what is clicked is unsure, what is typed is taken as true.
    A lens that bends straight lines, and detail above or below the part's plane, are not corrected.
    Source
    ------
    R. Hartley, A. Zisserman, Multiple View Geometry (2nd ed. 2004), algorithms 4.2 and 4.3 with the error in one
    image. Checked in tests/outside/.
    """
    source, target = _pairs(pixels_px, places_mm)
    if len(source) < 4:
        return NoFit("too-few-points", f"{len(source)} point pairs; a homography needs at least 4")
    for label, points in (("picture", source), ("part", target)):
        if _on_lines(points):
            return NoFit("on-a-line", f"all points on the {label}, or all but one, lie on one line; spread them out")
    matrix = _solved(source, target)
    depth = source @ matrix[2, :2] + matrix[2, 2]
    if np.any(depth * depth[0] <= 1e-12 * np.abs(depth).max() * abs(depth[0])):
        return NoFit("folded", "the points are not in the same order on the picture and on the part")
    return _with_residual(_refined(matrix, source, target), source, target)


def apply_homography(homography: Homography, points: npt.ArrayLike, *, inverse: bool = False) -> FloatArray:
    """Map points from the picture to the part, or back.

    Parameters
    ----------
    homography : Homography
        From `fit_homography`.
    points : array, shape (n, 2)
        Points [px], or [mm] for the way back.
    inverse : bool
        True maps from the part to the picture.
    Returns
    -------
    array, shape (n, 2)
        Mapped points [mm], or [px] for the way back.
    Raises
    ------
    OutOfRange
        For a point on the picture's horizon, which has no place on the part.
    """
    matrix = np.asarray(homography.matrix)
    return _mapped(np.linalg.inv(matrix) if inverse else matrix, np.asarray(points, dtype=float).reshape(-1, 2))


def two_point_scale(a_px: tuple[float, float], b_px: tuple[float, float], length_mm: float) -> float:
    """Millimetres to a pixel, from two points with a known distance, for a picture taken square on.

    Parameters
    ----------
    a_px, b_px : (x, y)
        The two points [px], different.
    length_mm : float
        Their distance on the part [mm], above 0.
    Returns
    -------
    float
        Millimetres to one pixel.
    Raises
    ------
    OutOfRange
        For equal points or a length that is not positive.
    Notes
    -----
    length / distance. An error of e pixels in either click changes the scale by e/distance.
    Source
    ------
    Definition of a scale; no source needed.
    """
    apart = math.dist(a_px, b_px)
    if not (math.isfinite(apart) and apart > 0):
        raise OutOfRange("points", (a_px, b_px), "two different points, finite")
    if not (math.isfinite(length_mm) and length_mm > 0):
        raise OutOfRange("length_mm", length_mm, "above 0, finite")
    return length_mm / apart


def _pairs(source: npt.ArrayLike, target: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    a, b = np.asarray(source, dtype=float).reshape(-1, 2), np.asarray(target, dtype=float).reshape(-1, 2)
    if len(a) != len(b):
        raise OutOfRange("places_mm", f"{len(b)} points", f"as many as on the picture ({len(a)})")
    if not (np.isfinite(a).all() and np.isfinite(b).all()):
        raise OutOfRange("points", "not finite", "finite numbers")
    return a, b


def _on_lines(points: FloatArray) -> bool:
    """Whether no four of the points are in general position: all but at most one lie on a line."""
    for skip in range(len(points)):
        rest = np.delete(points, skip, axis=0)
        spread = np.linalg.svd(rest - rest.mean(axis=0), compute_uv=False)
        if spread[-1] <= 1e-6 * max(float(spread[0]), 1e-300):
            return True
    return False


def _normaliser(points: FloatArray) -> FloatArray:
    centre = points.mean(axis=0)
    scale = math.sqrt(2) / float(np.hypot(*(points - centre).T).mean())
    return np.array([[scale, 0, -scale * centre[0]], [0, scale, -scale * centre[1]], [0, 0, 1.0]])


def _solved(source: FloatArray, target: FloatArray) -> FloatArray:
    before, after = _normaliser(source), _normaliser(target)
    a, b = _mapped(before, source), _mapped(after, target)
    ones, none = np.ones(len(a)), np.zeros((len(a), 3))
    here = np.column_stack([a, ones])
    rows = np.concatenate([
        np.column_stack([here, none, -b[:, :1] * here]),
        np.column_stack([none, here, -b[:, 1:] * here]),
    ])  # fmt: skip
    solution = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    matrix = np.linalg.inv(after) @ solution @ before
    size = matrix[2, 2] if abs(matrix[2, 2]) > 1e-12 * np.abs(matrix).max() else np.abs(matrix).max()
    return np.asarray(matrix / size, dtype=float)


def pixel_slopes(to_px: FloatArray, places: FloatArray) -> FloatArray:
    """How pixels move with the eight numbers of a map from places to pixels (its last one held): shape (2 n, 8)."""
    lifted = np.column_stack([places, np.ones(len(places))])
    depth = lifted @ to_px[2]
    here, none = lifted / depth[:, None], np.zeros((len(places), 3))
    seen = (lifted @ to_px[:2].T) / depth[:, None]
    rows = [np.column_stack([here, none, -seen[:, :1] * here[:, :2]]),
            np.column_stack([none, here, -seen[:, 1:] * here[:, :2]])]
    return np.stack(rows, axis=1).reshape(-1, 8)


def _refined(matrix: FloatArray, source: FloatArray, target: FloatArray) -> FloatArray:
    """The map that makes the pixel errors' squares least, from one that is near it; four points are exact already."""
    if len(source) == 4:
        return matrix
    before, after = _normaliser(source), _normaliser(target)
    a, b = _mapped(before, source), _mapped(after, target)
    best = np.linalg.inv(after @ matrix @ np.linalg.inv(before))
    best = best / best[2, 2]  # places are centred, so the middle of the points has a place on the picture
    off = a - _mapped(best, b)
    for _ in range(MOST_STEPS):
        step = np.linalg.lstsq(pixel_slopes(best, b), off.ravel(), rcond=None)[0]
        nearer = best + np.append(step, 0.0).reshape(3, 3)
        left = a - _mapped(nearer, b)
        if not (left**2).sum() < (off**2).sum():
            break
        best, off = nearer, left
    back = np.linalg.inv(after) @ np.linalg.inv(best) @ before
    return np.asarray(back / (back[2, 2] if abs(back[2, 2]) > 1e-12 * np.abs(back).max() else np.abs(back).max()))


def _mapped(matrix: FloatArray, points: FloatArray) -> FloatArray:
    lifted = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    if np.any(np.abs(lifted[:, 2]) < 1e-12):
        raise OutOfRange("points", "on the horizon of the picture", "points on the part")
    return np.asarray(lifted[:, :2] / lifted[:, 2:], dtype=float)


def _with_residual(matrix: FloatArray, source: FloatArray, target: FloatArray) -> Homography:
    off = np.hypot(*(_mapped(matrix, source) - target).T)
    rows = tuple((float(r[0]), float(r[1]), float(r[2])) for r in matrix)
    return Homography(rows, float(np.sqrt(np.mean(off**2))), float(off.max()), int(off.argmax()) + 1)
