"""Strips behind openings: how bright and how even each opening looks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.model.design_light import StripLight, WindowMap
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Plan, Strip
from rushlight.model.plan_part import Opening, Part
from rushlight.optics.diffuser import (
    contrast_thresholds,
    cycles_per_deg,
    gap_for_contrast,
    michelson,
    walled_row_light_lx,
)
from rushlight.optics.emitter import illuminance_parallel_lx, pattern_order, peak_cd
from rushlight.optics.sheet import overlap_factor
from rushlight.optics.window import Post, channel_light_lx, evened, evened_share, times_seen
from rushlight.stages.build import Build
from rushlight.stages.rooms import opening_mm2, opening_through
from rushlight.units import Range

Array = NDArray[Any]

FARTHER, GAP_STEP_MM = 3.0, 0.5
"""Gaps are tried so far apart, up to so many times that of an endless row."""

CHANNEL_MM = 1.0
"""The walls of a strip's channel stand so far beside the opening (project proposal; see docs/limits.md)."""

ON_LINE_MM = 0.01
"""An LED this near to a straight piece lies on it."""

SAMPLES, MOST_ROWS, LEAST_STEP_MM = 81, 41, 0.05
"""Places along and across an opening at which the light is summed, and their least distance."""

LOOKING = 10.0
"""Ordinary looking needs three to ten times the contrast that a trained eye just sees (see contrast_threshold.csv)."""


@dataclass(frozen=True, slots=True)
class _Behind:
    """One opening seen along the nearest straight piece of its strip, and every LED in the same frame.

    `half_width_mm` is half the channel's width: its walls are taken to stand 1 mm beside the opening.
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

    def framed(self, at: Point) -> Point:
        """A place of the part along and across the strip's piece."""
        x, y = at[0] - self.start_mm[0], at[1] - self.start_mm[1]
        ux, uy = self.way
        return (x * ux + y * uy, y * ux - x * uy)


def strip_light(build: Build) -> tuple[StripLight, ...]:
    """Every lit opening of every strip that is built."""
    made = []
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            strip = run_of(emitter)
            made += [_one(build, emitter, strip, lamp) for lamp in emitter.lamps]
    return tuple(made)


def strip_opening_light(build: Build, emitter: Emitter, lamp: str, current_a: float) -> tuple[Range, Range, Range]:
    """Flux out of one opening, axial intensity and luminance, at a current in each segment."""
    luminance = opening_luminance(build.plan, build.drawer, emitter, lamp, current_a)
    intensity = luminance.times(opening_mm2(find_opening(build.plan, emitter, lamp)) * 1e-6)
    return intensity.times(math.pi), intensity, luminance


def opening_luminance(plan: Plan, drawer: Drawer, emitter: Emitter, lamp: str, current_a: float) -> Range:
    """Mean luminance of one opening at a current in each segment: E T / pi behind its sheets."""
    return behind_luminance(plan, drawer, (run_of(emitter), emitter), find_opening(plan, emitter, lamp), current_a)


def behind_luminance(
    plan: Plan, drawer: Drawer, run: tuple[Strip, Emitter], opening: Opening, current_a: float
) -> Range:
    """The same of any opening before any run of strip, planned or only thought of."""
    strip, emitter = run
    row = drawer.strip(emitter.part_row)
    pane = _pane(plan.part(strip.part), strip, opening, emitter)
    mean = float(_on_first_sheet_lx(row, strip, pane)[pane.inside].mean())
    return _luminance(drawer, row, opening, mean_lx_per_cd=mean, current_a=current_a)


def run_of(emitter: Emitter) -> Strip:
    """Where and how an emitter's strip runs."""
    assert emitter.run is not None, "every strip has its run"
    return emitter.run


def find_opening(plan: Plan, emitter: Emitter, lamp: str) -> Opening:
    """The opening of a strip's lamp."""
    name = dict(emitter.windows)[lamp]
    return next(row for row in plan.part(run_of(emitter).part).openings if row.name == name)


