"""How even the windows of a strip look when it is laid otherwise, and how bright."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import shapely

from rushlight.model.place import Point
from rushlight.model.plan_part import Opening
from rushlight.stages.led_currents import least_a
from rushlight.stages.parts_law import strip_current_a, strip_light_a
from rushlight.stages.rooms import opening_mm2
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strip_place import Laid, Room
from rushlight.stages.strips import window_luminance
from rushlight.stages.window_panes import (
    Array,
    Evenness,
    Pane,
    Seen,
    evenness,
    first_sheet_lx,
    pane_of,
    sheets_of,
    shown_over,
)

SAMPLES = 96
"""Places along the longer side of a window's picture."""

REACH = 6.0
"""On a coarse grid LEDs farther off than so many gaps are left out: an endless row has three thousandths there."""


@dataclass(frozen=True, slots=True)
class Look:
    """One window as it would look: its number, by its LEDs alone, with its posts, and its mean luminance."""

    window: int
    alone: Evenness
    with_posts: Evenness
    luminance_cd_m2: float


def looks_of(room: Room, laid: Laid, windows: tuple[int, ...], *, posts: bool, coarser: int) -> tuple[Look, ...]:
    """Windows of a strip as they would look.

    Parameters
    ----------
    room : Room
        Place and drawer.
    laid : Laid
        The strip and its windows.
    windows : tuple of int
        Numbers of the windows that are asked for.
    posts : bool
        Whether posts are to be reckoned with; else both evennesses are of the LEDs alone.
    coarser : int
        Divides the places of the grid each way.
    Returns
    -------
    tuple of Look
        With the strip dimmed as it would be built: to what is wanted on the mean of the windows' logarithms.
    Source
    ------
    `stages.window_panes`, `stages.emitters`.
    """
    looks = []
    for number, row in zip(windows, _lit(room, laid, windows, posts=posts, coarser=coarser), strict=True):
        alone = evenness(row.bare, shown_over(row.bare, row.free, row.seen), row.seen)
        posted = alone
        if posts and row.pane.posts:
            posted = evenness(row.pane, shown_over(row.pane, row.light, row.seen), row.seen)
        looks.append(Look(number, alone, posted, row.seen.luminance_cd_m2))
    return tuple(looks)


@dataclass(frozen=True, slots=True)
class Pattern:
    """Luminance over one window as it would look, on its part: rows from below upwards, evenly over its width and
    height, nought outside its outline."""

    opening: Opening
    corner_mm: Point
    size_mm: Point
    cd_m2: Array


def patterns_of(room: Room, laid: Laid, windows: tuple[int, ...], *, posts: bool) -> tuple[Pattern, ...]:
    """Windows of a strip as they would look, place by place.

    Parameters
    ----------
    room, laid, posts
        As `looks_of`.
    windows : tuple of int
        Numbers of the windows that are shown; the strip is dimmed by all.
    Returns
    -------
    tuple of Pattern
        Behind their sheets, places as they lie on the part.
    Source
    ------
    As `looks_of`.
    """
    lit = _lit(room, laid, tuple(range(len(laid.openings))), posts=posts, coarser=1)
    return tuple(_pattern(laid.openings[number], lit[number]) for number in windows)


def _pattern(opening: Opening, row: _Lit) -> Pattern:
    from scipy.ndimage import map_coordinates

    corners = np.array(opening.shape_mm)
    low, size = corners.min(axis=0), np.ptp(corners, axis=0)
    counts = np.maximum(np.round(SAMPLES * size / size.max()), 1)
    x, y = (low[k] + size[k] * (np.arange(counts[k]) + 0.5) / counts[k] for k in (0, 1))
    places = np.meshgrid(x, y)
    behind, pane = row.pane.behind, row.pane
    (ux, uy), (x0, y0) = behind.way, behind.start_mm
    along = (places[0] - x0) * ux + (places[1] - y0) * uy
    across = (places[1] - y0) * ux - (places[0] - x0) * uy
    at = [(across - pane.across_mm[0]) / pane.step_mm, (along - pane.along_mm[0]) / pane.step_mm]
    shown = map_coordinates(shown_over(pane, row.light, row.seen), at, order=1, mode="nearest")
    inside = shapely.contains_xy(shapely.Polygon(opening.shape_mm), *places)
    luminance = row.seen.luminance_cd_m2 * np.where(inside, shown, 0.0)
    return Pattern(opening, (float(low[0]), float(low[1])), (float(size[0]), float(size[1])), luminance)


