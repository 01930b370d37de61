"""Strips behind openings: how bright and how even each opening looks."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.model.design import Emitter, StripLight
from rushlight.model.drawer import StripPart
from rushlight.model.plan import Opening, Plan, Strip
from rushlight.optics.diffuser import (
    contrast_band,
    cycles_per_deg,
    gap_for_contrast,
    michelson,
    walled_row_light_lx,
)
from rushlight.optics.emitter import pattern_order, peak_cd
from rushlight.optics.sheet import second_sheet_factor, sheet_blur_factor
from rushlight.stages.order import Build
from rushlight.stages.rooms import opening_mm2, opening_through
from rushlight.units import Range

Array = NDArray[np.float64]

SMOOTH = 0.02
"""Contrast that only a critical eye sees (physics, section 3): what the needed gap is worked out for."""

SAMPLES = 81
"""Places along an opening at which the light is summed."""


@dataclass(frozen=True, slots=True)
class _Behind:
    """One opening seen along its strip: where it begins and ends along the strip, how far aside its middle lies."""

    from_mm: float
    to_mm: float
    aside_mm: float
    half_width_mm: float


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
    strip = next(row for row in build.plan.strips if row.name == emitter.name)
    opening = find_opening(build.plan, strip, lamp)
    part = build.drawer.strip(emitter.part_row)
    behind = _behind(strip, opening)
    along = np.linspace(behind.from_mm, behind.to_mm, SAMPLES)
    mean = float(_on_first_sheet_lx(part, strip, emitter, behind, along_mm=along).mean())
    luminance = _luminance(build, emitter, opening, mean_lx_per_cd=mean, current_a=current_a)
    intensity = luminance.times(opening_mm2(opening) * 1e-6)
    return intensity.times(math.pi), intensity, luminance


def find_opening(plan: Plan, strip: Strip, lamp: str) -> Opening:
    """The opening of a strip's lamp, which is called 'strip: opening'."""
    name = lamp.removeprefix(f"{strip.name}: ")
    return next(row for row in plan.part(strip.part).openings if row.name == name)


def _one(build: Build, emitter: Emitter, strip: Strip, lamp: str) -> StripLight:
    part = build.drawer.strip(emitter.part_row)
    opening = find_opening(build.plan, strip, lamp)
    order = pattern_order(part.half_angle_deg)
    behind = _behind(strip, opening)
    along = np.linspace(behind.from_mm, behind.to_mm, SAMPLES)
    light = _on_first_sheet_lx(part, strip, emitter, behind, along_mm=along)
    left = _left_by_sheets(build, opening, part.pitch_mm)
    mean = float(light.mean())
    evened = mean + (light - mean) * left
    contrast = min(michelson(evened), 1.0)
    segment_a = build.drawer.strip(emitter.part_row).segment_ma / 1000
    return StripLight(
        lamp=lamp, strip=strip.name, opening=opening.name, pitch_mm=part.pitch_mm, gap_mm=strip.gap_mm,
        contrast=contrast, band=contrast_band(contrast),
        needed_gap_mm=_needed_gap_mm(min(SMOOTH / left, 0.5), part.pitch_mm, order),
        luminance_cd_m2=_luminance(build, emitter, opening, mean_lx_per_cd=mean, current_a=segment_a),
        cycles_per_deg=cycles_per_deg(part.pitch_mm, build.plan.subject.viewing_distance_mm),
        profile=tuple(
            (float(x - behind.from_mm), float(value / mean)) for x, value in zip(along, evened, strict=True)
        ),
        shadows=opening.posts_mm,
    )


def _behind(strip: Strip, opening: Opening) -> _Behind:
    """The opening in the strip's own frame: along it from its first point, and across."""
    (x0, y0), (x1, y1) = strip.along_mm[0], strip.along_mm[-1]
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    along = [(x - x0) * ux + (y - y0) * uy for x, y in opening.shape_mm]
    across = [(y - y0) * ux - (x - x0) * uy for x, y in opening.shape_mm]
    middle = (max(across) + min(across)) / 2
    half = (max(across) - min(across)) / 2
    return _Behind(min(along), max(along), middle, max(half, 0.5) + abs(middle) + 1.0)


def _on_first_sheet_lx(
    part: StripPart, strip: Strip, emitter: Emitter, behind: _Behind, *, along_mm: Array
) -> Array:
    """Illuminance of the first sheet along the opening's middle, by every real LED, at one candela each."""
    count = emitter.segments * part.leds_per_segment
    leds = part.pitch_mm * (np.arange(count) + 0.5)
    return walled_row_light_lx(
        leds, np.ones(count), order=pattern_order(part.half_angle_deg), gap_mm=strip.gap_mm, x_mm=along_mm,
        y_mm=np.full(len(along_mm), behind.aside_mm), half_width_mm=behind.half_width_mm,
        reflectance=strip.walls_reflect,
    )


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
    build: Build, emitter: Emitter, opening: Opening, *, mean_lx_per_cd: float, current_a: float
) -> Range:
    """Mean luminance of the opening: E T / pi behind its sheets."""
    part = build.drawer.strip(emitter.part_row)
    each_lm = part.flux_lm_per_m.times(part.pitch_mm / 1000).times(current_a * 1000 / part.segment_ma)
    each_cd = each_lm.times(peak_cd(1.0, pattern_order(part.half_angle_deg)))
    return each_cd.times(mean_lx_per_cd / math.pi).times(opening_through(build.drawer, opening))


@lru_cache(maxsize=256)
def _needed_gap_mm(contrast: float, pitch_mm: float, order: float) -> float:
    """Kept, because a row of alike openings asks for it again and again."""
    return gap_for_contrast(contrast, pitch_mm=pitch_mm, order=order)
