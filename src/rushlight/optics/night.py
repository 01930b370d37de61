"""The picture by night as a raster of linear light: lamps laid in, spread as the eye spreads them, toned at the end.

A raster is an array (3, rows, columns) of linear sRGB in cd/m2, rows from the top; it may hold colours that no screen
shows.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import cycle, pairwise

import numpy as np
from numpy.typing import NDArray

from rushlight.optics.display import encoded_finely, into_gamut, luminance_of, root_tone
from rushlight.optics.glare import FIRST_DEG, share_below
from rushlight.optics.toward import lean_cosine
from rushlight.units import checked

Array = NDArray[np.float64]
Place = tuple[float, float]

LEVELS = 9
"""How often a raster is halved: the widest bell curve then has a standard deviation of 330 of its pixels."""

THIN = 1e-9
"""Slabs of a shape lower than this, in pixels, are left out; an edge that leans less is upright."""


@dataclass(frozen=True, slots=True)
class Lit:
    """A lamp in a raster: a disc, or a shape; `light` is what it adds in all, as cd/m2 times pixels.

    `bands` are luminances along a shape over their mean, in even steps from one of its `ends_px` to the other; without
    them its light is even. `lean` draws a disc together as in `toward.seen_aslant`.
    """

    at_px: Place
    radius_px: float
    light: tuple[float, float, float]
    shape_px: tuple[Place, ...] = ()
    bands: tuple[float, ...] = ()
    ends_px: tuple[Place, Place] = ((0.0, 0.0), (0.0, 0.0))
    lean: Place = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class LitGround:
    """Ground under floodlights: luminance at the nodes of a grid, shown within an edge.

    The node of row 0, column 0 lies at `origin_px`, the next column by (step_px[0], lean_px[0]) on, the next row by
    (lean_px[1], step_px[1]); each may be negative. A grid seen square on does not lean.
    """

    origin_px: Place
    step_px: Place
    cd_m2: Array
    rgb: tuple[float, float, float]
    edge_px: tuple[Place, ...]
    lean_px: Place = (0.0, 0.0)


def pixel_light(intensity_cd: float, pixel_mm: float) -> float:
    """What a lamp adds to a raster in all, as luminance times pixels.

    Parameters
    ----------
    intensity_cd : float
        Intensity towards the viewer [cd], 0 or more.
    pixel_mm : float
        Width of a pixel on the model [mm], above 0.
    Returns
    -------
    float
        Luminance [cd/m2] of one pixel that holds all of it.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of luminance: intensity per area seen.
    """
    checked("intensity (cd)", intensity_cd, 0.0)
    checked("pixel (mm)", pixel_mm, 0.0, above=True)
    return intensity_cd / (pixel_mm / 1000.0) ** 2


def laid(lamps: tuple[Lit, ...], rows: int, columns: int) -> Array:
    """The light of lamps before the eye spreads it.

    Parameters
    ----------
    lamps : tuple of Lit
        What shines; pixel centres lie at halves, y down.
    rows, columns : int
        Size of the raster, 1 or more.
    Returns
    -------
    array (3, rows, columns)
        Luminance by channel [cd/m2]; a lamp's sum is its `light`, however small it is.
    Source
    ------
    Share of each pixel that a lamp covers.
    """
    raster = np.zeros((3, rows, columns))
    for lamp in lamps:
        area = abs(_area(lamp.shape_px)) if lamp.shape_px else 0.0
        if area >= 1.0:
            _lay_shape(raster, lamp, area)
        else:
            _lay_disc(raster, lamp, math.sqrt(area / math.pi) if lamp.shape_px else lamp.radius_px)
    return raster


def _lay_disc(raster: Array, lamp: Lit, radius: float) -> None:
    """A disc with a soft edge of one pixel; one smaller than a pixel keeps its light and its place."""
    x, y = lamp.at_px
    shown = max(radius, 0.5)
    reach = math.ceil(shown + 0.5)
    left, top = math.floor(x) - reach, math.floor(y) - reach
    along_x = left + np.arange(2 * reach + 1, dtype=np.float64) + 0.5 - x
    along_y = top + np.arange(2 * reach + 1, dtype=np.float64) + 0.5 - y
    if lamp.lean == (0.0, 0.0):
        past = np.hypot(along_x[None, :], along_y[:, None]) - shown
    else:
        past = _past_ellipse(along_x, along_y, (max(radius * lean_cosine(lamp.lean), 0.5), shown), lamp.lean)
    cover = np.clip(0.5 - past, 0.0, 1.0)
    _add(raster, lamp, cover / cover.sum(), (left, top))


def _past_ellipse(along_x: Array, along_y: Array, halves: Place, lean: Place) -> Array:
    """How far places lie past an ellipse's edge, by its half axes along the lean and across it: true near the edge.

    (q^2 - q) / |g| with q the place over the half axes and g the slope of q^2 / 2; for a circle it is true throughout.
    """
    x, y = (way / math.hypot(*lean) for way in lean)
    along = (along_x[None, :] * x + along_y[:, None] * y) / halves[0]
    across = (along_y[:, None] * x - along_x[None, :] * y) / halves[1]
    q, slope = np.hypot(along, across), np.hypot(along / halves[0], across / halves[1])
    return np.asarray(np.where(slope > 0.0, (q * q - q) / np.where(slope > 0.0, slope, 1.0), -halves[0]))


def grounds_laid(grounds: tuple[LitGround, ...], rows: int, columns: int) -> Array:
    """The light that floodlit ground throws back, before the eye spreads it.

    Parameters
    ----------
    grounds : tuple of LitGround
        What is lit, and where.
    rows, columns : int
        Size of the raster, 1 or more.
    Returns
    -------
    array (3, rows, columns)
        Luminance by channel [cd/m2], straight between the nodes, even beyond the outer ones.
    Source
    ------
    Bilinear interpolation; share of each pixel within the edge.
    """
    raster = np.zeros((3, rows, columns))
    for ground in grounds:
        cover, (left_px, top) = _cover(ground.edge_px, rows, columns)
        if not cover.size:
            continue
        light = cover * _between_nodes(ground, (left_px, top), cover.shape)
        part = raster[:, top : top + cover.shape[0], left_px : left_px + cover.shape[1]]
        part += np.array(ground.rgb)[:, None, None] * light
    return raster


def _between_nodes(ground: LitGround, corner_px: tuple[int, int], size: tuple[int, ...]) -> Array:
    """Luminance at the middle of each pixel of a box."""
    (along, up), (rise, back) = ground.step_px, ground.lean_px
    x = corner_px[0] + np.arange(size[1]) + 0.5 - ground.origin_px[0]
    y = corner_px[1] + np.arange(size[0]) + 0.5 - ground.origin_px[1]
    high, wide = ground.cd_m2.shape
    # A grid that does not lean has a column's place by x alone, a row's by y alone: a row and a column of places do.
    leans, area = rise != 0.0 or back != 0.0, along * up - rise * back
    u = (x[None, :] * up - y[:, None] * back) / area if leans else x[None, :] / along
    v = (y[:, None] * along - x[None, :] * rise) / area if leans else y[:, None] / up
    left, on = _between(np.asarray(u, dtype=float), wide)
    low, over = _between(np.asarray(v, dtype=float), high)
    lit = ground.cd_m2
    below, above = (lit[rows, left] * (1.0 - on) + lit[rows, left + 1] * on for rows in (low, low + 1))
    return np.asarray(below * (1.0 - over) + above * over)


def _between(at: Array, count: int) -> tuple[NDArray[np.intp], Array]:
    """The node before each place and how far on to the next; places beyond the outer nodes are taken to them."""
    held = np.clip(at, 0.0, count - 1.0)
    before = np.minimum(held.astype(np.intp), count - 2)
    return before, held - before


def _lay_shape(raster: Array, lamp: Lit, area: float) -> None:
    cover, corner = _cover(lamp.shape_px, *raster.shape[1:])
    if cover.size and lamp.bands:
        cover *= _banded(lamp, corner, cover.shape)
    if cover.size:
        _add(raster, lamp, cover / area, corner)


def _banded(lamp: Lit, corner: tuple[int, int], size: tuple[int, ...]) -> Array:
    """Brightness of each pixel over the mean, by how far along the shape it lies."""
    (ax, ay), (bx, by) = lamp.ends_px
    x, y = corner[0] + np.arange(size[1]) + 0.5, corner[1] + np.arange(size[0]) + 0.5
    far = ((x[None, :] - ax) * (bx - ax) + (y[:, None] - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
    before, on = _between(np.asarray(far * (len(lamp.bands) - 1.0)), len(lamp.bands))
    bands = np.array(lamp.bands)
    return np.asarray(bands[before] * (1.0 - on) + bands[before + 1] * on)


def _cover(shape: tuple[Place, ...], rows: int, columns: int) -> tuple[Array, tuple[int, int]]:
    """Pixels of a box by the share of their area that lies inside, however thin the shape is; the box's corner.

    The shape is cut into slabs at the edges of pixels and at its own corners; what lies inside is told by the even-odd
    rule, so that a ring in a ring is a hole.
    """
    xs, ys = [point[0] for point in shape], [point[1] for point in shape]
    left, right = max(math.floor(min(xs)), 0), min(math.ceil(max(xs)), columns)
    top, bottom = max(math.floor(min(ys)), 0), min(math.ceil(max(ys)), rows)
    cover = np.zeros((max(bottom - top, 0), max(right - left, 0)))
    slabs = list(_slabs(shape, top, bottom)) if cover.size else []
    cuts = np.array([cut for _, _, cuts in slabs for cut in cuts]).reshape(-1, 2) - left
    if cuts.size:
        of_line = [side * (high - low) for low, high, cuts in slabs for _, side in zip(cuts, cycle((-1.0, 1.0)))]
        share = np.array(of_line)
        lines = np.array([math.floor((low + high) / 2.0) - top for low, high, cuts in slabs for _ in cuts])
        cover += _summed_cuts(cuts, share, lines, cover.shape)
    return cover, (left, top)


def _summed_cuts(cuts: Array, share: Array, lines: NDArray[np.intp], size: tuple[int, int]) -> Array:
    """What lies left of cuts, each so much of its line: whole pixels by a running sum, the others one by one."""
    high, wide = size
    first = np.clip(np.floor(cuts.min(axis=1)), 0, wide).astype(np.intp)
    count = np.clip(np.ceil(cuts.max(axis=1)), first, wide).astype(np.intp) - first
    whole = np.bincount(lines * (wide + 1) + first, share, high * (wide + 1)).reshape(high, wide + 1)
    of = np.repeat(np.arange(len(cuts)), count)
    columns = first[of] + np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    parts = np.bincount(lines[of] * wide + columns, share[of] * _left_of(columns, cuts[of]), high * wide)
    return np.asarray(whole[:, :0:-1].cumsum(axis=1)[:, ::-1] + parts.reshape(high, wide))


def _slabs(shape: tuple[Place, ...], top: int, bottom: int) -> Iterator[tuple[float, float, list[Place]]]:
    """Slabs without a corner inside: from, to, and where each edge enters and leaves, from the left."""
    ends = [(a, b) for a, b in zip(shape, (*shape[1:], shape[0]), strict=True) if a[1] != b[1]]
    edges = sorted(((min(two, key=_height), max(two, key=_height)) for two in ends), key=lambda edge: edge[0][1])
    marks = sorted({float(y) for y in range(top, bottom + 1)} | {y for _, y in shape if top < y < bottom})
    open_: list[tuple[Place, Place]] = []
    begun = 0
    for low, high in pairwise(marks):
        while begun < len(edges) and edges[begun][0][1] <= low:
            open_.append(edges[begun])
            begun += 1
        open_ = [edge for edge in open_ if edge[1][1] > low]
        if high - low > THIN:
            yield low, high, sorted(((_at(edge, low), _at(edge, high)) for edge in open_), key=sum)


def _height(point: Place) -> float:
    return point[1]


def _at(edge: tuple[Place, Place], y: float) -> float:
    (ax, ay), (bx, by) = edge
    return ax + (y - ay) / (by - ay) * (bx - ax)


def _left_of(columns: NDArray[np.intp], cuts: Array) -> Array:
    """Share of a pixel that lies left of an edge, which crosses its line straight from one place to another."""
    run = cuts[:, 1] - cuts[:, 0]
    upright = np.abs(run) <= THIN
    first, last = cuts[:, 0] - columns, cuts[:, 1] - columns
    aslant = (_summed(last) - _summed(first)) / np.where(upright, 1.0, run)
    return np.asarray(np.where(upright, np.clip(first, 0.0, 1.0), aslant))


def _summed(far: Array) -> Array:
    """Integral of how much of a pixel lies left, 0 to 1."""
    held = np.clip(far, 0.0, 1.0)
    return np.asarray(held**2 / 2.0 + np.maximum(far - 1.0, 0.0))


def _area(shape: tuple[Place, ...]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(shape, (*shape[1:], shape[0]), strict=True)) / 2.0


def _add(raster: Array, lamp: Lit, share: Array, corner: tuple[int, int]) -> None:
    """Adds what of a lamp falls within the raster."""
    _, rows, columns = raster.shape
    left, top = corner
    high, wide = share.shape
    a, b, c, d = max(top, 0), min(top + high, rows), max(left, 0), min(left + wide, columns)
    if a < b and c < d:
        raster[:, a:b, c:d] += np.array(lamp.light)[:, None, None] * share[a - top : b - top, c - left : d - left]


# --- spread -------------------------------------------------------------------------------------------------------


def level_shares(pixel_deg: float, table: tuple[float, ...]) -> tuple[float, ...]:
    """How much of the light stays where it is and how much each halving of a raster spreads.

    Parameters
    ----------
    pixel_deg : float
        Angle under which a pixel is seen [deg], above 0.
    table : tuple of float
        The eye, from `glare.share_table`.
    Returns
    -------
    tuple of float
        LEVELS + 1 shares [-], and last the even veil of all that is spread wider: its luminance for each cd/m2 times
        pixels in the picture.
    Raises
    ------
    OutOfRange
        If the angle is not above 0.
    Notes
    -----
    A raster halved n - 1 times, blurred and doubled again, each by the filter 1 4 6 4 1, is blurred by a bell curve of
    the variance (5 4^(n-1) - 2) / 3 pixels^2. Each takes the widths of the table that lie nearest to its own.
    Source
    ------
    Burt & Adelson, IEEE Trans. Commun. 31 (1983) 532 (the filter); the sum of variances.
    """
    checked("pixel (deg)", pixel_deg, 0.0, above=True)
    widths = pixel_deg * np.sqrt((5.0 * 4.0 ** np.arange(LEVELS + 1) - 2.0) / 3.0)
    bounds = np.concatenate([[widths[0] / 2.0], np.sqrt(widths[1:] * widths[:-1])])
    below = share_below(bounds, table)
    shares = np.diff(np.concatenate([[0.0], below]))
    return (*(float(share) for share in shares), _veil(float(bounds[-1]), pixel_deg, table))


def _veil(from_deg: float, pixel_deg: float, table: tuple[float, ...]) -> float:
    """Height of the widest bell curves: the sum of dF / (2 pi s^2), F rising evenly with ln s between two widths."""
    tops = FIRST_DEG * 2.0 ** (np.arange(len(table)) / 2.0)
    low, high = np.maximum(tops[:-1], from_deg), np.maximum(tops[1:], from_deg)
    slope = np.diff(table) / (math.log(2.0) / 2.0)
    return float(np.sum(slope * (low**-2.0 - high**-2.0)) * pixel_deg**2 / (4.0 * math.pi))


def spread(raster: Array, shares: tuple[float, ...]) -> Array:
    """The light of a raster as the eye spreads it.

    Parameters
    ----------
    raster : array (3, rows, columns)
        From `laid` [cd/m2].
    shares : tuple of float
        From `level_shares`.
    Returns
    -------
    array (3, rows, columns)
        Luminance by channel [cd/m2]; what is spread over the edge of the raster is lost, as from a picture.
    Source
    ------
    `level_shares`.
    """
    stays, *by_level, veil = shares
    level, blurred = raster, []
    for _ in by_level:
        blurred.append(_blurred(_blurred(level, 1), 2))
        level = blurred[-1][:, ::2, ::2]
    wide = by_level[-1] * blurred[-1]
    for share, level in zip(by_level[-2::-1], blurred[-2::-1], strict=True):
        wide = _doubled(_doubled(wide, 2, level.shape[2]), 1, level.shape[1]) + share * level
    even = veil * raster.sum(axis=(1, 2))[:, None, None]
    return np.asarray(wide[:, 2:-2, 2:-2] + stays * raster + even)


def _blurred(raster: Array, axis: int) -> Array:
    """Through the filter 1 4 6 4 1, with two lines more on either side for what spills over."""
    wide = [(0, 0), (0, 0), (0, 0)]
    wide[axis] = (4, 4)
    held = np.moveaxis(np.pad(raster, wide), axis, 0)
    made = held[1:-3] + held[3:-1]
    made += 1.5 * held[2:-2]
    made *= 4.0
    made += held[:-4]
    made += held[4:]
    made /= 16.0
    return np.asarray(np.moveaxis(made, 0, axis))


def _doubled(raster: Array, axis: int, count: int) -> Array:
    """A halved raster at twice its lines: line n of the finer one lies at n / 2 + 2 of it."""
    held = np.moveaxis(raster, axis, 0)
    made = np.empty((count, *held.shape[1:]))
    even, odd = (count + 1) // 2, count // 2
    made[::2] = (held[1 : even + 1] + 6.0 * held[2 : even + 2] + held[3 : even + 3]) / 8.0
    made[1::2] = (held[2 : odd + 2] + held[3 : odd + 3]) / 2.0
    return np.asarray(np.moveaxis(made, 0, axis))


# --- screen -------------------------------------------------------------------------------------------------------


def ground_light(linear_rgb: Array, half_cd_m2: float) -> Array:
    """What the room's light on the ground must be for a screen to show the ground in a colour.

    Parameters
    ----------
    linear_rgb : array (..., 3)
        Colour on the screen, linear [-], luminance below 1.
    half_cd_m2 : float
        Luminance shown at half the screen's white [cd/m2].
    Returns
    -------
    array (..., 3)
        Luminance by channel [cd/m2].
    Source
    ------
    `display.root_tone`, turned round.
    """
    shown = luminance_of(linear_rgb)
    real = half_cd_m2 * (shown / (1.0 - shown)) ** 2
    return np.asarray(linear_rgb * (real / np.maximum(shown, 1e-12))[..., None])


def toned(raster: Array, half_cd_m2: float) -> NDArray[np.uint8]:
    """A raster as code values: one curve on the luminance of the sum, colours out of reach mixed with grey.

    Parameters
    ----------
    raster : array (3, rows, columns)
        Luminance by channel [cd/m2].
    half_cd_m2 : float
        Luminance shown at half the screen's white [cd/m2], above 0.
    Returns
    -------
    array of uint8 (rows, columns, 3)
        sRGB code values.
    Raises
    ------
    OutOfRange
        If `half_cd_m2` is not above 0.
    Source
    ------
    `display.root_tone`, `display.into_gamut`, `display.encoded`.
    """
    rgb = np.moveaxis(raster, 0, -1)
    real = np.maximum(luminance_of(rgb), 0.0)
    scale = root_tone(real, half_cd_m2=half_cd_m2) / np.maximum(real, 1e-30)
    return encoded_finely(into_gamut(rgb * scale[..., None]))