@dataclass(frozen=True, slots=True)
class _Lit:
    """One window with the light on its first sheet, with and without its posts, and what is seen of it."""

    pane: Pane
    light: Array
    bare: Pane
    free: Array
    seen: Seen


def _lit(room: Room, laid: Laid, windows: tuple[int, ...], *, posts: bool, coarser: int) -> list[_Lit]:
    place, drawer = room.place, room.drawer
    part = drawer.strip(laid.row)
    emitter = run_emitter(part, laid.run)
    lit = []
    for number in windows:
        pane = pane_of(drawer, place.part, (laid.run, emitter), laid.openings[number], coarser=coarser)
        pane = _near(pane, REACH * laid.run.gap_mm) if coarser > 1 else pane
        bare = replace(pane, posts=())
        pane = pane if posts else bare
        light = first_sheet_lx(part, laid.run, pane)
        lit.append((pane, light, bare, first_sheet_lx(part, laid.run, bare) if pane.posts else light))
    means = [float(light[pane.inside].mean()) for pane, light, _, _ in lit]
    amps = _segment_a(room, laid, windows, means)
    found = []
    for number, mean, (pane, light, bare, free) in zip(windows, means, lit, strict=True):
        opening = laid.openings[number]
        lit_now = window_luminance(drawer, part, laid.run, opening=opening, mean_lx_per_cd=mean,
                                   light_a=strip_light_a(part, amps).typical * place.solved)
        luminance = lit_now.typical * place.read[number]
        seen = Seen(sheets_of(drawer, opening), (), luminance, place.distance_mm)
        found.append(_Lit(pane, light, bare, free, seen))
    return found


def _near(pane: Pane, reach_mm: float) -> Pane:
    """The pane before those LEDs alone that lie near."""
    behind = pane.behind
    near = [(x, y) for x, y in zip(behind.led_along_mm, behind.led_across_mm, strict=True)
            if behind.from_mm - reach_mm <= x <= behind.to_mm + reach_mm and abs(y - behind.aside_mm) <= reach_mm
            + behind.half_width_mm]
    if not near:
        return pane
    along, across = zip(*near, strict=True)
    return replace(pane, behind=replace(behind, led_along_mm=tuple(along), led_across_mm=tuple(across)))


def _segment_a(room: Room, laid: Laid, windows: tuple[int, ...], means: list[float]) -> float:
    """Current of a segment as the strip would be dimmed."""
    place, drawer = room.place, room.drawer
    part = drawer.strip(laid.row)
    rated_a = part.segment_ma / 1000
    if place.held_ma is not None:
        return place.held_ma / 1000 / run_emitter(part, laid.run).segments
    logs = []
    for number, mean in zip(windows, means, strict=True):
        opening, wanted = laid.openings[number], place.wanted_cd[number]
        gives = window_luminance(drawer, part, laid.run, opening=opening, mean_lx_per_cd=mean,
                                 light_a=rated_a).typical
        if gives > 0 and wanted > 0:
            logs.append(math.log(wanted / (opening_mm2(opening) * 1e-6) / gives))
    share = math.exp(math.fsum(logs) / len(logs)) if logs else 1.0
    return min(max(strip_current_a(part, rated_a * share), min(least_a(drawer), rated_a)), rated_a)
