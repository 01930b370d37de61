"""Floodlights on what they light: each pool by itself, and the map of all that fall on one ground."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.geometry.shadow import inside, rings_within
from rushlight.model.design_light import LampLight, Pool, PoolDip, PoolMap, PoolShadow
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Part
from rushlight.optics.pool import cone_edge_mm, pool_radius_mm
from rushlight.optics.pool_map import Beam, beam_lx, dip_between, even_apart_mm, even_height_mm, pools_lx
from rushlight.stages.build import Build
from rushlight.stages.floods import hung_floods, over_ground
from rushlight.stages.leaks import OUTSIDE_REFLECTANCE
from rushlight.stages.pool_shadows import Around, Thing, around_in, reach_mm, shadow_of, things_of
from rushlight.stages.stands import Lit, lit_of
from rushlight.units import Range

Array = NDArray[np.float64]

EVEN_SHARE = 0.5
"""Between two pools that run into one another the light falls to half of the lesser (project proposal)."""

TOUCH_SHARE = 0.1
"""Below a tenth of the lesser the two are pools apart, and may be meant so (project proposal)."""

EDGE_SHARE = 0.1
"""A pool ends where its light is a tenth of its peak: the field of a floodlight (common practice)."""

ACROSS = 72
"""Steps of the grid along the longer side of a ground."""

WIDE_DEG = 89.0
"""A cone as wide as this has no edge on the ground."""

OWN_GROUND = 1.6
"""A ground that the plan does not name is drawn this many lamp heights round foot and aim."""


@dataclass(frozen=True, slots=True)
class _Flood:
    """One floodlight as it stands over its ground, at its light in some state."""

    group: str
    lit: Lit | None
    light: LampLight
    beam: Beam


# --- each by itself ------------------------------------------------------------------------------------------------


def pools_of(build: Build, lights: Sequence[LampLight]) -> tuple[Pool, ...]:
    """Floodlights on the ground where they are aimed, each in its first state; the half radius is across the beam."""
    first: dict[str, _Flood] = {}
    for flood in _floods(build, lights):
        first.setdefault(flood.light.lamp, flood)
    return tuple(_pool(flood) for flood in first.values())


def _pool(flood: _Flood) -> Pool:
    beam = flood.beam
    away = math.dist(beam.foot_mm, beam.aim_mm)
    typical = float(beam_lx(beam, *beam.aim_mm))
    return Pool(
        lamp=flood.light.lamp, height_mm=beam.height_mm, tilt_deg=math.degrees(math.atan2(away, beam.height_mm)),
        centre_lx=_ranged(flood.light.intensity_cd, typical), likely_lx=_ranged(flood.light.likely_cd, typical),
        half_radius_mm=_half_radius_mm(beam, math.hypot(beam.height_mm, away)),
    )


def _half_radius_mm(beam: Beam, far_mm: float) -> float:
    """Where the light has fallen to half, or ends at the edge of the cone before it has."""
    falls = pool_radius_mm(beam.order, far_mm)
    return min(falls, cone_edge_mm(far_mm, beam.edge_deg)) if beam.edge_deg < WIDE_DEG else falls


def _ranged(like: Range, typical: float) -> Range:
    """A typical value with the relative range of another."""
    if like.typical == 0.0:
        return Range.exactly(0.0)
    return Range(typical * like.low / like.typical, typical, typical * like.high / like.typical)


def flood_names(plan: Plan) -> frozenset[str]:
    """Lamps and rows that are floodlights, by the names of the plan's entries."""
    lamps = {lamp.name for lamp in plan.lamps if lamp.lights_mm is not None}
    return frozenset(lamps | {row.name for row in plan.rows if row.lights_mm is not None})


def _floods(build: Build, lights: Sequence[LampLight]) -> list[_Flood]:
    """Every lamp that lights a ground, in each state in which it is lit, as the moving part that it sits on stands."""
    hung = hung_floods(build.plan)
    sources = {source.lamp: source for source in build.sources}
    sits = {lamp.name: lamp.spot for lamp in build.lamps}
    found = []
    for light in lights:
        how = hung.get(light.lamp)
        how = over_ground(build.plan, how, sits[light.lamp], light.state) if how else None
        if how is not None:
            source = sources[light.lamp]
            lit = lit_of(build.plan.part(how.ground), hung[light.lamp].foot_mm) if how.ground else None
            found.append(_Flood(how.group, lit, light, Beam(
                peak_cd=light.intensity_cd.typical, order=light.beam_order, edge_deg=light.beam_edge_deg,
                foot_mm=how.foot_mm, height_mm=how.height_mm, size_mm=source.seen_mm, aim_mm=how.aim_mm,
            )))
    return found


# --- all on one ground ---------------------------------------------------------------------------------------------