def _one(build: Build, emitter: Emitter, strip: Strip, lamp: str) -> StripLight:
    drawer, part = build.drawer, build.drawer.strip(emitter.part_row)
    opening = find_opening(build.plan, emitter, lamp)
    pane = _pane(build.plan.part(strip.part), strip, opening, emitter)
    light = _on_first_sheet_lx(part, strip, pane)
    mean = float(light[pane.inside].mean())
    amps, warmth = _solved(build, emitter)
    luminance = _luminance(drawer, part, opening, mean_lx_per_cd=mean, current_a=amps).times(warmth)
    overlaps = _overlaps(build.plan.part(strip.part), opening, drawer)
    seen = _Seen(_sheets_of(drawer, opening), overlaps, luminance.typical, build.plan.subject.viewing_distance_mm)
    shown = _shown(pane, light, seen)
    alone = replace(seen, overlaps=())
    bare = replace(pane, posts=())
    spots = _shown(bare, _on_first_sheet_lx(part, strip, bare), alone) if pane.posts else _shown(pane, light, alone)
    times_spots = _times_seen(bare, spots, seen)
    middle = shown[np.abs(pane.across_mm - pane.behind.aside_mm).argmin()]
    line = middle[(pane.along_mm >= pane.behind.from_mm - 1e-9) & (pane.along_mm <= pane.behind.to_mm + 1e-9)]
    contrast = min(michelson(np.maximum(line, 0.0)), 1.0)
    return StripLight(
        lamp=lamp, strip=strip.name, opening=opening.name, pitch_mm=part.pitch_mm, gap_mm=strip.gap_mm,
        contrast=contrast,
        needed_gap_mm=_needed_for(part, strip, bare, seen=alone, now=times_spots), luminance_cd_m2=luminance,
        cycles_per_deg=cycles_per_deg(part.pitch_mm, seen.distance_mm),
        profile=tuple((pane.step_mm * k, float(value)) for k, value in enumerate(line)),
        shadows=opening.posts_mm, ends_mm=pane.behind.ends_mm, least_share=float(shown[pane.inside].min()),
        most_share=float(shown[pane.inside].max()), times_seen=_times_seen(pane, shown, seen),
        times_spots=times_spots, times_posts=_times_seen(pane, _shown(pane, light, alone), seen),
        aside_mm=pane.behind.aside_mm,
        window=_window_map(pane, shown, overlaps),
    )


def _needed_for(part: StripPart, strip: Strip, bare: _Pane, *, seen: _Seen, now: float) -> float:
    """The least gap at which ordinary looking passes over what the LEDs leave in this opening behind its sheets.

    Where none up to FARTHER times that of an endless row does, a slope is what shows, and the endless row's is given.
    """
    left = float(evened_share([2 * math.pi / part.pitch_mm], seen.sheets)[0])
    frequency = cycles_per_deg(part.pitch_mm, seen.distance_mm)
    just = float(contrast_thresholds([frequency], seen.luminance_cd_m2)[0])
    endless = _needed_gap_mm(round(min(max(LOOKING * just / left, 2e-4), 0.5), 4), part.pitch_mm,
                             pattern_order(part.half_angle_deg))
    if now < LOOKING:
        return min(endless, strip.gap_mm)
    for gap in np.arange(strip.gap_mm + GAP_STEP_MM, FARTHER * endless, GAP_STEP_MM):
        light = _on_first_sheet_lx(part, replace(strip, gap_mm=float(gap)), bare)
        if _times_seen(bare, _shown(bare, light, seen), seen) < LOOKING:
            return float(gap)
    return endless


# --- the opening as a grid ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Pane:
    """The grid of one opening in its strip's frame: what is inside, the LEDs, and the posts between."""

    behind: _Behind
    along_mm: Array
    across_mm: Array
    step_mm: float
    inside: NDArray[np.bool_]
    posts: tuple[Post, ...]


@dataclass(frozen=True, slots=True)
class _Seen:
    """What lies between the light and the eye: sheets (thickness, gap), overlaps, luminance, distance."""

    sheets: tuple[tuple[float, float], ...]
    overlaps: tuple[tuple[tuple[Point, ...], float], ...]
    luminance_cd_m2: float
    distance_mm: float


