"""The glow of lamps as pixels: light added up on soot, in linear sRGB."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from rushlight.model.sheet import Point
from rushlight.optics.display import decoded, encoded, swatch_rgb

PIXELS_PER_MM = 5.0
MOST_PIXELS = 1600
"""Longest side of a picture; a larger one gets coarser pixels."""

SOOT = (20, 17, 15)
HALO_MM = 1.4
"""Width of the glow round a lamp: at this distance it has fallen to a quarter."""

HALO_SHARE = 0.35
REACH_MM = 12.0

LEVELS = 16384

Array = npt.NDArray[np.floating]


@dataclass(frozen=True, slots=True)
class Glow:
    """One lit lamp on paper: a disc, or the shape of an opening; `level` from 0 to 1."""

    at_mm: Point
    radius_mm: float
    xy: tuple[float, float]
    level: float
    shape_mm: tuple[Point, ...] = ()


def glow_png(glows: Iterable[Glow], width_mm: float, height_mm: float) -> bytes:
    """A picture of lamps in the dark.

    Parameters
    ----------
    glows : iterable of Glow
        Places on paper, y up from the lower edge.
    width_mm, height_mm : float
        Size of the picture [mm], > 0.
    Returns
    -------
    bytes
        A PNG of at most PIXELS_PER_MM pixels for each millimetre; the same bytes for the same lamps.
    Notes
    -----
    Each lamp adds level * (disc + HALO_SHARE / (1 + (r / HALO_MM)^2)^2) of the brightest screen colour of its hue, r
    from the disc's edge; sums above white are scaled down as a whole, so that no hue turns.
    """
    density = min(PIXELS_PER_MM, MOST_PIXELS / max(width_mm, height_mm))
    size = (max(round(height_mm * density), 1), max(round(width_mm * density), 1), 3)
    canvas = np.empty(size, dtype=np.float32)
    canvas[:] = decoded(SOOT)
    for glow in glows:
        _add(canvas, glow, density)
    over = np.maximum(np.maximum(np.maximum(canvas[..., 0], canvas[..., 1]), canvas[..., 2]), 1.0)
    steps = (canvas * ((LEVELS - 1) / over)[..., None] + 0.5).astype(np.uint16)
    return _png(_codes()[steps])


@cache
def _codes() -> npt.NDArray[np.uint8]:
    """sRGB code values of LEVELS equal steps of light: fine enough that the darkest codes are all told apart."""
    return encoded(np.linspace(0.0, 1.0, LEVELS))


@cache
def _light(xy: tuple[float, float]) -> Array:
    """Linear light of the brightest screen colour of a hue."""
    return decoded(swatch_rgb(xy)).astype(np.float32)


def _add(canvas: Array, glow: Glow, density: float) -> None:
    height, width, _ = canvas.shape
    xs, ys = _extent(glow)
    left, right = _pixels((min(xs) - REACH_MM) * density, (max(xs) + REACH_MM) * density, width)
    low, high = _pixels((min(ys) - REACH_MM) * density, (max(ys) + REACH_MM) * density, height)
    top, bottom = height - high, height - low
    if left >= right or top >= bottom:
        return
    x = (np.arange(left, right, dtype=np.float32) + 0.5) / np.float32(density)
    y = (height - np.arange(top, bottom, dtype=np.float32) - 0.5) / np.float32(density)
    away = _distance(glow, x[None, :], y[:, None])
    light = glow.level * np.where(away <= 0, 1.0, HALO_SHARE / (1.0 + (np.maximum(away, 0.0) / HALO_MM) ** 2) ** 2)
    canvas[top:bottom, left:right] += light[..., None] * _light(glow.xy)


def _extent(glow: Glow) -> tuple[list[float], list[float]]:
    if glow.shape_mm:
        return [p[0] for p in glow.shape_mm], [p[1] for p in glow.shape_mm]
    (x, y), r = glow.at_mm, glow.radius_mm
    return [x - r, x + r], [y - r, y + r]


def _pixels(low: float, high: float, most: int) -> tuple[int, int]:
    first = min(max(int(low), 0), most)
    return first, min(max(int(high) + 1, first), most)


def _distance(glow: Glow, x: Array, y: Array) -> Array:
    """From the edge of the lamp, negative or zero inside it."""
    if glow.shape_mm:
        return _from_shape(glow.shape_mm, x, y)
    return np.asarray(np.hypot(x - glow.at_mm[0], y - glow.at_mm[1]) - glow.radius_mm)


def _from_shape(shape: tuple[Point, ...], x: Array, y: Array) -> Array:
    inside = np.zeros(np.broadcast_shapes(x.shape, y.shape), dtype=bool)
    least = np.full(inside.shape, np.inf)
    for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if ay != by:
            crossing = (ay > y) != (by > y)
            inside ^= crossing & (x < (bx - ax) * (y - ay) / (by - ay) + ax)
        length = (bx - ax) ** 2 + (by - ay) ** 2
        share = np.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length, 0.0, 1.0) if length else 0.0
        least = np.minimum(least, np.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay)))
    return np.where(inside, 0.0, least)


def _png(pixels: npt.NDArray[np.uint8]) -> bytes:
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", compress_level=3)
    return out.getvalue()
