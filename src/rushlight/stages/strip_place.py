"""Where a strip may lie: on its part, clear of what stands there, and how far back."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
import shapely.ops

from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Plan, Strip
from rushlight.model.plan_part import Opening, Part
from rushlight.stages.parts_law import emitter_light_a
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strip_depth import depth_behind, wants_mm
from rushlight.stages.strips import find_opening, run_of, solved_a

TOUCHES_MM2 = 0.01
"""A strip that covers less than this of a keep-out only touches it."""

Band = tuple[tuple[Point, ...], float]
"""Another strip of the part: its line, and its width in mm."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A strip behind its windows: its run, its row of the drawer, and the windows with their sheets and posts."""

    run: Strip
    row: str
    openings: tuple[Opening, ...]


@dataclass(frozen=True, slots=True)
class Place:
    """What bounds a strip and how it is lit: its part, what else lies there, the depth behind, its current.

    `depth_mm` is the free depth behind the outer face, endless where the plan tells none; `wanted_cd` is by window,
    `solved` the light's current over the aimed one, `held_ma` a current that is held for the whole strip, `read` by
    window what readings at the bench make of the law's luminance.
    """

    part: Part
    beside: tuple[Band, ...]
    now: Laid
    depth_mm: float
    wanted_cd: tuple[float, ...]
    solved: float
    held_ma: float | None
    distance_mm: float
    read: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """The drawer and the ground on which a strip may lie: its part but for what stands there."""

    place: Place
    drawer: Drawer
    free: shapely.Polygon | shapely.MultiPolygon

    def fits(self, laid: Laid) -> bool:
        """Whether a strip could lie so: it covers nothing, hangs over no edge and needs no depth but where it does so
        now."""
        return (self.back_mm(laid) <= self.place.depth_mm + 1e-9
                and bool(self.free.contains(band(self.drawer.strip(laid.row), laid.run))))

    def back_mm(self, laid: Laid) -> float:
        """How far behind the windows a strip reaches with all its sheets."""
        return wants_mm(self.drawer, laid.run, laid.openings)


def room_of(place: Place, drawer: Drawer, *, whole: bool = True) -> Room:
    """The room that a place leaves; the strip as it is drawn, not its whole cut lengths, may lie on where `whole` is
    false."""
    now = band(drawer.strip(place.now.row), place.now.run, whole=whole)
    shapes = [shapely.Polygon(row.shape_mm) for row in place.part.keep_outs if row.why != "clear part"]
    shapes += [shapely.box(x, y, x + wide, y + high) for x, y, wide, high in (bay.rect_mm for bay in place.part.bays)]
    shapes += [shapely.LineString(line).buffer(wide / 2, cap_style="flat") for line, wide in place.beside]
    free: Any = shapely.Polygon(place.part.outline_mm).buffer(0).union(now)
    for shape in shapes:
        if shape.buffer(0).intersection(now).area < TOUCHES_MM2:
            free = free.difference(shape.buffer(0))
    return Room(place, drawer, free.buffer(1e-6))


def band(part: StripPart, run: Strip, *, whole: bool = True) -> Any:
    """The ground that a strip covers, from its first cut to its last, past its line where that is too short for one;
    the line as it is drawn where `whole` is false."""
    line = whole_line(run.along_mm, lengths_of(part, run) * part.segment_mm) if whole else run.along_mm
    return shapely.LineString(line).buffer(part.width_mm / 2, cap_style="flat")


def whole_line(line: tuple[Point, ...], length_mm: float) -> tuple[Point, ...]:
    """A line cut to a length, or run straight on past its last point to it."""
    drawn: Any = shapely.LineString(line)
    if length_mm < drawn.length:
        cut = shapely.ops.substring(drawn, 0.0, length_mm)
        return tuple((float(x), float(y)) for x, y in cut.coords)
    before, last = np.array(line[-2]), np.array(line[-1])
    end = last + _way(before, last) * (length_mm - drawn.length)
    return (*line[:-1], (float(end[0]), float(end[1])))


def lengths_of(part: StripPart, run: Strip) -> int:
    """How many cut lengths a run has."""
    return run_emitter(part, run).segments


