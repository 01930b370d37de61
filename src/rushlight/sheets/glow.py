"""The lamps of a state as a picture: their light laid on soot, spread as the eye spreads it, toned once at the end."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from rushlight.model.sheet import Point
from rushlight.optics.display import decoded, linear_srgb
from rushlight.optics.glare import share_table
from rushlight.optics.night import (
    Array,
    Lit,
    LitGround,
    ground_light,
    grounds_laid,
    laid,
    level_shares,
    pixel_light,
    spread,
    toned,
)
from rushlight.sheets.night_pools import PaperPool

PIXELS_PER_MM = 5.0
MOST_PIXELS = 1600
"""Longest side of a picture; a larger one gets coarser pixels."""

SOOT = (20, 17, 15)


@dataclass(frozen=True, slots=True)
class Glow:
    """One lit lamp on paper: a disc of its true size, or the shape of an opening with the bands that a strip leaves.

    `lean` draws a disc together as in `toward.seen_aslant`; a shape's places are so already.
    """

    at_mm: Point
    radius_mm: float
    xy: tuple[float, float]
    intensity_cd: float
    shape_mm: tuple[Point, ...] = ()
    bands: tuple[float, ...] = ()
    ends_mm: tuple[Point, Point] = ((0.0, 0.0), (0.0, 0.0))
    lean: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class View:
    """How a picture is looked at: paper over model, the eye's distance from the model, what shows at half of white."""

    scale: float
    distance_mm: float
    half_cd_m2: float


def glow_png(
    glows: Iterable[Glow], width_mm: float, height_mm: float, view: View, pools: Iterable[PaperPool] = ()
) -> bytes:
    """A picture of lamps in the dark.

    Parameters
    ----------
    glows : iterable of Glow
        Places on paper, y up from the lower edge.
    width_mm, height_mm : float
        Size of the picture [mm], > 0.
    view : View
        Scale, distance and exposure.
    pools : iterable of PaperPool, optional
        Floodlit ground.
    Returns
    -------
    bytes
        A PNG of at most PIXELS_PER_MM pixels for each millimetre; the same bytes for the same lamps.
    """
    return png_of(glow_pixels(glows, width_mm, height_mm, view, pools))


def glow_pixels(
    glows: Iterable[Glow], width_mm: float, height_mm: float, view: View, pools: Iterable[PaperPool] = ()
) -> npt.NDArray[np.uint8]:
    """The picture of `glow_png` as code values, (rows, columns, 3)."""
    density = min(PIXELS_PER_MM, MOST_PIXELS / max(width_mm, height_mm))
    rows, columns = max(round(height_mm * density), 1), max(round(width_mm * density), 1)
    pixel_mm = 1.0 / (density * view.scale)
    lamps = tuple(_lit(glow, density, rows, pixel_mm) for glow in glows)
    grounds = tuple(_ground_of(pool, density, rows) for pool in pools)
    direct = laid(lamps, rows, columns) + grounds_laid(grounds, rows, columns)
    light = spread(direct, _shares(float(np.degrees(pixel_mm / view.distance_mm))))
    return toned(light + _ground(view.half_cd_m2)[:, None, None], view.half_cd_m2)


def _lit(glow: Glow, density: float, rows: int, pixel_mm: float) -> Lit:
    red, green, blue = (float(part) for part in linear_srgb(glow.xy, pixel_light(glow.intensity_cd, pixel_mm)))
    at, shape = _placed((glow.at_mm,), density, rows), _placed(glow.shape_mm, density, rows)
    start, end = _placed(glow.ends_mm, density, rows)
    return Lit(at[0], glow.radius_mm * density, (red, green, blue), shape, glow.bands, (start, end),
               (glow.lean[0], -glow.lean[1]))


def _ground_of(pool: PaperPool, density: float, rows: int) -> LitGround:
    red, green, blue = (float(part) for part in linear_srgb(pool.xy))
    (origin,) = _placed((pool.origin_mm,), density, rows)
    step = (pool.step_mm[0] * density, -pool.step_mm[1] * density)
    lean = (-pool.lean_mm[0] * density, pool.lean_mm[1] * density)
    edge = _placed(pool.edge_mm, density, rows)
    return LitGround(origin, step, np.array(pool.cd_m2), (red, green, blue), edge, lean)


def _placed(points: tuple[Point, ...], density: float, rows: int) -> tuple[Point, ...]:
    return tuple((x * density, rows - y * density) for x, y in points)


@cache
def _shares(pixel_deg: float) -> tuple[float, ...]:
    return level_shares(pixel_deg, share_table())


def _ground(half_cd_m2: float) -> Array:
    """The light of the room on soot, as much as makes it show as soot."""
    return ground_light(decoded(SOOT), half_cd_m2)


def png_of(pixels: npt.NDArray[np.uint8]) -> bytes:
    """Code values, (rows, columns) or (rows, columns, 3), as a PNG; the same bytes for the same values."""
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", compress_level=3)
    return out.getvalue()