def grounds_of(build: Build, lights: Sequence[LampLight]) -> tuple[PoolMap, ...]:
    """The map of every ground that floodlights light; states that light it alike share one."""
    groups: dict[tuple[Any, str], list[_Flood]] = {}
    for flood in _floods(build, lights):
        if flood.beam.peak_cd > 0.0:
            key = flood.lit.key if flood.lit else flood.light.lamp
            groups.setdefault((key, flood.light.state), []).append(flood)
    alike: dict[tuple[Any, tuple[Beam, ...], Around], list[str]] = {}
    for (key, state), floods in groups.items():
        lit = floods[0].lit
        around = around_in(build.plan, lit, state) if lit else Around()
        alike.setdefault((key, tuple(flood.beam for flood in floods), around), []).append(state)
    sits = {lamp.name: lamp.spot for lamp in build.lamps}
    return tuple(
        _map(_Ground(groups[key, states[0]][0].lit, around, sits), groups[key, states[0]], tuple(states))
        for (key, _, around), states in alike.items()
    )


@dataclass(frozen=True, slots=True)
class _Ground:
    """What is lit, None if the plan does not name it; what stands on it or hangs over it; where the lamps sit."""

    lit: Lit | None
    around: Around
    sits: Mapping[str, Spot | None]

    @property
    def part(self) -> Part | None:
        """The part that is lit."""
        return self.lit.part if self.lit else None


@dataclass(frozen=True, slots=True)
class _Grid:
    corner_mm: Point
    step_mm: float
    x: Array
    y: Array


def _map(ground: _Ground, floods: Sequence[_Flood], states: tuple[str, ...]) -> PoolMap:
    part, around = ground.part, ground.around
    beams = [flood.beam for flood in floods]
    grid = _grid(part, beams)
    free = pools_lx(beams, grid.x, grid.y)
    things = things_of(around)
    dark = [[shadow_of(row, flood.beam, ground.sits[flood.light.lamp]) for row in things] for flood in floods]
    cast = [[_within(row.beyond, grid) for row in rows] for rows in dark]
    pools = [_pool_area(one, grid) for one in free]
    reached = np.array([_reached([_within(row.whole, grid) for row in rows], grid) for rows in dark])
    each = free * reached
    total = each.sum(axis=0)
    bare = _bare(grid, ground)
    peak = tuple(int(k) for k in np.unravel_index(int(np.argmax(np.where(bare, total, -1.0))), total.shape))
    lit = bare & (total >= EDGE_SHARE * total[peak]) & (total > 0.0)
    peaks = [float(one[peak]) for one in each]
    means = [float(one[lit].mean()) if lit.any() else 0.0 for one in each]
    outer, likely = ([getattr(flood.light, name) for flood in floods] for name in ("intensity_cd", "likely_cd"))
    mean = _summed(outer, means)
    edge = part.outline_mm if part else _frame(grid)
    seen = _Seen(grid, bare, total, free.sum(axis=0))
    shadows = [
        _shadow(row, flood, rings_within(cast[place][k].intersection(pools[place]), edge), taken)
        for place, flood in enumerate(floods) for k, row in enumerate(things)
        if (taken := _taken(cast[place][k], free[place], seen)).share > 0.0
    ]
    return PoolMap(
        part=part.name if part else None, states=states, lamps=tuple(flood.light.lamp for flood in floods),
        feet_mm=tuple(beam.foot_mm for beam in beams), aims_mm=tuple(beam.aim_mm for beam in beams),
        corner_mm=grid.corner_mm, step_mm=grid.step_mm,
        lx=tuple(tuple(float(value) for value in row) for row in total.round(4)),
        peak_lx=_summed(outer, peaks), peak_at_mm=(float(grid.x[peak]), float(grid.y[peak])), mean_lx=mean,
        likely_peak_lx=_summed(likely, peaks), likely_mean_lx=_summed(likely, means),
        evenness=float(total[lit].min() / mean.typical) if lit.any() and mean.typical > 0 else 0.0,
        pool_mm2=float(lit.sum() * grid.step_mm**2), reflectance=OUTSIDE_REFLECTANCE, shadows=tuple(shadows),
        dips=_dips(floods), standing=around.standing, walls=around.walls, unknown=around.unknown,
    )


def _summed(like: Sequence[Range], typical: Sequence[float]) -> Range:
    """Typical values with the relative ranges of others, all together."""
    total = Range.exactly(0.0)
    for one, value in zip(like, typical, strict=True):
        total = total.plus(_ranged(one, value))
    return total


def _grid(part: Part | None, beams: Sequence[Beam]) -> _Grid:
    """Middles of equal squares over the part, or round foot and aim."""
    if part is not None:
        spots, grown = list(part.outline_mm), 0.0
    else:
        spots = [spot for beam in beams for spot in (beam.foot_mm, beam.aim_mm)]
        grown = OWN_GROUND * max(beam.height_mm for beam in beams)
    left, low = (min(spot[k] for spot in spots) - grown for k in (0, 1))
    right, high = (max(spot[k] for spot in spots) + grown for k in (0, 1))
    step = max(right - left, high - low) / ACROSS
    columns, rows = (max(2, round(size / step)) for size in (right - left, high - low))
    x, y = np.meshgrid(left + step * (0.5 + np.arange(columns)), low + step * (0.5 + np.arange(rows)))
    return _Grid((left + step / 2, low + step / 2), step, x, y)