def place_of(design: Design, emitter: Emitter) -> Place:
    """What bounds a strip of a design."""
    plan, run = design.plan, run_of(emitter)
    openings = tuple(find_opening(plan, emitter, lamp) for lamp in emitter.lamps)
    now = Laid(run, emitter.part_row, openings)
    beside = tuple((run_of(row).along_mm, design.drawer.strip(row.part_row).width_mm) for row in design.loom.emitters
                   if row.kind == "strip" and row.name != emitter.name and run_of(row).part == run.part)
    wanted = {aim.lamp: aim.wanted_cd for aim in design.aims}
    amps, warmth = solved_a(design.power, design.drawer, emitter)
    held = any(pin.choice == "current_ma" and pin.of in (emitter.circuit, emitter.name) for pin in plan.pinned)
    bare = Place(
        part=plan.part(run.part), beside=beside, now=now, depth_mm=math.inf,
        wanted_cd=tuple(wanted[lamp] for lamp in emitter.lamps),
        solved=_rounded(amps * warmth.typical / max(_aimed_light_a(design.drawer, emitter), 1e-9)),
        held_ma=1000 * emitter.aim_current_a if held else None, distance_mm=plan.subject.viewing_distance_mm,
        read=_read_times(design, emitter),
    )
    return replace(bare, depth_mm=_depth_mm(plan, now, wants_mm(design.drawer, run, openings)))


def _aimed_light_a(drawer: Drawer, emitter: Emitter) -> float:
    """What each segment would give at the current that the strip is meant to have, as `strip_light_a` counts it."""
    return emitter_light_a(drawer, emitter, emitter.aim_current_a / max(emitter.segments, 1)).typical


def _read_times(design: Design, emitter: Emitter) -> tuple[float, ...]:
    """By window what was read over what the law gives, to three digits."""
    law = {row.lamp: row.luminance_cd_m2.typical for row in design.light.strips}
    shown: dict[str, float] = {}
    for light in design.light.lamps:
        if light.lamp in law and light.luminance_cd_m2.typical > 0.0:
            shown.setdefault(light.lamp, light.luminance_cd_m2.typical)
    return tuple(float(f"{shown[lamp] / law[lamp]:.3g}") if law.get(lamp) and lamp in shown else 1.0
                 for lamp in emitter.lamps)


def _rounded(value: float) -> float:
    """To two digits, so that an edit elsewhere that hardly changes the current finds what was tried before."""
    return float(f"{value:.2g}")


def _depth_mm(plan: Plan, laid: Laid, least_mm: float) -> float:
    """The narrowest side behind the windows into which what is there now goes, else the widest; endless where the plan
    tells none."""
    depth = depth_behind(plan, laid.run, laid.openings)
    if depth is None:
        return math.inf
    return next((side for side in depth.sides_mm if side >= least_mm), depth.sides_mm[-1])


# --- changes ---------------------------------------------------------------------------------------------------------


def laid_along(laid: Laid, along: tuple[Point, ...]) -> Laid:
    """The strip on another line, in hundredths of a millimetre: far finer than what would cost a cut length."""
    return replace(laid, run=replace(laid.run, along_mm=tuple((round(x, 2), round(y, 2)) for x, y in along)))


def moved(laid: Laid, by_mm: Point) -> Laid:
    """The whole run elsewhere."""
    return laid_along(laid, tuple((x + by_mm[0], y + by_mm[1]) for x, y in laid.run.along_mm))


def run_on(part: StripPart, laid: Laid, *, first: int, last: int) -> Laid:
    """Longer by whole cut lengths at its first and at its last end, straight on."""
    line = [np.array(at) for at in laid.run.along_mm]
    whole = (lengths_of(part, laid.run) + last) * part.segment_mm
    start, end = _way(line[1], line[0]), _way(line[-2], line[-1])
    length = sum(float(np.linalg.norm(b - a)) for a, b in pairwise(line))
    if last:
        line[-1] = line[-1] + end * (whole - length)
    line[0] = line[0] + start * first * part.segment_mm
    return laid_along(laid, tuple((float(x), float(y)) for x, y in line))


def ends_of(part: StripPart, run: Strip) -> tuple[Point, Point]:
    """First cut and last cut, straight on past the line where that is too short."""
    points = run_emitter(part, run).strip_points_mm
    first, last = np.array(run.along_mm[0]), np.array(points[-1])
    end = last + _way(np.array(run.along_mm[-2]), np.array(run.along_mm[-1])) * part.pitch_mm / 2
    return (float(first[0]), float(first[1])), (float(end[0]), float(end[1]))


def _way(start: np.ndarray, end: np.ndarray) -> np.ndarray:
    span = end - start
    return np.asarray(span / (float(np.linalg.norm(span)) or 1.0))
