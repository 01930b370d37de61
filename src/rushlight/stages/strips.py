"""Strips behind openings: how bright and how even each opening looks."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from rushlight.likely import Guesses, joined, known_apart, likely_range, likely_times
from rushlight.model.design_light import StripLight, WindowMap
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent, Power
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Plan, Strip
from rushlight.model.plan_part import Opening
from rushlight.optics.diffuser import contrast_thresholds, cycles_per_deg, gap_for_contrast, michelson
from rushlight.optics.emitter import pattern_order, peak_cd
from rushlight.optics.window import evened_share
from rushlight.stages.build import Build
from rushlight.stages.rooms import opening_mm2, opening_through, through_guesses
from rushlight.stages.window_panes import (
    Array,
    Pane,
    Seen,
    evenness,
    first_sheet_lx,
    overlaps_of,
    pane_of,
    posts_leave,
    sheets_of,
    shown_over,
    times_over,
)
from rushlight.units import Range

PROBE = 1.5
"""Steps of a search are tried at numbers that grow by this factor, then between."""

FARTHER, GAP_STEP_MM = 3.0, 0.5
"""Gaps are tried so far apart, up to so many times that of an endless row."""

CHANNEL_LAW = (0.92, 1.08)
"""What the law leaves out of a known channel: a front that is sheet here and wall there, the gap at the rims."""

CHANNEL_ENDS, CHANNEL_WALLS, CHANNEL_BOARD = (0.88, 1.17), (1.0, 1.13), (0.95, 1.06)
"""What is left open of a channel where the plan does not say it, as factors: ends that stand open or are shut, walls
that shine like foil instead of matt ones, a board of 0.4 to 0.8 (photons: tests/outside/test_channel_photons.py)."""

FOIL = Range(1.0, 1.12, 1.27)
"""Shiny walls over matt ones of the same reflectance (photons likewise: most in a narrow, deep channel)."""

LOOKING = 10.0
"""Ordinary looking needs three to ten times the contrast that a trained eye just sees (see contrast_threshold.csv)."""


def strip_light(build: Build) -> tuple[StripLight, ...]:
    """Every lit opening of every strip that is built."""
    made = []
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            strip = run_of(emitter)
            made += [_one(build, emitter, strip, lamp) for lamp in emitter.lamps]
    return tuple(made)


def strip_opening_light(build: Build, emitter: Emitter, lamp: str, light_a: float) -> tuple[Range, Range, Range]:
    """Flux out of one opening, axial intensity and luminance, at a current in each segment, as
    `strip_light_a` counts it."""
    luminance = opening_luminance(build.plan, build.drawer, emitter, lamp, light_a)
    intensity = luminance.times(opening_mm2(find_opening(build.plan, emitter, lamp)) * 1e-6)
    return intensity.times(math.pi), intensity, luminance


def opening_guesses(build: Build, emitter: Emitter, lamp: str) -> Guesses:
    """What the light of one opening hangs on besides the current."""
    part, strip = build.drawer.strip(emitter.part_row), run_of(emitter)
    return window_guesses(build.drawer, part, strip, find_opening(build.plan, emitter, lamp))


def opening_luminance(plan: Plan, drawer: Drawer, emitter: Emitter, lamp: str, light_a: float) -> Range:
    """Mean luminance of one opening at a current in each segment, as `strip_light_a` counts it: E T / pi
    behind its sheets."""
    return behind_luminance(plan, drawer, (run_of(emitter), emitter), find_opening(plan, emitter, lamp), light_a)


def behind_luminance(
    plan: Plan, drawer: Drawer, run: tuple[Strip, Emitter], opening: Opening, light_a: float
) -> Range:
    """The same of any opening before any run of strip, planned or only thought of."""
    strip, emitter = run
    row = drawer.strip(emitter.part_row)
    pane = pane_of(drawer, plan.part(strip.part), run, opening)
    mean = float(first_sheet_lx(row, strip, pane)[pane.inside].mean())
    return window_luminance(drawer, row, strip, opening=opening, mean_lx_per_cd=mean, light_a=light_a)


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
    pane = pane_of(drawer, build.plan.part(strip.part), (strip, emitter), opening)
    light = first_sheet_lx(part, strip, pane)
    mean = float(light[pane.inside].mean())
    amps, warmth = solved_a(build.power, build.drawer, emitter)
    lit = window_luminance(drawer, part, strip, opening=opening, mean_lx_per_cd=mean, light_a=amps)
    luminance = lit.times(warmth)
    reach = likely_times(joined(window_guesses(drawer, part, strip, opening),
                                solved_guesses(build.power, emitter)))
    overlaps = overlaps_of(build.plan.part(strip.part), opening, drawer)
    seen = Seen(sheets_of(drawer, opening), overlaps, luminance.typical, build.plan.subject.viewing_distance_mm)
    shown = shown_over(pane, light, seen)
    alone = replace(seen, overlaps=())
    bare = replace(pane, posts=())
    free = first_sheet_lx(part, strip, bare) if pane.posts else light
    spots = shown_over(bare, free, alone)
    alike, posted = evenness(bare, spots, alone), evenness(pane, shown_over(pane, light, alone), alone)
    middle = shown[np.abs(pane.across_mm - pane.behind.aside_mm).argmin()]
    line = middle[(pane.along_mm >= pane.behind.from_mm - 1e-9) & (pane.along_mm <= pane.behind.to_mm + 1e-9)]
    contrast = min(michelson(np.maximum(line, 0.0)), 1.0) if line.max() > 0.0 else 0.0
    return StripLight(
        lamp=lamp, strip=strip.name, opening=opening.name, pitch_mm=part.pitch_mm, gap_mm=strip.gap_mm,
        contrast=contrast,
        needed_gap_mm=_needed_for(part, strip, bare, seen=alone, now=alike.times), luminance_cd_m2=luminance,
        likely_cd_m2=likely_range(luminance, reach),
        cycles_per_deg=cycles_per_deg(part.pitch_mm, seen.distance_mm),
        profile=tuple((pane.step_mm * k, float(value)) for k, value in enumerate(line)),
        shadows=opening.posts_mm, ends_mm=pane.behind.ends_mm, least_share=float(shown[pane.inside].min()),
        most_share=float(shown[pane.inside].max()), times_seen=times_over(pane, shown, seen),
        times_spots=alike.times, times_posts=posted.times, ratio_spots=alike.ratio, ratio_posts=posted.ratio,
        posts_share=posts_leave(pane, light, free, seen.sheets), aside_mm=pane.behind.aside_mm,
        window=_window_map(pane, shown, overlaps),
    )


def _needed_for(part: StripPart, strip: Strip, bare: Pane, *, seen: Seen, now: float) -> float | None:
    """The least gap at which ordinary looking passes over what the LEDs leave in this opening behind its sheets; None
    where none up to FARTHER times that of an endless row does: a slope is what shows, to a rim or to the strip's end.
    """
    left = float(evened_share([2 * math.pi / part.pitch_mm], seen.sheets)[0])
    frequency = cycles_per_deg(part.pitch_mm, seen.distance_mm)
    just = float(contrast_thresholds([frequency], seen.luminance_cd_m2)[0])
    # Far behind a second sheet nothing at all of the pattern is left.
    endless = _needed_gap_mm(round(min(max(LOOKING * just / max(left, 1e-12), 2e-4), 0.5), 4), part.pitch_mm,
                             pattern_order(part.half_angle_deg))
    if now < LOOKING:
        return min(endless, strip.gap_mm)

    def passed_over(steps: int) -> bool:
        light = first_sheet_lx(part, replace(strip, gap_mm=strip.gap_mm + steps * GAP_STEP_MM), bare)
        return times_over(bare, shown_over(bare, light, seen), seen) < LOOKING

    steps = least_step(math.ceil((FARTHER * endless - strip.gap_mm) / GAP_STEP_MM), passed_over)
    return None if steps is None else strip.gap_mm + steps * GAP_STEP_MM


def least_step(last: int, does: Callable[[int], bool]) -> int | None:
    """The least of 1 to `last` that does, where more does rather than less: tried 1, 2, 3, 5, 8 ... and then between.

    None where none of those that were tried does.
    """
    before, step = 0, 1
    while before < last:
        step = min(step, last)
        if does(step):
            return _between(before, step, does)
        before, step = step, max(step + 1, round(step * PROBE))
    return None


def _between(fails: int, does: int, test: Callable[[int], bool]) -> int:
    """The least that does between one that fails and one that does, by halving."""
    while does - fails > 1:
        middle = (fails + does) // 2
        fails, does = (fails, middle) if test(middle) else (middle, does)
    return does


def _window_map(
    pane: Pane, shown: Array, overlaps: tuple[tuple[tuple[Point, ...], float], ...]
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


def solved_a(power: Power, drawer: Drawer, emitter: Emitter) -> tuple[float, Range]:
    """Current for the light of each segment in the first state that lights the strip, and the range that warmth gives
    it; its rating while nothing is solved."""
    lit = _first_lit(power, emitter)
    if lit is None:
        return drawer.strip(emitter.part_row).segment_ma / 1000, Range.exactly(1.0)
    return lit.light_a, lit.light_range


def solved_guesses(power: Power, emitter: Emitter) -> Guesses:
    """What the light of that state hangs on by its current."""
    lit = _first_lit(power, emitter)
    return () if lit is None else lit.light_guesses


def _first_lit(power: Power, emitter: Emitter) -> EmitterCurrent | None:
    lit = (current for state in power.states for current in state.lit if current.emitter == emitter.name)
    return next(lit, None)


def window_luminance(
    drawer: Drawer, part: StripPart, strip: Strip, *, opening: Opening, mean_lx_per_cd: float, light_a: float
) -> Range:
    """Mean luminance of the opening: E T / pi behind its sheets."""
    each_lm = part.flux_lm_per_m.times(part.pitch_mm / 1000).times(max(light_a, 0.0) * 1000 / part.segment_ma)
    each_cd = each_lm.times(peak_cd(1.0, pattern_order(part.half_angle_deg)))
    return each_cd.times(mean_lx_per_cd / math.pi).times(channel_spread(strip)).times(
        opening_through(drawer, opening))


def window_guesses(drawer: Drawer, part: StripPart, strip: Strip, opening: Opening) -> Guesses:
    """What `window_luminance` hangs on: the strip's light, its channel, what stands in the opening."""
    return joined(known_apart([("the strip's light", part.flux_lm_per_m), ("the strip's channel", _channel(strip)),
                               ("shiny walls", _shine(strip))]), through_guesses(drawer, opening))


