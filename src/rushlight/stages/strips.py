"""Strips behind openings: how bright and how even each opening looks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rushlight.model.design_light import StripLight
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Plan, Strip
from rushlight.model.plan_part import Opening
from rushlight.optics.diffuser import (
    contrast_band,
    cycles_per_deg,
    gap_for_contrast,
    michelson,
    walled_row_light_lx,
)
from rushlight.optics.emitter import illuminance_parallel_lx, pattern_order, peak_cd
from rushlight.optics.sheet import second_sheet_factor, sheet_blur_factor
from rushlight.stages.order import Build
from rushlight.stages.rooms import opening_mm2, opening_through
from rushlight.units import Range

Array = NDArray[np.float64]

SMOOTH = 0.02
"""Contrast that only a critical eye sees (physics, section 3): what the needed gap is worked out for."""

CHANNEL_MM = 1.0
"""The walls of a strip's channel stand so far beside the opening (project proposal; see docs/limits.md)."""

ON_LINE_MM = 0.01
"""An LED this near to a straight piece lies on it."""

SAMPLES = 81
"""Places along an opening at which the light is summed."""


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


def strip_light(build: Build) -> tuple[StripLight, ...]:
    """Every lit opening of every strip that is built."""
    made = []
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            strip = next(row for row in build.plan.strips if row.name == emitter.name)
            made += [_one(build, emitter, strip, lamp) for lamp in emitter.lamps]
    return tuple(made)


def strip_opening_light(build: Build, emitter: Emitter, lamp: str, current_a: float) -> tuple[Range, Range, Range]:
    """Flux out of one opening, axial intensity and luminance, at a current in each segment."""
    luminance = opening_luminance(build.plan, build.drawer, emitter, lamp, current_a)
    strip = next(row for row in build.plan.strips if row.name == emitter.name)
    intensity = luminance.times(opening_mm2(find_opening(build.plan, strip, lamp)) * 1e-6)
    return intensity.times(math.pi), intensity, luminance


def opening_luminance(plan: Plan, drawer: Drawer, emitter: Emitter, lamp: str, current_a: float) -> Range:
    """Mean luminance of one opening at a current in each segment: E T / pi behind its sheets."""
    strip = next(row for row in plan.strips if row.name == emitter.name)
    opening = find_opening(plan, strip, lamp)
    part = drawer.strip(emitter.part_row)
    behind = _behind(strip, opening, emitter)
    along = np.linspace(behind.from_mm, behind.to_mm, SAMPLES)
    mean = float(_on_first_sheet_lx(part, strip, behind, along_mm=along).mean())
    return _luminance(drawer, part, opening, mean_lx_per_cd=mean, current_a=current_a)


def find_opening(plan: Plan, strip: Strip, lamp: str) -> Opening:
    """The opening of a strip's lamp, which is called 'strip: opening'."""
    name = lamp.removeprefix(f"{strip.name}: ")
    return next(row for row in plan.part(strip.part).openings if row.name == name)


def _one(build: Build, emitter: Emitter, strip: Strip, lamp: str) -> StripLight:
    part = build.drawer.strip(emitter.part_row)
    opening = find_opening(build.plan, strip, lamp)
    order = pattern_order(part.half_angle_deg)
    behind = _behind(strip, opening, emitter)
    along = np.linspace(behind.from_mm, behind.to_mm, SAMPLES)
    light = _on_first_sheet_lx(part, strip, behind, along_mm=along)
    left = _left_by_sheets(build, opening, part.pitch_mm)
    mean = float(light.mean())
    evened = mean + (light - mean) * left
    contrast = min(michelson(evened), 1.0)
    segment_a = _solved_a(build, emitter)
    return StripLight(
        lamp=lamp, strip=strip.name, opening=opening.name, pitch_mm=part.pitch_mm, gap_mm=strip.gap_mm,
        contrast=contrast, band=contrast_band(contrast),
        needed_gap_mm=_needed_gap_mm(SMOOTH / max(left, 2 * SMOOTH), part.pitch_mm, order),
        luminance_cd_m2=_luminance(build.drawer, part, opening, mean_lx_per_cd=mean, current_a=segment_a),
        cycles_per_deg=cycles_per_deg(part.pitch_mm, build.plan.subject.viewing_distance_mm),
        profile=tuple(
            (float(x - behind.from_mm), float(value / mean)) for x, value in zip(along, evened, strict=True)
        ),
        shadows=opening.posts_mm, ends_mm=behind.ends_mm,
    )


def _solved_a(build: Build, emitter: Emitter) -> float:
    """Current in each segment in the first state that lights the strip; its rating while nothing is solved."""
    amps = [
        current.current_a.typical for state in build.power.states for current in state.lit
        if current.emitter == emitter.name
    ]
    return amps[0] if amps else build.drawer.strip(emitter.part_row).segment_ma / 1000


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
    return _Behind(min(along), max(along), aside, half, led_along, led_across, (ends[0], ends[1]))


def _distance_mm(at: Point, start: Point, end: Point) -> float:
    """Distance of a point from a straight piece."""
    span = (end[0] - start[0], end[1] - start[1])
    share = ((at[0] - start[0]) * span[0] + (at[1] - start[1]) * span[1]) / (span[0] ** 2 + span[1] ** 2)
    share = min(max(share, 0.0), 1.0)
    return math.dist(at, (start[0] + share * span[0], start[1] + share * span[1]))


def _on_first_sheet_lx(part: StripPart, strip: Strip, behind: _Behind, *, along_mm: Array) -> Array:
    """Illuminance of the first sheet along the opening's middle, by every real LED, at one candela each.

    LEDs of the piece behind the opening lie in its channel and are thrown back by its walls; those of other pieces
    light the sheet directly.
    """
    order = pattern_order(part.half_angle_deg)
    inside = [x for x, y in zip(behind.led_along_mm, behind.led_across_mm, strict=True) if abs(y) < ON_LINE_MM]
    light = np.zeros(len(along_mm))
    if inside:
        light += walled_row_light_lx(
            inside, np.ones(len(inside)), order=order, gap_mm=strip.gap_mm, x_mm=along_mm,
            y_mm=np.full(len(along_mm), behind.aside_mm), half_width_mm=behind.half_width_mm,
            reflectance=strip.walls_reflect,
        )
    for x, y in zip(behind.led_along_mm, behind.led_across_mm, strict=True):
        if abs(y) >= ON_LINE_MM:
            offset = np.hypot(along_mm - x, behind.aside_mm - y)
            light += illuminance_parallel_lx(1.0, order, gap_mm=strip.gap_mm, offset_mm=offset)
    return light


def _left_by_sheets(build: Build, opening: Opening, pitch_mm: float) -> float:
    """Share of the contrast that the sheets leave: a second one blurs by its gap, each by its thickness."""
    left = 1.0
    for number, row in enumerate(opening.diffusers):
        sheet = build.drawer.diffuser(row.sheet)
        left *= sheet_blur_factor(pitch_mm, sheet.thickness_mm)
        if number and row.gap_mm > 0:
            left *= second_sheet_factor(pitch_mm, row.gap_mm)
    return left


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