def _pane(part: Part, strip: Strip, opening: Opening, emitter: Emitter) -> _Pane:
    behind = _behind(strip, opening, emitter)
    xs, ys = behind.outline_mm[:, 0], behind.outline_mm[:, 1]
    long, high = float(np.ptp(xs)), float(np.ptp(ys))
    step = max(long / (SAMPLES - 1), high / (MOST_ROWS - 1), LEAST_STEP_MM)
    along: Array = behind.from_mm + step * np.arange(max(math.floor(long / step + 1e-9) + 1, 2))
    count = max(math.floor(high / step + 1e-9) + 1, 1)
    across: Array = behind.aside_mm + step * (np.arange(count) - (count - 1) / 2)
    grid = np.meshgrid(along, across)
    inside = np.asarray(shapely.contains_xy(shapely.Polygon(behind.outline_mm).buffer(1e-6), *grid))
    # A crooked opening may hold no grid place: its box then stands for it.
    held = inside if inside.any() else np.ones_like(inside)
    return _Pane(behind, along, across, step, held, _posts(part, opening, behind))


def _posts(part: Part, opening: Opening, behind: _Behind) -> tuple[Post, ...]:
    """The opening's posts, as wide as the post of the part that stands there; else as its key says."""
    wide = {}
    for keep_out in part.keep_outs:
        if keep_out.why == "post":
            shape = shapely.Polygon(keep_out.shape_mm).buffer(0.01)
            for foot in opening.posts_mm:
                if shape.contains(shapely.Point(foot)):
                    wide[foot] = math.sqrt(shape.area / math.pi)
    usual = opening.posts_width_mm / 2
    return tuple(Post(*behind.framed(foot), wide.get(foot, usual)) for foot in opening.posts_mm)


def _shown(pane: _Pane, light: Array, seen: _Seen) -> Array:
    """Luminance over the opening's mean, behind its sheets."""
    out = evened(light, pane.step_mm, seen.sheets)
    grid = np.meshgrid(pane.along_mm, pane.across_mm)
    for outline, share in seen.overlaps:
        shape = shapely.Polygon([pane.behind.framed(at) for at in outline])
        out = np.where(shapely.contains_xy(shape, *grid), share * out, out)
    return np.asarray(np.maximum(out, 0.0) / float(out[pane.inside].mean()))


def _times_seen(pane: _Pane, shown: Array, seen: _Seen) -> float:
    """Over the opening alone: what lies outside its outline counts as even."""
    pattern = np.where(pane.inside, shown, 1.0)
    return times_seen(pattern, pane.step_mm, distance_mm=seen.distance_mm, luminance_cd_m2=seen.luminance_cd_m2)


def _sheets_of(drawer: Drawer, opening: Opening) -> tuple[tuple[float, float], ...]:
    """Thickness of each sheet and free gap before it; the outermost has none."""
    return tuple((drawer.diffuser(row.sheet).thickness_mm, row.gap_mm if number else 0.0)
                 for number, row in enumerate(opening.diffusers))


def _overlaps(part: Part, opening: Opening, drawer: Drawer) -> tuple[tuple[tuple[Point, ...], float], ...]:
    """Where the sheets of another opening lie over this one's, and what is left of the light there."""
    found = []
    own = shapely.Polygon(opening.shape_mm).buffer(0)
    for other in part.openings:
        if other is opening or not opening.diffusers or not other.diffusers:
            continue
        both = own.intersection(shapely.Polygon(other.shape_mm).buffer(0))
        if isinstance(both, shapely.Polygon) and both.area > 1e-6:
            sheet = drawer.diffuser(opening.diffusers[0].sheet)
            share = overlap_factor(sheet.transmittance.typical, sheet.reflectance.typical)
            found.append((tuple((float(x), float(y)) for x, y in both.exterior.coords), share))
    return tuple(found)


def _window_map(
    pane: _Pane, shown: Array, overlaps: tuple[tuple[tuple[Point, ...], float], ...]
) -> WindowMap:
    behind, reach = pane.behind, 2.0 * pane.behind.half_width_mm
    leds = tuple(
        (x, y) for x, y in zip(behind.led_along_mm, behind.led_across_mm, strict=True)
        if behind.from_mm - reach <= x <= behind.to_mm + reach and abs(y) <= reach
    )
    return WindowMap(
        corner_mm=(float(pane.along_mm[0]), float(pane.across_mm[0])), step_mm=pane.step_mm,
        relative=tuple(tuple(round(float(value), 4) for value in row) for row in shown),
        outline_mm=tuple((float(x), float(y)) for x, y in behind.outline_mm), leds_mm=leds,
        posts_mm=tuple((post.along_mm, post.across_mm, post.radius_mm) for post in pane.posts),
        overlaps_mm=tuple(tuple(behind.framed(at) for at in outline) for outline, _ in overlaps),
    )


