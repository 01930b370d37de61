"""How good a picture is as a gauge, as plain data for the screen: numbers of the engine with their words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from rushlight.errors import OutOfRange
from rushlight.geometry.gauge import (
    DRILL_MM,
    PLAN_MM,
    Camera,
    Gauge,
    camera_over,
    checked,
    fit_gauge,
    focal_px,
    mm_per_px,
    parallax_mm,
    to_place,
    unsure_mm,
)
from rushlight.geometry.homography import NoFit
from rushlight.model.place import Point

MOST_POINTS = 400
MOST_CORNERS = 64
CLICK_PX = 1.0
CLOSE_MM = 700.0
"""Nearer than this a photograph bends and shifts what stands up; a judgement, no source."""
SWAPPED = 1.15
USUAL_FILM_MM = 26.0
"""Main lens of most phones, taken only to tell width from height; common practice, no source."""

_WHY = {
    "too-few-points": "Two points fix a scale; four and more also set an oblique view straight.",
    "on-a-line": "All points but one lie on one line. Spread them over the part.",
    "folded": "The points are not in the same order on the picture as in millimetres: are two of them swapped?",
    "equal": "The two points lie at one place.",
}


def gauge_json(body: Mapping[str, Any]) -> dict[str, Any]:
    """What a set of points makes of a picture.

    Parameters
    ----------
    body : mapping
        `points` (list of pixel, at_mm), `mirrored`, `turned_deg`, `width_px`, `height_px`, `film_mm` (0: unknown),
        `checks` (list of from_px, to_px, length_mm), `corners_mm` (the part), `above_mm`, `camera_mm` (typed).
    Returns
    -------
    dict
        `fits`; without a fit `why`; with one `to_mm`, `mm_per_px`, `residual`, `unsure`, `checks`, `camera`,
        `verdict`, `hints`.
    Raises
    ------
    OutOfRange
        If a value is missing or of the wrong kind.
    """
    points = _list(body, "points", MOST_POINTS)
    pixels = [_point(point, "pixel") for point in points]
    places = [_point(point, "at_mm") for point in points]
    turned, size = _number(body, "turned_deg", 0.0), (_size(body, "width_px"), _size(body, "height_px"))
    fit = fit_gauge(pixels, places, mirrored=bool(body.get("mirrored")), turned_deg=turned)
    if isinstance(fit, NoFit):
        return {"fits": False, "why": _WHY.get(fit.why, fit.text), "kind": fit.why}
    corners = _corners(body, fit, size)
    far = _far(fit, corners)
    checks = [_check_json(fit, row) for row in _list(body, "checks", MOST_CORNERS)]
    camera = _camera(body, fit, size)
    return {
        "fits": True, "to_mm": [list(row) for row in fit.matrix], "mm_per_px": _scale_json(fit, size, corners),
        "residual": _residual_json(fit), "unsure": far, "checks": checks, "camera": _camera_json(camera),
        "verdict": _verdict(fit, far["mm"], checks, corners), "hints": _hints(body, fit, size, camera, corners),
    }


# --- numbers ------------------------------------------------------------------------------------------------------


def _corners(body: Mapping[str, Any], fit: Gauge, size: tuple[float, float]) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Corners of the part, or the points themselves where there is no part yet."""
    rows = _list(body, "corners_mm", 100_000)
    if rows:
        step = max(1, math.ceil(len(rows) / MOST_CORNERS))
        return np.array([_point({"at": row}, "at") for row in rows[::step]])
    return to_place(fit.matrix, fit.pixels_px)


def _far(fit: Gauge, corners: np.ndarray[Any, Any]) -> dict[str, Any]:
    errors = unsure_mm(fit, corners, click_px=CLICK_PX)
    worst = int(errors.argmax())
    return {"mm": float(errors[worst]), "at_mm": corners[worst].tolist(), "click_px": CLICK_PX}


def _scale_json(fit: Gauge, size: tuple[float, float], corners: np.ndarray[Any, Any]) -> dict[str, float]:
    """Millimetres to a pixel: in the middle of the part, and the least and most at its corners."""
    back = np.linalg.inv(np.asarray(fit.matrix))
    lifted = np.column_stack([np.vstack([corners, corners.mean(axis=0)]), np.ones(len(corners) + 1)]) @ back.T
    pixels = lifted[:, :2] / lifted[:, 2:]
    pairs = [mm_per_px(fit.matrix, (float(x), float(y))) for x, y in pixels]
    return {
        "least": min(low for low, _ in pairs), "most": max(high for _, high in pairs),
        "middle": math.sqrt(pairs[-1][0] * pairs[-1][1]),
    }


def _residual_json(fit: Gauge) -> dict[str, Any] | None:
    left = fit.residual
    if left is None:
        return None
    return {"rms_px": left.rms_px, "worst_px": left.worst_px, "rms_mm": left.rms_mm, "worst_mm": left.worst_mm,
            "worst_point": left.worst_point}


def _check_json(fit: Gauge, row: Any) -> dict[str, Any]:
    ends, given = (_point(row, "from_px"), _point(row, "to_px")), _size(row, "length_mm")
    found = checked(fit, ends, given, click_px=CLICK_PX)
    if found is None:
        raise OutOfRange("a check", "at the horizon of the picture", "two points on the part")
    return {"seen_mm": found.seen_mm, "given_mm": given, "off_mm": found.off_mm, "share": found.off_mm / given,
            "click_mm": found.click_mm}


