"""One opening before a run of strip: its grid, the light of the real LEDs there, and what the sheets leave of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Strip
from rushlight.model.plan_part import KeepOut, Opening, Part
from rushlight.optics.channel import BOARD_REFLECTS, Channel, thrown_back_lx
from rushlight.optics.diffuser import row_light_lx
from rushlight.optics.emitter import illuminance_parallel_lx, pattern_order
from rushlight.optics.window import Post, evened, shaded_lx, times_seen
from rushlight.stages.painted_wall import usual_inside_reflectance
from rushlight.stages.rooms import overlap_share, sheets_back

Array = NDArray[Any]

CHANNEL_MM = 1.0
"""The walls of a strip's channel stand so far beside the opening, where the plan gives no width (project proposal)."""

ON_LINE_MM = 0.01
"""An LED this near to a straight piece lies on it."""

SAMPLES, MOST_ROWS, LEAST_STEP_MM = 81, 41, 0.05
"""Places along and across an opening at which the light is summed, and their least distance."""

FRONT_GAPS = 0.5
"""What throws light back from the front counts so many gaps past a window (photons: tests/outside/)."""

CLEAR_REFLECTS = 0.08
"""Both faces of a clear part (Fresnel, n = 1.5)."""

LEAST_SHARE = 1e-4
"""Luminance over the mean that counts as dark when brightest and darkest are compared."""


@dataclass(frozen=True, slots=True)
class Behind:
    """One opening seen along the nearest straight piece of its strip, and every LED in the same frame.

    `half_width_mm` is half the channel's width: as the plan says, else its walls stand 1 mm beside the opening.
    `shut_mm` is where walls across it stand.
    """

    from_mm: float
    to_mm: float
    aside_mm: float
    half_width_mm: float
    led_along_mm: tuple[float, ...]
    led_across_mm: tuple[float, ...]
    ends_mm: tuple[Point, Point]
    outline_mm: Array
    start_mm: Point
    way: Point
    shut_mm: tuple[float, ...] = ()

    def framed(self, at: Point) -> Point:
        """A place of the part along and across the strip's piece."""
        return in_frame(at, self.start_mm, self.way)


def in_frame(at: Point, start_mm: Point, way: Point) -> Point:
    """A place along and across a straight piece that starts somewhere and goes one way."""
    x, y = at[0] - start_mm[0], at[1] - start_mm[1]
    ux, uy = way
    return (x * ux + y * uy, y * ux - x * uy)


@dataclass(frozen=True, slots=True)
class Pane:
    """The grid of one opening in its strip's frame: what is inside, the LEDs, the posts between, and what the front of
    the channel throws back there (sheets, and the inner wall beside them)."""

    behind: Behind
    along_mm: Array
    across_mm: Array
    step_mm: float
    inside: NDArray[np.bool_]
    posts: tuple[Post, ...]
    front_reflects: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What lies between the light and the eye: sheets (thickness, gap), overlaps, luminance, distance."""

    sheets: tuple[tuple[float, float], ...]
    overlaps: tuple[tuple[tuple[Point, ...], float], ...]
    luminance_cd_m2: float
    distance_mm: float


@dataclass(frozen=True, slots=True)
class Evenness:
    """How even a window is: times what a trained eye just sees, and its brightest over its darkest spot."""

    times: float
    ratio: float


def pane_of(
    drawer: Drawer, part: Part, run: tuple[Strip, Emitter], opening: Opening, *, coarser: int = 1
) -> Pane:
    """The grid of an opening before a run of strip; `coarser` divides its places each way."""
    strip, emitter = run
    behind = behind_opening(strip, opening, emitter.strip_points_mm)
    outline = tuple((float(x), float(y)) for x, y in behind.outline_mm)
    along, across, step, inside = _grid(outline, coarser)
    front = _front_reflects(drawer, part, opening, behind, FRONT_GAPS * strip.gap_mm)
    return Pane(behind, along, across, step, inside, _posts(part, opening, behind), front)


@lru_cache(maxsize=512)
def _grid(outline_mm: tuple[Point, ...], coarser: int) -> tuple[Array, Array, float, NDArray[np.bool_]]:
    """Places along and across an outline, their step, and which are inside; kept, because a search for a better strip
    asks for the same windows again and again."""
    xs, ys = np.array(outline_mm).T
    long, high = float(np.ptp(xs)), float(np.ptp(ys))
    step = coarser * max(long / (SAMPLES - 1), high / (MOST_ROWS - 1), LEAST_STEP_MM)
    along: Array = xs.min() + step * np.arange(max(math.floor(long / step + 1e-9) + 1, 2))
    count = max(math.floor(high / step + 1e-9) + 1, 1)
    across: Array = (ys.max() + ys.min()) / 2 + step * (np.arange(count) - (count - 1) / 2)
    inside = np.asarray(shapely.contains_xy(shapely.Polygon(outline_mm).buffer(1e-6), *np.meshgrid(along, across)))
    # A crooked opening may hold no grid place: its box then stands for it.
    held = inside if inside.any() else np.ones_like(inside)
    for kept in (along, across, held):
        kept.setflags(write=False)
    return along, across, step, held


def _front_reflects(drawer: Drawer, part: Part, opening: Opening, behind: Behind, past_mm: float) -> float:
    """Reflectance of what lies over the channel so far past the opening: its sheets, and the inner wall between."""
    half = behind.half_width_mm
    over = shapely.box(behind.from_mm - past_mm, -half, behind.to_mm + past_mm, half)
    shapes = _framed(tuple(row.shape_mm for row in part.openings), behind.start_mm, behind.way)
    near = [shape for shape, (left, low, right, high) in shapes
            if behind.from_mm - past_mm < right and left < behind.to_mm + past_mm and -half < high and low < half]
    share = shapely.union_all(near).intersection(over).area / over.area
    sheets = sheets_back(drawer, opening)
    return float(share * (CLEAR_REFLECTS if sheets is None else sheets)
                 + (1.0 - share) * usual_inside_reflectance(drawer, part))


@lru_cache(maxsize=64)
def _framed(
    shapes_mm: tuple[tuple[Point, ...], ...], start_mm: Point, way: Point
) -> tuple[tuple[shapely.Polygon, tuple[float, float, float, float]], ...]:
    """Shapes of a part in the frame of a strip's piece, each with its box; kept, as every window of a strip asks."""
    made = []
    for shape in shapes_mm:
        framed = [in_frame(at, start_mm, way) for at in shape]
        xs, ys = zip(*framed, strict=True)
        made.append((shapely.Polygon(framed).buffer(0), (min(xs), min(ys), max(xs), max(ys))))
    return tuple(made)


