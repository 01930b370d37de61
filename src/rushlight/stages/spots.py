"""Bright spots on walls right beside their LEDs: where, how bright, in which state."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.likely import Guesses, joined, known_apart, likely_range, likely_times
from rushlight.model.design_light import WallGlow, WallSpot
from rushlight.model.design_loom import Emitter
from rushlight.model.place import Point
from rushlight.model.plan_part import Opening, Part
from rushlight.optics.spot import before_lx, beside_lx
from rushlight.optics.wall import leak_luminance_cd_m2
from rushlight.stages.build import Build
from rushlight.stages.leaks import scaled, wall_xy
from rushlight.stages.painted_wall import wall_guesses, wall_through
from rushlight.stages.rooms import BOXED_ROOM_MM, space_depth_mm
from rushlight.stages.strays import STRAY, Stray, Strays, emitter_flux_lm
from rushlight.stages.strips import run_of
from rushlight.units import Range

Array = NDArray[np.float64]


def spots_of(build: Build, strays: Strays) -> tuple[WallSpot, ...]:
    """Every emitter's spot on the part that it sits on; of lamps that shine inward, which face away from it, none.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    strays : Strays
        What is set free inside, state by state.
    Returns
    -------
    tuple of WallSpot
        Brightest luminance in the state with most light, at the least distance that is not hole or opening.
    Source
    ------
    Distance law on the stray flux, of a strip, which faces the wall, on all of its light; how far off the wall a source
    sits: of an LED half its height (its body's radius at the bright end, all its height at the dim one), of a sleeved
    one half its body, of a strip its gap, of an LED in a room half the room's depth (project proposal).
    """
    known = _Known(build, strays)
    return tuple(found for emitter in build.loom.emitters if (found := _spot(build, known, emitter)) is not None)


class _Known:
    """What is asked of every emitter, by name."""

    def __init__(self, build: Build, strays: Strays) -> None:
        self.inward = frozenset(lamp.name for lamp in build.lamps if lamp.facing == "inward")
        self.holes_mm = {source.lamp: source.hole_mm or 0.0 for source in build.sources}
        self.openings = {lamp.name: lamp.opening for lamp in build.lamps}
        self.own: dict[str, list[tuple[str, Stray]]] = {}
        for state, parts in strays.items():
            for stray in (stray for row in parts.values() for stray in row):
                if not stray.tail and stray.flux_lm.typical > 0:
                    self.own.setdefault(stray.emitter, []).append((state, stray))


def _spot(build: Build, known: _Known, emitter: Emitter) -> WallSpot | None:
    own = known.own.get(emitter.name)
    if not own or (emitter.kind == "led" and known.inward.intersection(emitter.lamps)):
        return None
    state, most = max(own, key=lambda pair: pair[1].flux_lm.typical)
    part = build.plan.part(emitter.spot.part)
    off, begins = _off_mm(build, known, emitter), _from_mm(build, known, emitter)
    bright = _brightest(build, emitter, _at_wall(build, emitter, most, state), off=off, from_mm=begins)
    glows = tuple(
        WallGlow(state=name, luminance_cd_m2=scaled(bright, stray.flux_lm, most.flux_lm), xy=wall_xy(part, stray.xy),
                 lamps=stray.lamps)
        for name, stray in own
    )
    light = tuple(row for row in most.guesses if emitter.kind != "strip" or not row[0].startswith(STRAY))
    reach = likely_times(joined(light, _wall_guesses(build, emitter, off, begins)))
    return WallSpot(part=emitter.spot.part, emitter=emitter.name, state=state, luminance_cd_m2=bright,
                    likely_cd_m2=likely_range(bright, reach), off_mm=off.typical, from_mm=begins, glows=glows,
                    points_mm=emitter.strip_points_mm or (emitter.spot.at_mm,))


def _at_wall(build: Build, emitter: Emitter, stray: Stray, state: str) -> Range:
    """Flux that the law takes to the wall: what strays; of a strip, which faces the wall as its openings, all."""
    if emitter.kind != "strip":
        return stray.flux_lm
    lit = next(row for one in build.power.states if one.state == state for row in one.lit
               if row.emitter == emitter.name)
    return emitter_flux_lm(build, emitter, lit.light_a).times(lit.light_range)


def _brightest(build: Build, emitter: Emitter, flux_lm: Range, *, off: Range, from_mm: float) -> Range:
    """Where the wall comes nearest, end by end; far off is dim."""
    through = wall_through(build.drawer, build.plan.part(emitter.spot.part))
    away = np.array([from_mm])

    def seen(flux_lm: float, off_mm: float, share: float) -> float:
        return leak_luminance_cd_m2(float(_lx(emitter, flux_lm, off_mm, away)[0]), share)

    typical = seen(flux_lm.typical, off.typical, through.typical)
    ends = (seen(flux_lm.low, off.high, through.low), seen(flux_lm.high, off.low, through.high))
    return Range(min(*ends, typical), typical, max(*ends, typical))


def _wall_guesses(build: Build, emitter: Emitter, off: Range, from_mm: float) -> Guesses:
    """What a spot hangs on besides its light: how far behind the wall its source sits, and the wall."""
    away = np.array([from_mm])
    lit = [float(_lx(emitter, 1.0, at, away)[0]) for at in (off.low, off.typical, off.high)]
    part = build.plan.part(emitter.spot.part)
    return joined(known_apart([("how far behind it sits", Range(min(lit), lit[1], max(lit)))]),
                  wall_guesses(build.drawer, part))


def _lx(emitter: Emitter, flux_lm: float, off_mm: float, away_mm: Array) -> Array:
    """Light of all points of an emitter, seen from its middle one."""
    if emitter.kind != "strip":
        return beside_lx(flux_lm, off_mm=off_mm, away_mm=away_mm)
    points = emitter.strip_points_mm
    middle = points[len(points) // 2]
    each = [before_lx(flux_lm / len(points), off_mm=off_mm, away_mm=np.hypot(math.dist(point, middle), away_mm))
            for point in points]
    return np.asarray(sum(each))


def spot_shares(spot: WallSpot, places_mm: Array) -> Array:
    """Luminance at places on the part over the spot's own.

    Parameters
    ----------
    spot : WallSpot
        One of `spots_of`.
    places_mm : array (..., 2)
        Places on the part.
    Returns
    -------
    array (...)
        Share [-]; 1 where the wall comes nearest to the source.
    Source
    ------
    The laws of `spots_of`, summed over all LEDs of a strip.
    """
    law = before_lx if len(spot.points_mm) > 1 else beside_lx

    def summed(at: Array) -> Array:
        return np.asarray(sum(law(1.0, off_mm=spot.off_mm, away_mm=np.hypot(at[..., 0] - x, at[..., 1] - y))
                              for x, y in spot.points_mm))

    x, y = spot.points_mm[len(spot.points_mm) // 2]
    aside = _aside(spot.points_mm)
    here = np.array([x + spot.from_mm * aside[0], y + spot.from_mm * aside[1]])
    return np.minimum(summed(places_mm) / summed(here), 1.0)


def _aside(points: tuple[Point, ...]) -> Point:
    """Square to a row of points."""
    far = math.dist(points[0], points[-1])
    return (1.0, 0.0) if far == 0 else (-(points[-1][1] - points[0][1]) / far, (points[-1][0] - points[0][0]) / far)


def _off_mm(build: Build, known: _Known, emitter: Emitter) -> Range:
    if emitter.kind == "strip":
        return Range.exactly(run_of(emitter).gap_mm)
    if emitter.kind == "room":
        depth_mm = space_depth_mm(build.plan, known.openings[emitter.lamps[0]]) or BOXED_ROOM_MM
        return Range.spread(depth_mm / 2, 0.6, 1.6)
    led = build.drawer.led(emitter.part_row)
    if emitter.kind == "illuminator":
        return Range.spread(led.body_mm / 2, 0.9, 1.5)
    return Range(*sorted((led.body_mm / 2, led.height_mm / 2, max(led.height_mm, led.body_mm / 2))))


def _from_mm(build: Build, known: _Known, emitter: Emitter) -> float:
    """How near to the point next to the source the wall begins: at the edge of its hole or opening."""
    if emitter.kind == "led":
        return max(known.holes_mm[name] for name in emitter.lamps) / 2
    if emitter.kind == "illuminator":
        return 0.0
    part = build.plan.part(emitter.spot.part)
    if emitter.kind == "strip":
        return _past_openings_mm(part, emitter.strip_points_mm)
    openings = {known.openings[name] for name in emitter.lamps}
    return min((_narrow_mm(row) for row in part.openings if row.name in openings), default=0.0) / 2


def _past_openings_mm(part: Part, points: tuple[Point, ...]) -> float:
    """From the LED that is nearest to the wall; 0 where one faces it, between openings or beyond the last."""
    cut = shapely.union_all([shapely.Polygon(row.shape_mm).buffer(0) for row in part.openings])
    wall = shapely.Polygon(part.outline_mm).buffer(0).difference(cut)
    return float(min(shapely.distance(wall, shapely.points(points))))


def _narrow_mm(opening: Opening) -> float:
    xs, ys = zip(*opening.shape_mm, strict=True)
    return float(min(max(xs) - min(xs), max(ys) - min(ys)))