def _camera(body: Mapping[str, Any], fit: Gauge, size: tuple[float, float]) -> Camera | None:
    """Where the camera stood: by the photograph's own note of its lens; else straight above, as far as is said."""
    film, typed = _number(body, "film_mm", 0.0), _number(body, "camera_mm", 0.0)
    middle = (size[0] / 2, size[1] / 2)
    if typed <= 0 and film > 0:
        return camera_over(fit.matrix, focal_px(film, *size), middle)
    if typed > 0:
        foot = to_place(fit.matrix, [middle])[0]
        return Camera((float(foot[0]), float(foot[1])), typed, 0.0, 1.0)
    return None


def _camera_json(camera: Camera | None) -> dict[str, Any] | None:
    if camera is None:
        return None
    return {"foot_mm": list(camera.foot_mm), "height_mm": camera.height_mm, "tilt_deg": camera.tilt_deg}


# --- words --------------------------------------------------------------------------------------------------------


def _verdict(fit: Gauge, far_mm: float, checks: Sequence[Mapping[str, Any]], corners: Any) -> dict[str, Any]:
    """What the picture is good for, by the worst of what is known of it."""
    reach = float(np.hypot(*np.ptp(corners, axis=0)))
    missed = max((abs(row["share"]) * reach for row in checks if abs(row["off_mm"]) > 2 * row["click_mm"]), default=0.0)
    worst = fit.residual.worst_mm if fit.residual else 0.0
    error = max(far_mm, worst, missed)
    proved = fit.residual is not None or bool(checks)
    word = ("Good enough for drilling" if error <= DRILL_MM else "Good enough for planning, not for drilling"
            if error <= PLAN_MM else "Too rough: only to look at")
    kind = "good" if error <= DRILL_MM else "fair" if error <= PLAN_MM else "rough"
    unproved = ("" if proved else (
        "Two points always fit" if len(fit.pixels_px) == 2 else "Four points always fit")
        + ", so nothing proves it yet. Measure one more distance on the part and give it below as a check.")
    reason = {missed: "the check", worst: "the worst point", far_mm: "the points placed by hand"}[error]
    return {"kind": kind, "word": word + ("" if proved else ", if the points are right"), "error_mm": error,
            "from": reason, "proved": proved, "unproved": unproved}


def _hints(
    body: Mapping[str, Any], fit: Gauge, size: tuple[float, float], camera: Camera | None, corners: Any
) -> list[str]:
    close = camera is not None and camera.height_mm < CLOSE_MM
    hints = [_CLOSE.format(camera.height_mm / 1000)] if camera is not None and close else []
    above = _number(body, "above_mm", 0.0)
    if above:
        hints.append(_leaning(above, camera, corners))
    stretch = _stretch(body, fit, size) if len(fit.pixels_px) >= 4 else 1.0
    if max(stretch, 1 / stretch) > SWAPPED:
        hints.append(_SWAPPED)
    return hints


_CLOSE = (
    "Taken from about {:.2g} m: so near, a lens bends straight lines and everything that stands up leans outward. "
    "From 1 m or more, zoomed in, is better.")
_SWAPPED = (
    "As these points lie, a square on the part would look much longer one way than a camera shows it. Are width and "
    "height swapped, or a corner misplaced?")


def _leaning(above: float, camera: Camera | None, corners: Any) -> str:
    """What a height over the measured plane does, in words."""
    if camera is None or above >= camera.height_mm:
        return "From how far was it taken? Without that, the error of the height cannot be told."
    away = max(math.dist(corner, camera.foot_mm) for corner in corners)
    shift = abs(parallax_mm(camera.height_mm, away, above))
    share = abs(100 * parallax_mm(camera.height_mm, 1.0, above))
    where, way, size = ("above", "out", "large") if above > 0 else ("below", "in", "small")
    return (f"What lies {_mm(abs(above))} {where} the measured plane shows {share:.1f} % too {size}, and up to "
            f"{_mm(shift)} too far {way} at the far end.")


def _stretch(body: Mapping[str, Any], fit: Gauge, size: tuple[float, float]) -> float:
    film = _number(body, "film_mm", 0.0) or USUAL_FILM_MM
    return camera_over(fit.matrix, focal_px(film, *size), (size[0] / 2, size[1] / 2)).stretch


def _mm(value: float) -> str:
    return f"{value:.2g} mm" if value < 10 else f"{value:.0f} mm"


# --- reading the body ---------------------------------------------------------------------------------------------


def _list(body: Mapping[str, Any], key: str, most: int) -> list[Any]:
    rows = body.get(key) or []
    if not isinstance(rows, list) or len(rows) > most:
        raise OutOfRange(key, type(rows).__name__, f"a list of at most {most}")
    return rows


def _point(row: Any, key: str) -> Point:
    pair = row.get(key) if isinstance(row, Mapping) else None
    if not isinstance(pair, list) or len(pair) != 2 or not all(_is_number(value) for value in pair):
        raise OutOfRange(key, str(pair)[:60], "two numbers")
    return float(pair[0]), float(pair[1])


def _number(body: Mapping[str, Any], key: str, default: float) -> float:
    value = body.get(key)
    if value is None:
        return default
    if not _is_number(value):
        raise OutOfRange(key, str(value)[:60], "a number")
    return float(value)


def _size(body: Any, key: str) -> float:
    value = body.get(key) if isinstance(body, Mapping) else None
    if value is None or not _is_number(value) or not value > 0:
        raise OutOfRange(key, str(value)[:60], "a number above 0")
    return float(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= 1e7
