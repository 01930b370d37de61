"""An outline offered from a picture's contrast: the part told from what it lies on, its edge as a few corners."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.geometry.outline import Point, Points, outline_trouble
from rushlight.geometry.threshold import Split, best_split

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
Box = tuple[float, float, float, float]

SMOOTH_PX = 1.2
LEAST_TOLERANCE_MM = 0.25
TOLERANCE_PX = 2.0
THIN_MM = 1.0
"""Lines thinner than this on what the part lies on (a mat's grid) are not taken for the part."""
LEAST_CODES = 14.0
LEAST_APART = 3.9
LEAST_SHARE = 0.004
LEAST_TURN = 0.05
SHARP = 0.5
RIM_SHARE = 0.04
NO_CONTRAST = (
    "The part does not stand out from what it lies on, neither by its brightness nor by its colour. Photograph it on a "
    "plain sheet of another colour, in even light."
)


@dataclass(frozen=True, slots=True)
class OfferedOutline:
    """An outline with the holes in it, all in millimetres of the part.

    `residual_mm` is the farthest that the seen edge lies from what is offered, `mean_residual_mm` the usual one,
    `pixel_mm` the size of a pixel, `tolerance_mm` what the corners were thinned by, `effectiveness` Otsu's eta.
    """

    outline_mm: Points
    openings_mm: tuple[Points, ...]
    residual_mm: float
    mean_residual_mm: float
    pixel_mm: float
    tolerance_mm: float
    effectiveness: float


@dataclass(frozen=True, slots=True)
class NoOutline:
    """Why none can be offered: no-picture, no-contrast, nothing, touches-border, not-simple."""

    why: str
    text: str


def offer_outline(
    rgb: Any, known: Any, box_mm: Box, *, tolerance_mm: float | None = None, least_opening_mm2: float = 4.0
) -> OfferedOutline | NoOutline:
    """The outline of the largest thing that stands out from what it lies on.

    Parameters
    ----------
    rgb : array (rows, columns, 3)
        Picture laid on the part, 0 to 255, top row first.
    known : array of bool (rows, columns)
        Where the picture reaches.
    box_mm : (left, low, right, top)
        What it covers on the part [mm]; pixels are square.
    tolerance_mm : float or None
        How far corners may be thinned; None: two pixels, and 0.25 mm at least.
    least_opening_mm2 : float
        Smaller holes are filled.
    Returns
    -------
    OfferedOutline or NoOutline
        In the order of the seen edge, anticlockwise, rounded to the pixel's own digit.
    Notes
    -----
    The channel that parts best by Otsu's criterion, its light evened by a plane through the rim; opening and closing;
    marching squares on the grey values themselves; Douglas and Peucker, Cartographica 10 (1973) 112-122.
    """
    seen = np.asarray(known, dtype=bool)
    pixel_mm = (box_mm[2] - box_mm[0]) / seen.shape[1]
    if seen.sum() < 400:
        return NoOutline("no-picture", "The picture does not reach this part.")
    rim = _rim(seen)
    best = _best_channel(np.asarray(rgb, dtype=float), seen, rim)
    if isinstance(best, NoOutline):
        return best
    signed, split = best
    mask = _thing(signed > 0, seen, rim, pixel_mm)
    if isinstance(mask, NoOutline):
        return mask
    tolerance = tolerance_mm or max(LEAST_TOLERANCE_MM, TOLERANCE_PX * pixel_mm)
    rings = _rings(signed, mask, box_mm, pixel_mm)
    return _offered(rings, pixel_mm, tolerance, least_opening_mm2, split)


def _rim(seen: BoolArray) -> BoolArray:
    """A band along the edge of what the picture shows: taken as what the part lies on."""
    from scipy import ndimage

    padded = np.pad(seen, 1)
    inside = ndimage.distance_transform_edt(padded)[1:-1, 1:-1]
    rim: BoolArray = seen & (inside <= max(3.0, RIM_SHARE * min(seen.shape)))
    return rim


def _best_channel(rgb: FloatArray, seen: BoolArray, rim: BoolArray) -> tuple[FloatArray, Split] | NoOutline:
    """Grey values, positive on the part, with their split; of the channels the one that parts best."""
    best: tuple[FloatArray, Split] | None = None
    for channel in _channels(rgb):
        even = _evened(channel, seen, rim)
        split = best_split(even[seen])
        if split is None or split.high_mean - split.low_mean < LEAST_CODES or split.apart < LEAST_APART:
            continue
        if best is None or split.effectiveness > best[1].effectiveness:
            best = even, split
    if best is None:
        return NoOutline("no-contrast", NO_CONTRAST)
    even, split = best
    higher = even - split.level
    return (-higher if (higher[rim] > 0).mean() > 0.5 else higher), split


def _channels(rgb: FloatArray) -> tuple[FloatArray, ...]:
    from scipy import ndimage

    red, green, blue = (ndimage.gaussian_filter(rgb[..., k], SMOOTH_PX) for k in range(3))
    return 0.3 * red + 0.6 * green + 0.1 * blue, red, green, blue, red - green, 0.5 * (red + green) - blue


def _evened(channel: FloatArray, seen: BoolArray, rim: BoolArray) -> FloatArray:
    """Without the slope of the light, as the rim shows it (what stands out there is left out in a second fit)."""
    rows, columns = np.nonzero(rim)
    height, width = channel.shape
    design = np.column_stack([np.ones(rows.size), rows / height, columns / width])
    values = channel[rows, columns]
    kept = np.ones(rows.size, dtype=bool)
    for _ in range(3):
        plane = np.linalg.lstsq(design[kept], values[kept], rcond=None)[0]
        off = np.abs(values - design @ plane)
        kept = off <= max(3.0, 2.5 * float(np.median(off)))
    y, x = np.mgrid[0:height, 0:width]
    slope: FloatArray = channel - (plane[1] * y / height + plane[2] * x / width)
    return np.where(seen, slope, float(plane[0]))


def _thing(high: BoolArray, seen: BoolArray, rim: BoolArray, pixel_mm: float) -> BoolArray | NoOutline:
    """The largest connected area, without lines and specks."""
    from scipy import ndimage

    radius = max(1.0, 0.5 * THIN_MM / pixel_mm)
    solid = _far(high & seen, radius)
    labels, number = ndimage.label(solid)
    sizes = np.bincount(labels.ravel(), minlength=number + 1)[1:]
    if number == 0 or sizes.max() < LEAST_SHARE * seen.sum():
        return NoOutline("nothing", "Nothing large enough stands out in the picture: only specks and lines.")
    thing: BoolArray = labels == 1 + int(sizes.argmax())
    side = _touched(thing, seen)
    if side:
        return NoOutline("touches-border", f"The part runs out of the picture at {side}. The whole part must be in "
                                           "the picture, with a little of what it lies on all round.")
    return thing


def _far(mask: BoolArray, radius: float) -> BoolArray:
    """Opened by a disc: what is nowhere as wide as the disc goes. By distances, so that large discs cost no more."""
    from scipy import ndimage

    kept = ndimage.distance_transform_edt(np.pad(mask, 1))[1:-1, 1:-1] > radius
    if not kept.any():
        return kept
    opened: BoolArray = ndimage.distance_transform_edt(~kept) <= radius
    return opened & mask


def _touched(thing: BoolArray, seen: BoolArray) -> str:
    """The side at which a thing meets the edge of what the picture shows; empty if it does not."""
    from scipy import ndimage

    inner = ndimage.binary_erosion(np.pad(seen, 1), iterations=2)[1:-1, 1:-1]
    rows, columns = np.nonzero(thing & ~inner)
    if rows.size == 0:
        return ""
    height, width = thing.shape
    y, x = rows.mean() / height, columns.mean() / width
    across = ("its left side", x), ("its right side", 1 - x), ("its top", y), ("its foot", 1 - y)
    return min(across, key=lambda side: side[1])[0]


def _rings(signed: FloatArray, mask: BoolArray, box_mm: Box, pixel_mm: float) -> list[FloatArray]:
    """The edge between grey values, in millimetres; outside the thing and well inside it nothing is an edge."""
    from contourpy import contour_generator
    from scipy import ndimage

    near = ndimage.binary_dilation(mask, iterations=2)
    field = np.where(near, signed, -np.abs(signed) - 1.0)
    field = np.where(ndimage.binary_erosion(mask, iterations=2), np.maximum(field, 1.0), field)
    lines = contour_generator(z=np.pad(field, 1, constant_values=-1.0)).lines(0.0)
    left, _, _, top = box_mm
    return [np.column_stack([left + (line[:, 0] - 0.5) * pixel_mm, top - (line[:, 1] - 0.5) * pixel_mm])
            for line in map(np.asarray, lines) if len(line) > 3]


def _offered(
    rings: list[FloatArray], pixel_mm: float, tolerance_mm: float, least_mm2: float, split: Split
) -> OfferedOutline | NoOutline:
    from shapely import LineString, Polygon

    areas = sorted((Polygon(ring) for ring in rings), key=lambda area: -area.area)
    if not areas:
        return NoOutline("nothing", "No edge was found.")
    outer = areas[0]
    holes = [area for area in areas[1:] if area.area >= least_mm2 and outer.contains(area.representative_point())]
    step = 10.0 ** math.floor(math.log10(pixel_mm))
    outline = _thinned(outer, tolerance_mm, step)
    if outline_trouble(outline) is not None:
        return NoOutline("not-simple", "Its edge is too ragged for an outline. Photograph it sharper, in even light.")
    thinned = (_thinned(hole, tolerance_mm, step) for hole in holes)
    windows = tuple(points for points in thinned if outline_trouble(points) is None)
    line = LineString([*outline, outline[0]])
    away = _distances(np.asarray(outer.exterior.coords), line)
    return OfferedOutline(outline, windows, float(away.max()), float(np.sqrt(np.mean(away**2))), pixel_mm, tolerance_mm,
                          split.effectiveness)


def _thinned(area: Any, tolerance_mm: float, step: float) -> Points:
    """Few corners, anticlockwise, rounded; each edge laid through the seen edge, not from point to point of it."""
    from shapely.geometry.polygon import orient

    turned = orient(area)
    ring = np.asarray(turned.exterior.coords)[:-1]
    thin: Any = turned.simplify(tolerance_mm, preserve_topology=True)
    corners = list(thin.exterior.coords)[:-1]
    laid = _rounded(_laid_through(ring, corners, tolerance_mm), step)
    return laid if outline_trouble(laid) is None else _rounded(corners, step)


def _rounded(points: Any, step: float) -> Points:
    digits = max(0, round(-math.log10(step)))
    kept = [(round(round(x / step) * step, digits), round(round(y / step) * step, digits)) for x, y in points]
    return tuple(point for n, point in enumerate(kept) if point != kept[n - 1])


def _laid_through(ring: FloatArray, corners: list[Point], tolerance_mm: float) -> list[Point]:
    """Corners where the fitted lines of neighbouring edges meet.

    Points of the seen edge lie inside a sharp corner (the lens and the smoothing round it) and all on one side of a
    chord of a curve; a line of least squares through them is right in both cases. A corner moves by four times the
    tolerance at most; where lines hardly turn it stays.
    """
    corners = _without_bevels(corners, tolerance_mm)
    index = {(float(x), float(y)): n for n, (x, y) in enumerate(ring)}
    places = [index[point] for point in corners]
    lines = [_line_through(_stretch(ring, places[n - 1], places[n])) for n in range(len(places))]
    found = []
    for n, corner in enumerate(corners):
        meet = _meeting(lines[n], lines[(n + 1) % len(lines)])
        near = meet is not None and math.dist(meet, corner) <= 4 * tolerance_mm
        found.append(meet if near and meet is not None else corner)
    return found


def _without_bevels(corners: list[Point], tolerance_mm: float) -> list[Point]:
    """A sharp corner that the lens rounded may be seen as two close ones: of these the first stays."""
    xy = np.asarray(corners)
    edges = np.roll(xy, -1, axis=0) - xy
    lengths = np.hypot(edges[:, 0], edges[:, 1])
    before, after = np.roll(edges, 1, axis=0), np.roll(edges, -1, axis=0)
    across = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
    sharp = across > SHARP * np.hypot(*before.T) * np.hypot(*after.T)
    long = np.minimum(np.roll(lengths, 1), np.roll(lengths, -1)) > 4 * lengths
    bevel = sharp & long & (lengths < 3 * tolerance_mm)
    kept = [point for n, point in enumerate(corners) if not bevel[n - 1]]
    return kept if len(kept) >= 3 else corners


def _stretch(ring: FloatArray, start: int, end: int) -> FloatArray:
    """The seen edge between two of its points, without the tenth next to either, where a corner rounds it."""
    whole = ring[start : end + 1] if start < end else np.concatenate([ring[start:], ring[: end + 1]])
    cut = max(1, len(whole) // 10)
    return whole[cut:-cut] if len(whole) >= 4 * cut else whole


def _line_through(points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Centre and direction of the line of total least squares."""
    centre = points.mean(axis=0)
    return centre, np.linalg.svd(points - centre, full_matrices=False)[2][0]


def _meeting(first: tuple[FloatArray, FloatArray], second: tuple[FloatArray, FloatArray]) -> Point | None:
    (p, u), (q, v) = first, second
    cross = float(u[0] * v[1] - u[1] * v[0])
    if abs(cross) < LEAST_TURN:
        return None
    along = ((q[0] - p[0]) * v[1] - (q[1] - p[1]) * v[0]) / cross
    return float(p[0] + along * u[0]), float(p[1] + along * u[1])


def _distances(points: FloatArray, line: Any) -> FloatArray:
    import shapely

    away: FloatArray = shapely.distance(shapely.points(points), line)
    return away