def channel_spread(strip: Strip) -> Range:
    """What is not known of a strip's channel.

    Parameters
    ----------
    strip : Strip
        What the plan says of its channel.
    Returns
    -------
    Range
        Factor on the luminance; what is not known of ends, walls, board and the law does not lie to one side at once:
        the roots of the squares of their logarithms, added.
    Source
    ------
    CHANNEL_LAW and the rest: photons in tests/outside/test_channel_photons.py.
    """
    return _channel(strip).times(_shine(strip))


def _channel(strip: Strip) -> Range:
    """What is not known of ends, walls and board, and what the law leaves out."""
    said = ((strip.channel_ends, CHANNEL_ENDS), (strip.channel_walls, CHANNEL_WALLS),
            (strip.board_reflects, CHANNEL_BOARD))
    left = [CHANNEL_LAW, *(factors for value, factors in said if value is None)]
    low, high = (math.exp(side * math.hypot(*(math.log(row[k]) for row in left))) for k, side in ((0, -1), (1, 1)))
    return Range(low, 1.0, high)


def _shine(strip: Strip) -> Range:
    """What walls like foil do besides."""
    return FOIL if strip.channel_walls == "foil" else Range.exactly(1.0)


@lru_cache(maxsize=256)
def _needed_gap_mm(contrast: float, pitch_mm: float, order: float) -> float:
    """Kept, because a row of alike openings asks for it again and again."""
    return gap_for_contrast(contrast, pitch_mm=pitch_mm, order=order)
