"""A picture as a gauge: how its pixels become a part's millimetres, how well, and what the camera's place adds."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange
from rushlight.geometry.homography import FloatArray, Homography, NoFit, fit_homography, pixel_slopes

Matrix = tuple[tuple[float, float, float], ...]

DRILL_MM, PLAN_MM = 0.3, 1.0
"""How far a place may be off for drilling through a drawing laid on the part, and for planning leads and lengths: a
judgement (a fibre's hole is 0.3 to 1 mm wide), no source."""

FILM_DIAGONAL_MM = math.hypot(36.0, 24.0)
"""Diagonal of the 35 mm film frame."""


@dataclass(frozen=True, slots=True)
class Residual:
    """What the points disagree by, in pixels of the picture and in mm of the part; `spare` counts the numbers left
    over by the fit, `worst_point` from 1."""

    rms_px: float
    worst_px: float
    rms_mm: float
    worst_mm: float
    worst_point: int
    spare: int


@dataclass(frozen=True, slots=True)
class Gauge:
    """The map from picture points to the part [px to mm], row by row, turned; `residual` is None where the points
    are just enough, for then they always agree."""

    matrix: Matrix
    pixels_px: tuple[tuple[float, float], ...]
    residual: Residual | None


@dataclass(frozen=True, slots=True)
class Camera:
    """Where the camera stood over the part's plane: the point below it, its height, and how far from square on."""

    foot_mm: tuple[float, float]
    height_mm: float
    tilt_deg: float
    stretch: float
    """Width to height of a square on the part as this view would show it; far from 1: width and height confused."""


@dataclass(frozen=True, slots=True)
class Checked:
    """A measured distance as the gauge has it."""

    seen_mm: float
    off_mm: float
    """Seen less measured."""
    click_mm: float
    """What one pixel at both ends makes of it: less than twice that proves nothing."""

    def miss_mm(self, reach_mm: float) -> float:
        """How far the part's far end is off if the whole scale is; 0 where the clicks explain it."""
        told = abs(self.off_mm) > 2 * self.click_mm
        return abs(self.off_mm) / (self.seen_mm - self.off_mm) * reach_mm if told else 0.0


def checked(
    fit: Gauge, ends_px: tuple[tuple[float, float], tuple[float, float]], length_mm: float, *, click_px: float
) -> Checked | None:
    """What a gauge makes of a distance that was measured on the part [mm]; None beyond the picture's horizon."""
    a, b = to_place(fit.matrix, np.array(ends_px))
    seen = float(math.dist(a, b))
    if not math.isfinite(seen):
        return None
    sides = [math.sqrt(sum(v * v for v in mm_per_px(fit.matrix, end)) / 2) for end in ends_px]
    return Checked(seen, seen - length_mm, click_px * math.hypot(*sides))


def fit_gauge(
    pixels_px: Sequence[tuple[float, float]], places_mm: Sequence[tuple[float, float]], *,
    mirrored: bool = False, turned_deg: float = 0.0,
) -> Gauge | NoFit:
    """The map that points of a picture fix.

    Parameters
    ----------
    pixels_px, places_mm : sequence of (x, y)
        The same points on the picture [px, y down] and on the part [mm, y up]: two, or four and more.
    mirrored : bool
        With two points: whether the picture shows the other side. Four and more tell it themselves.
    turned_deg : float
        Turn of the picture round the part's zero, anticlockwise, after the points have laid it.
    Returns
    -------
    Gauge or NoFit
        NoFit for one or three points, equal ones, points on a line, or a folded order.
    Raises
    ------
    OutOfRange
        If the lists differ in length or hold a value that is not finite.
    Notes
    -----
    Two points: the similarity that takes one to the other. Four and more: `fit_homography`.
    """
    if len(pixels_px) != len(places_mm):
        raise OutOfRange("places_mm", f"{len(places_mm)} points", f"as many as on the picture ({len(pixels_px)})")
    if not all(math.isfinite(value) for point in (*pixels_px, *places_mm) for value in point):
        raise OutOfRange("points", "not finite", "finite numbers")
    if len(pixels_px) < 4 and len(pixels_px) != 2:
        return NoFit("too-few-points", f"{len(pixels_px)} points; two fix a scale, four and more an oblique view")
    if len(pixels_px) == 2:
        fit = _similarity(pixels_px, places_mm, mirrored=mirrored)
        return fit if isinstance(fit, NoFit) else Gauge(_turned(fit, turned_deg), tuple(pixels_px), None)
    plane = fit_homography(pixels_px, places_mm)
    if not isinstance(plane, Homography):
        return plane
    return Gauge(_turned(np.array(plane.matrix), turned_deg), tuple(pixels_px), _residual(plane, pixels_px, places_mm))


def to_place(matrix: Matrix, pixels_px: npt.ArrayLike) -> FloatArray:
    """Points of the picture [px] on the part [mm], shape (n, 2); not finite where a point lies on the horizon."""
    lifted = np.column_stack([np.asarray(pixels_px, dtype=float).reshape(-1, 2), np.ones(np.size(pixels_px) // 2)])
    seen = lifted @ np.asarray(matrix).T
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(seen[:, :2] / seen[:, 2:], dtype=float)


def to_pixel(matrix: Matrix, places_mm: npt.ArrayLike) -> FloatArray:
    """Places of the part [mm] on the picture [px], shape (n, 2)."""
    return to_place(_rows(np.linalg.inv(np.asarray(matrix))), places_mm)


def mm_per_px(matrix: Matrix, pixel_px: tuple[float, float]) -> tuple[float, float]:
    """Millimetres that one pixel covers at a point of the picture: along its short way and along its long way.

    Notes
    -----
    Singular values of the map's slopes there; equal for a view square on.
    """
    least, most = sorted(np.linalg.svd(_slopes(np.asarray(matrix), pixel_px), compute_uv=False))
    return float(least), float(most)


def unsure_mm(gauge: Gauge, places_mm: npt.ArrayLike, *, click_px: float = 1.0) -> FloatArray:
    """How far a place read off the picture may lie from the truth, for points placed by hand.

    Parameters
    ----------
    gauge : Gauge
        From `fit_gauge`.
    places_mm : array, shape (n, 2)
        Places on the part.
    click_px : float
        Standard error of each point in x and in y [px], above 0; where the points disagree by more, that counts.
    Returns
    -------
    array, shape (n,)
        Root mean square distance [mm].
    Notes
    -----
    Two points, z = a + t (b - a): slopes of p + (q - p)(z - a)/(b - a) after a and b are 1 - t and t times the scale.
    Four and more: the covariance of the map's eight numbers is click_px^2 (J'J)^-1, carried to the place. The point
    that is read off is itself taken as exact.
    Source
    ------
    R. Hartley, A. Zisserman, Multiple View Geometry (2nd ed. 2004), result 5.10 and section 5.2.
    """
    places = np.asarray(places_mm, dtype=float).reshape(-1, 2)
    seen = to_pixel(gauge.matrix, places)
    if len(gauge.pixels_px) == 2:
        a, b = (complex(*pixel) for pixel in gauge.pixels_px)
        along = (seen[:, 0] + 1j * seen[:, 1] - a) / (b - a)
        scale = mm_per_px(gauge.matrix, gauge.pixels_px[0])[0]
        spread = np.sqrt(2 * (np.abs(1 - along) ** 2 + np.abs(along) ** 2))
        return np.asarray(click_px * scale * spread, dtype=float)
    left = gauge.residual
    if left is not None and left.spare > 0:
        seen_error = left.rms_px * math.sqrt(len(gauge.pixels_px) / left.spare)
        click_px = max(click_px, seen_error)
    return click_px * _carried(gauge, places, seen)


def focal_px(film_mm: float, width_px: float, height_px: float) -> float:
    """Focal length in pixels, from the one that a photograph states for 35 mm film.

    Notes
    -----
    The statement compares diagonals: f / diagonal of the picture = f35 / 43.27 mm. A picture that was cropped
    afterwards no longer fulfils it.
    Source
    ------
    CIPA DCG-001, focal length in 35 mm film camera terms (from memory); Exif 2.32, tag FocalLengthIn35mmFilm.
    """
    if not (film_mm > 0 and width_px > 0 and height_px > 0):
        raise OutOfRange("focal length and size", (film_mm, width_px, height_px), "above 0")
    return film_mm * math.hypot(width_px, height_px) / FILM_DIAGONAL_MM


def camera_over(matrix: Matrix, focal: float, middle_px: tuple[float, float]) -> Camera:
    """Where the camera stood, from the map of a plane and the focal length.

    Parameters
    ----------
    matrix : Matrix
        Picture to part [px to mm].
    focal : float
        Focal length [px], above 0.
    middle_px : (x, y)
        The optical axis on the picture: its middle [px].
    Returns
    -------
    Camera
        Foot and height [mm], tilt [deg].
    Raises
    ------
    OutOfRange
        For a focal length that is not positive.
    Notes
    -----
    With K of focal length and middle, K^-1 (mm to px) is proportional to [r1 r2 t]; the mean length of its first two
    columns is the scale, r3 = r1 x r2, and the camera stands at -R't.
    Source
    ------
    Z. Zhang, A flexible new technique for camera calibration, IEEE PAMI 22 (2000), section 3.1.
    """
    if not (math.isfinite(focal) and focal > 0):
        raise OutOfRange("focal length", focal, "above 0, finite")
    lens = np.array([[focal, 0.0, middle_px[0]], [0.0, focal, middle_px[1]], [0.0, 0.0, 1.0]])
    seen = np.linalg.inv(lens) @ np.linalg.inv(np.asarray(matrix))
    first, second = (float(np.linalg.norm(seen[:, n])) for n in (0, 1))
    seen = seen / ((first + second) / 2)
    if seen[2, 2] < 0:
        seen = -seen
    r1, r2, shift = seen.T
    u, _, v = np.linalg.svd(np.column_stack([r1, r2, np.cross(r1, r2)]))
    turn = u @ v
    place = -turn.T @ shift
    tilt = math.degrees(math.acos(min(1.0, abs(float(turn[2, 2])))))
    return Camera((float(place[0]), float(place[1])), abs(float(place[2])), tilt, first / second)


def parallax_mm(camera_mm: float, away_mm: float, above_mm: float) -> float:
    """How far detail above the measured plane seems to be moved outward on it.

    Parameters
    ----------
    camera_mm : float
        Height of the camera over the plane [mm], above 0.
    away_mm : float
        Distance of the detail from the point below the camera [mm].
    above_mm : float
        How far the detail stands above the plane [mm]; below it: negative.
    Returns
    -------
    float
        Shift [mm]; negative: inward.
    Raises
    ------
    OutOfRange
        If the detail is not below the camera.
    Notes
    -----
    Similar triangles: the ray from the camera through the detail meets the plane at away x camera/(camera - above).
    Source
    ------
    Euclid, Elements VI.4; in aerial survey known as relief displacement.
    """
    if not (math.isfinite(camera_mm) and camera_mm > 0 and above_mm < camera_mm):
        raise OutOfRange("camera_mm", camera_mm, "above the plane and above the detail")
    return away_mm * above_mm / (camera_mm - above_mm)


# --- inside -------------------------------------------------------------------------------------------------------


def _similarity(
    pixels: Sequence[tuple[float, float]], places: Sequence[tuple[float, float]], *, mirrored: bool
) -> FloatArray | NoFit:
    """A picture's y points down: the map is a mirrored one unless the picture shows the other side."""
    sign = 1.0 if mirrored else -1.0
    (a, b), (p, q) = (complex(x, sign * y) for x, y in pixels), (complex(*place) for place in places)
    if a == b or p == q:
        return NoFit("equal", "the two points lie at one place")
    turn = (q - p) / (b - a)
    shift = p - turn * a
    return np.array([
        [turn.real, -sign * turn.imag, shift.real], [turn.imag, sign * turn.real, shift.imag], [0.0, 0.0, 1.0],
    ])


def _turned(matrix: FloatArray, turned_deg: float) -> Matrix:
    turn = cmath.exp(1j * math.radians(turned_deg)) if turned_deg else 1
    spin = np.array([[turn.real, -turn.imag, 0.0], [turn.imag, turn.real, 0.0], [0.0, 0.0, 1.0]])
    return _rows(spin @ matrix)


def _rows(matrix: FloatArray) -> Matrix:
    return tuple((float(row[0]), float(row[1]), float(row[2])) for row in matrix)


def _residual(
    plane: Homography, pixels: Sequence[tuple[float, float]], places: Sequence[tuple[float, float]]
) -> Residual | None:
    spare = 2 * len(pixels) - 8
    if spare == 0:
        return None
    off = np.hypot(*(to_pixel(plane.matrix, places) - np.asarray(pixels)).T)
    rms = float(np.sqrt(np.mean(off**2)))
    return Residual(rms, float(off.max()), plane.residual_mm, plane.worst_mm, int(off.argmax()) + 1, spare)


def _slopes(matrix: FloatArray, point: Sequence[float] | FloatArray) -> FloatArray:
    """How the mapped point moves with the point: 2 x 2."""
    lifted = matrix @ np.array([point[0], point[1], 1.0])
    mapped = lifted[:2] / lifted[2]
    return np.asarray((matrix[:2, :2] - np.outer(mapped, matrix[2, :2])) / lifted[2], dtype=float)


def _carried(gauge: Gauge, places: FloatArray, seen: FloatArray) -> FloatArray:
    """Root mean square error of places for points that are off by 1 px, from the covariance of the map (mm to px).

    The map is taken from mm that are shifted and scaled to about 1, so that its eight numbers are of one size.
    """
    matrix = np.asarray(gauge.matrix)
    known = to_place(gauge.matrix, gauge.pixels_px)
    centre, size = known.mean(axis=0), max(float(np.ptp(known, axis=0).max()), 1e-9)
    forth = np.linalg.inv(matrix) @ np.array([[size, 0, centre[0]], [0, size, centre[1]], [0, 0, 1.0]])
    forth = forth / forth[2, 2]
    clicks = np.linalg.pinv(pixel_slopes(forth, (known - centre) / size))
    moved = pixel_slopes(forth, (places - centre) / size).reshape(-1, 2, 8)
    return np.array([
        np.linalg.norm(_slopes(matrix, pixel) @ slopes @ clicks) for pixel, slopes in zip(seen, moved, strict=True)
    ])