def _frame(grid: _Grid) -> tuple[Point, ...]:
    left, low, right, high = (float(end) for end in (grid.x.min(), grid.y.min(), grid.x.max(), grid.y.max()))
    return ((left, low), (right, low), (right, high), (left, high))


def _bare(grid: _Grid, ground: _Ground) -> NDArray[np.bool_]:
    """Where the ground is: on the flat piece of the part that is lit, and not under what stands on it."""
    bare = np.ones(grid.x.shape, dtype=np.bool_) if ground.lit is None else inside(ground.lit.area, grid.x, grid.y)
    for row in ground.around.standing:
        if row.above_mm > 0.0:
            continue
        bare &= ~inside(row.shape_mm, grid.x, grid.y)
    return bare


def _pool_area(own: Array, grid: _Grid) -> Any:
    """Where a lamp by itself gives a tenth of its peak or more."""
    lit = own >= EDGE_SHARE * float(own.max())
    return shapely.MultiPoint(np.column_stack([grid.x[lit], grid.y[lit]])).convex_hull.buffer(grid.step_mm)


def _within(area: Any, grid: _Grid) -> Any:
    """A shadow, or nothing where it misses the ground."""
    box = shapely.box(grid.x.min(), grid.y.min(), grid.x.max(), grid.y.max())
    return area if area.intersects(box) else shapely.Polygon()


def _reached(areas: Sequence[Any], grid: _Grid) -> Array:
    reached = np.ones(grid.x.shape)
    for area in areas:
        if area.is_empty:
            continue
        reached[inside(area, grid.x, grid.y)] = 0.0
    return reached


# --- what is wrong with them ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Seen:
    """The ground with its light, and what it would be without any shadow."""

    grid: _Grid
    bare: NDArray[np.bool_]
    lx: Array
    free_lx: Array


@dataclass(frozen=True, slots=True)
class _Taken:
    share: float
    left: float


def _taken(area: Any, own: Array, seen: _Seen) -> _Taken:
    """What a shadow takes of a lamp's own pool, and what other lamps leave in it."""
    if area.is_empty:
        return _Taken(0.0, 1.0)
    pool = seen.bare & (own > 0.0) & (own >= EDGE_SHARE * float(np.where(seen.bare, own, 0.0).max()))
    dark = pool & inside(area, seen.grid.x, seen.grid.y)
    if not dark.any():
        return _Taken(0.0, 1.0)
    return _Taken(float(dark.sum() / pool.sum()), float(seen.lx[dark].sum() / seen.free_lx[dark].sum()))


def _shadow(row: Thing, flood: _Flood, rings: tuple[tuple[Point, ...], ...], taken: _Taken) -> PoolShadow:
    return PoolShadow(
        lamp=flood.light.lamp, of=row.name, tall_mm=row.tall_mm, lamp_mm=flood.beam.height_mm, share=taken.share,
        reach_mm=reach_mm(row, flood.beam), left_share=taken.left, outlines_mm=rings,
    )


def _dips(floods: Sequence[_Flood]) -> tuple[PoolDip, ...]:
    """Neighbours whose pools touch without running into one another."""
    found = []
    aims = np.array([flood.beam.aim_mm for flood in floods])
    for a, b in combinations(floods, 2):
        first, second = a.beam, b.beam
        apart = math.dist(first.aim_mm, second.aim_mm)
        middle = ((first.aim_mm[0] + second.aim_mm[0]) / 2, (first.aim_mm[1] + second.aim_mm[1]) / 2)
        between = np.hypot(*(aims - middle).T) < apart / 2 * (1 - 1e-9)
        if apart == 0.0 or between.any() or _back_to_back(first, second):
            continue
        others = [flood.beam for flood in floods if flood is not a and flood is not b]
        dip = dip_between(first, second, others=others)
        if TOUCH_SHARE <= dip.share < EVEN_SHARE:
            at = tuple(p + dip.along * (q - p) for p, q in zip(first.aim_mm, second.aim_mm, strict=True))
            found.append(PoolDip(
                lamps=(a.light.lamp, b.light.lamp), share=dip.share, at_mm=(at[0], at[1]), apart_mm=apart,
                even_apart_mm=even_apart_mm(first, second, share=EVEN_SHARE),
                even_height_mm=even_height_mm(first, second, share=EVEN_SHARE),
            ))
    return tuple(found)


def _back_to_back(first: Beam, second: Beam) -> bool:
    """Whether both shine away from one another, as on two sides of a house: what lies between is nobody's pool."""
    way = [b - a for a, b in zip(first.aim_mm, second.aim_mm, strict=True)]
    out = [[a - f for f, a in zip(beam.foot_mm, beam.aim_mm, strict=True)] for beam in (first, second)]
    along = [sum(o * w for o, w in zip(one, way, strict=True)) for one in out]
    return along[0] < 0.0 < along[1]