def _posts(part: Part, opening: Opening, behind: Behind) -> tuple[Post, ...]:
    """The opening's posts."""
    if not opening.posts_mm:
        return ()
    wide = post_radii_mm(part, opening)
    return tuple(Post(*behind.framed(foot), wide[foot]) for foot in opening.posts_mm)


def post_radii_mm(part: Part, opening: Opening) -> dict[Point, float]:
    """Radius of each post of an opening: of the post of the part that stands there; else as its key says."""
    wide = dict.fromkeys(opening.posts_mm, opening.posts_width_mm / 2)
    for keep_out in part.keep_outs:
        if keep_out.why == "post":
            radius = math.sqrt(_ground(keep_out).area / math.pi)
            wide.update({foot: radius for foot in opening.posts_mm if foot_in(keep_out, (foot,)) is not None})
    return wide


def foot_in(post: KeepOut, feet: Iterable[Point]) -> Point | None:
    """The first of some posts' feet that stands in a keep-out."""
    ground = _ground(post)
    return next((foot for foot in feet if ground.contains(shapely.Point(foot))), None)


def _ground(post: KeepOut) -> shapely.Polygon:
    return shapely.Polygon(post.shape_mm).buffer(0.01)


def shown_over(pane: Pane, light: Array, seen: Seen) -> Array:
    """Luminance over the opening's mean, behind its sheets."""
    out = evened(light, pane.step_mm, seen.sheets)
    grid = np.meshgrid(pane.along_mm, pane.across_mm)
    for outline, share in seen.overlaps:
        shape = shapely.Polygon([pane.behind.framed(at) for at in outline])
        out = np.where(shapely.contains_xy(shape, *grid), share * out, out)
    mean = float(out[pane.inside].mean())
    # A post as wide as the window leaves it dark all over.
    return np.asarray(np.maximum(out, 0.0) / mean) if mean > 0.0 else np.zeros_like(out)


def posts_leave(pane: Pane, light: Array, free: Array, sheets: tuple[tuple[float, float], ...]) -> float:
    """How much of the light without posts is left behind the sheets where their shadow is darkest."""
    if not pane.posts:
        return 1.0
    left, whole = (evened(row, pane.step_mm, sheets)[pane.inside] for row in (light, free))
    return float(np.clip(left / np.maximum(whole, LEAST_SHARE * whole.mean()), 0.0, 1.0).min())


def times_over(pane: Pane, shown: Array, seen: Seen) -> float:
    """Over the opening alone: what lies outside its outline counts as even."""
    pattern = np.where(pane.inside, shown, 1.0)
    return times_seen(pattern, pane.step_mm, distance_mm=seen.distance_mm, luminance_cd_m2=seen.luminance_cd_m2)


def evenness(pane: Pane, shown: Array, seen: Seen) -> Evenness:
    """Of a pattern over its opening."""
    inside = shown[pane.inside]
    return Evenness(times_over(pane, shown, seen), float(inside.max() / max(float(inside.min()), LEAST_SHARE)))


def sheets_of(drawer: Drawer, opening: Opening) -> tuple[tuple[float, float], ...]:
    """Thickness of each sheet and free gap before it; the outermost has none."""
    return tuple((drawer.diffuser(row.sheet).thickness_mm, row.gap_mm if number else 0.0)
                 for number, row in enumerate(opening.diffusers))