def _solved(build: Build, emitter: Emitter) -> tuple[float, Range]:
    """Current for the light of each segment in the first state that lights the strip, and the range that warmth gives
    it; its rating while nothing is solved."""
    lit = [current for state in build.power.states for current in state.lit if current.emitter == emitter.name]
    if not lit:
        return build.drawer.strip(emitter.part_row).segment_ma / 1000, Range.exactly(1.0)
    return lit[0].light_a, lit[0].light_range


def _behind(strip: Strip, opening: Opening, emitter: Emitter) -> _Behind:
    """Opening and LEDs in the frame of the strip's piece that lies nearest to the opening's middle."""
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
    led_along, led_across = framed(emitter.strip_points_mm)
    aside = (max(across) + min(across)) / 2
    half = max((max(across) - min(across)) / 2, 0.5) + abs(aside) + CHANNEL_MM
    ends = [(start[0] + ux * far, start[1] + uy * far) for far in (min(along), max(along))]
    return _Behind(min(along), max(along), aside, half, led_along, led_across, (ends[0], ends[1]),
                   np.column_stack([along, across]), start, (ux, uy))


def _distance_mm(at: Point, start: Point, end: Point) -> float:
    """Distance of a point from a straight piece."""
    span = (end[0] - start[0], end[1] - start[1])
    share = ((at[0] - start[0]) * span[0] + (at[1] - start[1]) * span[1]) / (span[0] ** 2 + span[1] ** 2)
    share = min(max(share, 0.0), 1.0)
    return math.dist(at, (start[0] + share * span[0], start[1] + share * span[1]))


def _on_first_sheet_lx(part: StripPart, strip: Strip, pane: _Pane) -> Array:
    """Illuminance of the first sheet over the opening's grid, by every real LED, at one candela each.

    LEDs of the piece behind the opening lie in its channel and are thrown back by its walls; those of other pieces
    light the sheet directly. Posts stand in the way of both.
    """
    behind, order = pane.behind, pattern_order(part.half_angle_deg)
    x, y = np.meshgrid(pane.along_mm, pane.across_mm)
    leds = np.column_stack([behind.led_along_mm, behind.led_across_mm])
    own = np.abs(leds[:, 1]) < ON_LINE_MM
    if pane.posts:
        leds = np.where(own[:, None], leds * (1.0, 0.0), leds)
        lit = channel_light_lx(
            leds, np.column_stack([x.ravel(), y.ravel()]), order=order, gap_mm=strip.gap_mm, posts=pane.posts,
            half_width_mm=behind.half_width_mm, reflectance=strip.walls_reflect,
        )
        return lit.reshape(x.shape)
    light = np.zeros(x.shape)
    if own.any():
        light += walled_row_light_lx(
            leds[own, 0], np.ones(own.sum()), order=order, gap_mm=strip.gap_mm, x_mm=x, y_mm=y,
            half_width_mm=behind.half_width_mm, reflectance=strip.walls_reflect,
        )
    for led_x, led_y in leds[~own]:
        light += illuminance_parallel_lx(1.0, order, gap_mm=strip.gap_mm, offset_mm=np.hypot(x - led_x, y - led_y))
    return light


def _luminance(
    drawer: Drawer, part: StripPart, opening: Opening, *, mean_lx_per_cd: float, current_a: float
) -> Range:
    """Mean luminance of the opening: E T / pi behind its sheets."""
    each_lm = part.flux_lm_per_m.times(part.pitch_mm / 1000).times(max(current_a, 0.0) * 1000 / part.segment_ma)
    each_cd = each_lm.times(peak_cd(1.0, pattern_order(part.half_angle_deg)))
    return each_cd.times(mean_lx_per_cd / math.pi).times(opening_through(drawer, opening))


@lru_cache(maxsize=256)
def _needed_gap_mm(contrast: float, pitch_mm: float, order: float) -> float:
    """Kept, because a row of alike openings asks for it again and again."""
    return gap_for_contrast(contrast, pitch_mm=pitch_mm, order=order)