def overlaps_of(part: Part, opening: Opening, drawer: Drawer) -> tuple[tuple[tuple[Point, ...], float], ...]:
    """Where the sheets of another opening lie over this one's, and what is left of the light there."""
    found = []
    own = shapely.Polygon(opening.shape_mm).buffer(0)
    for other in part.openings:
        if other is opening or not opening.diffusers or not other.diffusers:
            continue
        both = own.intersection(shapely.Polygon(other.shape_mm).buffer(0))
        if isinstance(both, shapely.Polygon) and both.area > 1e-6:
            share = overlap_share(drawer, opening, other)
            found.append((tuple((float(x), float(y)) for x, y in both.exterior.coords), share))
    return tuple(found)


def behind_opening(strip: Strip, opening: Opening, led_mm: Sequence[Point]) -> Behind:
    """Opening and LEDs (at `led_mm` on the part) in the frame of the strip's piece nearest to the opening's middle."""
    xs, ys = [x for x, _ in opening.shape_mm], [y for _, y in opening.shape_mm]
    middle = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    start, end = min(
        ((a, b) for a, b in pairwise(strip.along_mm) if a != b),
        key=lambda piece: _distance_mm(middle, *piece), default=(strip.along_mm[0], strip.along_mm[-1]),
    )
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length

    def framed(points: Sequence[Point]) -> tuple[tuple[float, ...], tuple[float, ...]]:
        away = [(x - start[0], y - start[1]) for x, y in points]
        return tuple(x * ux + y * uy for x, y in away), tuple(y * ux - x * uy for x, y in away)

    along, across = framed(opening.shape_mm)
    led_along, led_across = framed(led_mm)
    aside = (max(across) + min(across)) / 2
    reach = max((max(across) - min(across)) / 2, 0.5) + abs(aside)
    half = reach + CHANNEL_MM if strip.channel_width_mm is None else max(strip.channel_width_mm / 2, reach)
    ends = [(start[0] + ux * far, start[1] + uy * far) for far in (min(along), max(along))]
    return Behind(min(along), max(along), aside, half, led_along, led_across, (ends[0], ends[1]),
                   np.column_stack([along, across]), start, (ux, uy),
                   _walled_at(led_along, led_across) if strip.channel_ends == "walled" else ())


def _walled_at(along_mm: Sequence[float], across_mm: Sequence[float]) -> tuple[float, ...]:
    """Where the strip's two ends lie, half a pitch past its last LEDs, of those on this straight piece."""
    half = math.dist((along_mm[0], across_mm[0]), (along_mm[1], across_mm[1])) / 2 if len(along_mm) > 1 else 0.0
    return tuple(along_mm[k] + side * half for k, side in ((0, -1.0), (-1, 1.0)) if abs(across_mm[k]) < ON_LINE_MM)


def _distance_mm(at: Point, start: Point, end: Point) -> float:
    """Distance of a point from a straight piece."""
    span = (end[0] - start[0], end[1] - start[1])
    share = ((at[0] - start[0]) * span[0] + (at[1] - start[1]) * span[1]) / (span[0] ** 2 + span[1] ** 2)
    share = min(max(share, 0.0), 1.0)
    return math.dist(at, (start[0] + share * span[0], start[1] + share * span[1]))


def first_sheet_lx(part: StripPart, strip: Strip, pane: Pane) -> Array:
    """Illuminance of the first sheet over the opening's grid, by every real LED, at one candela each.

    What walls, floor and sheet throw back is that of the LEDs on the piece behind the opening; those of other pieces
    light the sheet directly. Posts stand in the way of both.
    """
    behind, order = pane.behind, pattern_order(part.half_angle_deg)
    x, y = np.meshgrid(pane.along_mm, pane.across_mm)
    leds = np.column_stack([behind.led_along_mm, behind.led_across_mm])
    own = np.abs(leds[:, 1]) < ON_LINE_MM
    channel = Channel(
        gap_mm=strip.gap_mm, half_width_mm=round(behind.half_width_mm, 6), strip_half_mm=part.width_mm / 2,
        walls_reflect=strip.walls_reflect, sheet_reflects=round(pane.front_reflects, 3), order=order,
        board_reflects=BOARD_REFLECTS if strip.board_reflects is None else strip.board_reflects,
        shut_mm=behind.shut_mm,
    )
    thrown = thrown_back_lx(channel, leds[own, 0], pane.along_mm, pane.across_mm) if own.any() else np.zeros(x.shape)
    if pane.posts:
        places = np.column_stack([x.ravel(), y.ravel()])
        leds = np.where(own[:, None], leds * (1.0, 0.0), leds)
        straight, left = shaded_lx(leds, places, order=order, gap_mm=strip.gap_mm,
                                   half_width_mm=behind.half_width_mm, posts=pane.posts)
        return np.asarray(straight.reshape(x.shape) + thrown * left.reshape(x.shape))
    light = thrown + row_light_lx(leds[own, 0], 1.0, order=order, gap_mm=strip.gap_mm, x_mm=x, y_mm=y)
    for led_x, led_y in leds[~own]:
        light += illuminance_parallel_lx(1.0, order, gap_mm=strip.gap_mm, offset_mm=np.hypot(x - led_x, y - led_y))
    return np.asarray(light)
