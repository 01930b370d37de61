"""Where light gets out past the wall: seams, posts, rings round fibres, holes and openings that stay dark."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import shapely

from rushlight.likely import Guesses, joined, known_apart, likely_range, likely_times, ln_apart
from rushlight.model.design import PlacedLamp, Source
from rushlight.model.design_light import Leak, WallGlow, WayOut
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point
from rushlight.model.plan_part import KeepOut, Part
from rushlight.optics.eye import Room, viewing_room
from rushlight.optics.slit import hole_share, inner_wall_cd_m2, lip_share, seen_as_cd_m2, slit_share
from rushlight.optics.wall import leak_luminance_cd_m2
from rushlight.stages.build import Build
from rushlight.stages.leaks import (
    PAINT,
    ROOMS,
    inside_guesses,
    least_seen_here,
    least_seen_in,
    room_here,
    scaled,
    wall_xy,
)
from rushlight.stages.measured_found import HOLE_PLAY, LIP_LAP, POST_GAP, POST_PAINT, POST_ROOT, SEAM_GAP, USUAL_GAPS
from rushlight.stages.measured_places import usual_gap_mm
from rushlight.stages.painted_wall import room_reflectance, wall_through
from rushlight.stages.rooms import opening_mm2, opening_through, parts_round
from rushlight.stages.sources.common import drill_mm
from rushlight.stages.strays import Strays, flux_of, mixed_xy, together, within
from rushlight.units import Range

GAP = "the gap"
"""A guess: all that is not known of a way out."""

TAPE = "black vinyl tape"
"""The coat of the drawer that stands for tape behind a seam."""

MOST_REFLECTANCE = 0.95

CORNERS = 4
"""Corners of a quarter of a round edge as it is drawn."""


@dataclass(frozen=True, slots=True)
class _Gap:
    """One kind of gap before it is lit: its place, its size, what of the light behind shows in it."""

    kind: str
    name: str
    count: int
    width_mm: Range
    depth_mm: float
    area_mm2: float
    """Of one of them, at its typical width."""
    share: Range
    """Its luminance over that of the inside, or what wall or sheet lets through where it is `thin` or a `sheet`."""
    outlines_mm: tuple[tuple[Point, ...], ...]
    lamps: frozenset[str] = frozenset()
    """Lamps beside which it is not seen while they are lit."""
    thin: bool = False
    """Wall, not a gap: what shows is the light that falls on it from inside."""
    sheet: bool = False
    """A matt sheet stands in it, which shows the light that falls on it too, in the light's own colour."""


def ways_out(build: Build, leaks: tuple[Leak, ...], strays: Strays) -> tuple[WayOut, ...]:
    """Every gap through which the light inside a part shows, as far as the plan tells of it.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    leaks : tuple of Leak
        Light inside each part.
    strays : Strays
        What is set free inside, state by state.
    Returns
    -------
    tuple of WayOut
        Seams; posts; rings round the fibres and LEDs of lamps that are dark in some lit state; holes of lamps that
        always stay dark; openings that no lamp is meant for: clear ones show the inside, a matt sheet glows with what
        falls on it, E T / pi. The inside is lit evenly; a near LED adds nothing.
    Source
    ------
    See `optics.slit`; usual widths from way_out_usual.csv.
    """
    drilled = _Drilled(build)
    found = []
    for leak in leaks:
        part = build.plan.part(leak.part)
        inside = inside_guesses(build, part, within(strays, leak.state, together(build.plan, leak.part)))
        rows = (_lit(build, leak, gap, strays, inside) for gap in _gaps(build, part, drilled))
        found += [row for row in rows if row is not None]
    return tuple(found)


def _gaps(build: Build, part: Part, drilled: _Drilled) -> Iterator[_Gap]:
    if part.seams_mm and part.seams_closed != "filled":
        yield _seams(build, part)
    if not part.holes_sealed:
        yield from _posts(build, part)
        yield from _holes(build, part, drilled)
    yield from _openings(build, part)


# --- seams --------------------------------------------------------------------------------------------------------


def _seams(build: Build, part: Part) -> _Gap:
    wide = _seam_mm(build, part)
    lines = [shapely.LineString(line) for line in part.seams_mm if len(line) > 1]
    long_mm = max((line.length for line in lines), default=0.0)
    edges = tuple(edge for line in lines for edge in _edges(line.buffer(wide.typical / 2, cap_style="flat")))
    name = "its seam" if len(part.seams_mm) == 1 else "its seams"
    return _Gap("seam", name, len(part.seams_mm), wide, part.wall_mm, long_mm * wide.typical,
                _past_closed(build, part, wide), edges)


def _seam_mm(build: Build, part: Part) -> Range:
    """As it was read, else as the plan says, else the usual one."""
    told = None if part.seam_gap_mm is None else Range.exactly(part.seam_gap_mm)
    return build.drawer.measured(SEAM_GAP, part.name) or told or _read_mm(build, part, SEAM_GAP)


def _read_mm(build: Build, part: Part, gap: str) -> Range:
    """A part's gap as it was read, else the usual one."""
    return build.drawer.measured(gap, part.name) or usual_gap_mm(USUAL_GAPS[gap])


def _past_closed(build: Build, part: Part, wide: Range) -> Range:
    """What an open, lipped or taped seam lets through: the mean over all directions, at most what shows square on."""
    bare = build.drawer.wall(part.wall).reflectance
    if part.seams_closed == "lip behind":
        return _lipped(part.wall_mm, wide, _read_mm(build, part, LIP_LAP), bare)
    slit = _slit(part.wall_mm, wide, bare)
    if part.seams_closed != "taped inside":
        return slit
    density = build.drawer.coat(TAPE).density
    return slit.times(Range(10**-density.high, 10**-density.typical, 10**-density.low))


def _slit(depth_mm: float, wide: Range, flanks: Range) -> Range:
    """The mean over all directions; square on, the brightest way to look, it shows all that lies behind."""
    low, typical = (slit_share(depth_mm / width, min(rho, MOST_REFLECTANCE)) if width > 0 else 0.0
                    for width, rho in ((wide.low, flanks.low), (wide.typical, flanks.typical)))
    return Range(low, typical, 1.0 if wide.high > 0 else 0.0)


def _lipped(depth_mm: float, wide: Range, lap: Range, rho: Range) -> Range:
    """Narrow, dark and far behind at the low end; at the high end the lip's face is seen square on."""
    return Range(lip_share(depth_mm / wide.low, lap.high / wide.low, rho.low),
                 lip_share(depth_mm / wide.typical, lap.typical / wide.typical, rho.typical),
                 lip_share(0.0, lap.low / wide.high, min(rho.high, MOST_REFLECTANCE)))


# --- posts --------------------------------------------------------------------------------------------------------


def _posts(build: Build, part: Part) -> Iterator[_Gap]:
    """A post that stands out through the wall leaves a slit; one inside, a corner that paint hardly reaches."""
    for post in part.keep_outs:
        if post.why == "post" and post.height_mm is not None:
            wide = _read_mm(build, part, POST_GAP)
            share = _slit(part.wall_mm, wide, build.drawer.wall(part.wall).reflectance)
            yield _round("post", post, part, wide, share)
        elif post.why == "post" and part.coats:
            root = _round("post root", post, part, _read_mm(build, part, POST_ROOT), _thin(build, part))
            yield replace(root, thin=True)


def _round(kind: str, post: KeepOut, part: Part, wide: Range, share: Range) -> _Gap:
    shape = shapely.Polygon(post.shape_mm).buffer(0)
    ring = shape.buffer(wide.typical, quad_segs=CORNERS).difference(shape)
    return _Gap(kind, post.name, 1, wide, part.wall_mm, ring.area, share, tuple(_edges(ring)))


def _thin(build: Build, part: Part) -> Range:
    """What a root lets through: so many times what the painted wall does, and no more than the bare one."""
    bare, all_ = (wall_through(build.drawer, replace(part, coats=coats)) for coats in ((), part.coats))
    found = all_.times(root_times(build.drawer, part))
    return Range(*(min(end, bare.high) for end in (found.low, found.typical, found.high)))


def root_times(drawer: Drawer, part: Part) -> Range:
    """What a post's root lets through over the open painted wall [-]: as it was read, else as any."""
    return drawer.measured(POST_PAINT, part.name) or usual_root_times(drawer, part)


def usual_root_times(drawer: Drawer, part: Part) -> Range:
    """All coats at best, the first one as a rule, none at worst."""
    all_, one, none = (wall_through(drawer, replace(part, coats=coats))
                       for coats in (part.coats, part.coats[:1], ()))
    typical = max(one.typical / all_.typical, 1.0)
    return Range(1.0, typical, max(none.high / all_.high, typical))


# --- holes --------------------------------------------------------------------------------------------------------


class _Drilled:
    """Lamps with a drilled hole, by part; those of a row with equal holes and states together."""

    def __init__(self, build: Build) -> None:
        found: dict[str, dict[tuple[str, str, bool, float], list[tuple[PlacedLamp, Source]]]] = {}
        for lamp, source in zip(build.lamps, build.sources, strict=True):
            if lamp.spot is None or source.hole_mm is None or lamp.facing == "inward" or lamp.worth == "left out":
                continue
            key = (lamp.group, source.led, lamp.dark, source.hole_mm)
            found.setdefault(lamp.spot.part, {}).setdefault(key, []).append((lamp, source))
        self.by_part = found


def _holes(build: Build, part: Part, drilled: _Drilled) -> Iterator[_Gap]:
    for (group, _, dark, _), lamps in drilled.by_part.get(part.name, {}).items():
        gap = _hole(build, part, (group, dark), lamps)
        if gap is not None:
            yield gap


def _hole(
    build: Build, part: Part, of: tuple[str, bool], lamps: list[tuple[PlacedLamp, Source]]
) -> _Gap | None:
    """A hole of a dark lamp is open; one of a lit lamp leaves a ring round its fibre or LED."""
    (group, dark), (_, source) = of, lamps[0]
    play = build.drawer.measured(HOLE_PLAY, "holes") or usual_gap_mm("fibre play")
    drill = drill_mm(build.drawer, source.drill, source.hole_mm or 0.0)
    spots = [lamp.spot.at_mm for lamp, _ in lamps if lamp.spot is not None]
    name = group if len(lamps) == 1 else f"{group} ({len(lamps)})"
    if dark:
        wide = Range(drill, drill + play.typical, drill + play.high)
        share = Range(hole_share(part.wall_mm / wide.low), hole_share(part.wall_mm / wide.typical), 1.0)
        rings = tuple(edge for at in spots for edge in _ring(at, wide.typical, 0.0))
        return _Gap("dark hole", name, len(lamps), wide, part.wall_mm, math.pi * wide.typical**2 / 4, share, rings)
    body = _body_mm(build, source)
    if body is None:
        return None
    wide = Range(*(max(0.0, (drill + more - body) / 2) for more in (0.0, play.typical, play.high)))
    area = math.pi * ((body / 2 + wide.typical) ** 2 - body**2 / 4)
    outer = body + 2 * wide.typical
    rings = tuple(edge for at in spots for edge in _ring(at, outer, body))
    share = _slit(part.wall_mm, wide, build.drawer.wall(part.wall).reflectance)
    return _Gap("fibre" if source.kind == "fibre" else "LED", name, len(lamps), wide, part.wall_mm, area, share, rings,
                frozenset(lamp.name for lamp, _ in lamps))


@lru_cache(maxsize=16384)
def _ring(at: Point, outer_mm: float, inner_mm: float) -> tuple[tuple[Point, ...], ...]:
    """A disc, or a ring, as closed lines; kept, because every guess about the light leaves the holes as they are."""
    disc = _disc(at, outer_mm)
    return tuple(_edges(disc.difference(_disc(at, inner_mm)) if inner_mm > 0.0 else disc))


def _disc(at: Point, wide_mm: float) -> shapely.Polygon:
    return shapely.Point(at).buffer(wide_mm / 2, quad_segs=CORNERS)


def _body_mm(build: Build, source: Source) -> float | None:
    """Diameter of what sits in a hole; None for a chip that covers it."""
    if source.kind == "fibre":
        return source.fibre_mm
    led = build.drawer.led(source.led)
    return led.face_mm if led.hole_mm is not None else None


def _openings(build: Build, part: Part) -> Iterator[_Gap]:
    """Openings that no lamp is meant for: the space behind is seen through a clear part, a sheet glows by itself."""
    meant = {(lamp.part, lamp.opening) for lamp in build.plan.lamps}
    meant |= {(strip.part, name) for strip in build.plan.strips for name in strip.openings}
    for opening in part.openings:
        if (part.name, opening.name) not in meant and opening.door is None:
            area = opening_mm2(opening)
            wide = Range.exactly(math.sqrt(area))
            edges = tuple(_edges(shapely.Polygon(opening.shape_mm).buffer(0)))
            share = opening_through(build.drawer, opening)
            yield _Gap("opening", opening.name, 1, wide, part.wall_mm, area, share, edges,
                       sheet=bool(opening.diffusers))


def _edges(shape: shapely.Geometry) -> Iterator[tuple[Point, ...]]:
    """Each piece as one closed line; a hole in it is joined by a way that is gone there and back."""
    for piece in getattr(shape, "geoms", [shape]):
        if piece.area > 0.0:
            rings = [list(ring.coords) for ring in (piece.exterior, *piece.interiors)]
            yield tuple((round(x, 4), round(y, 4)) for ring in rings for x, y in (*ring, rings[0][0]))


# --- light --------------------------------------------------------------------------------------------------------


def _lit(build: Build, leak: Leak, gap: _Gap, strays: Strays, inside: Guesses) -> WayOut | None:
    """A gap with the light behind it in every state, which hangs on `inside`; None where it is never seen by itself."""
    worst = _luminance(build, leak, gap)
    parts = together(build.plan, leak.part)
    over = flux_of(within(strays, leak.state, parts))
    part, glows = build.plan.part(leak.part), []
    for state in build.power.states:
        here = within(strays, state.state, parts)
        on = {name for row in state.lit for name in build.loom.emitter(row.emitter).lamps}
        if here and not (gap.lamps and gap.lamps <= on):
            glows.append(WallGlow(state=state.state, luminance_cd_m2=scaled(worst, flux_of(here), over),
                                  xy=wall_xy(part, mixed_xy(here)) if gap.thin else mixed_xy(here),
                                  lamps=tuple(name for row in here for name in row.lamps)))
    if not glows or worst.high <= 0.0:
        return None
    best = max(glows, key=lambda glow: glow.luminance_cd_m2.typical)
    room = room_here(build.drawer, build.plan.subject.viewing_room)
    seen = _seen(build, gap, best.luminance_cd_m2, room)
    rooms = [(word, _seen(build, gap, best.luminance_cd_m2, viewing_room(law)), least_seen_in(word))
             for word, law in ROOMS.items()]
    guesses = joined(inside, _gap_guesses(build, leak, gap))
    return WayOut(
        part=leak.part, kind=gap.kind, name=gap.name, count=gap.count, state=best.state, width_mm=gap.width_mm,
        depth_mm=gap.depth_mm, luminance_cd_m2=best.luminance_cd_m2, seen_as_cd_m2=seen,
        likely_cd_m2=likely_range(best.luminance_cd_m2, likely_times(guesses)),
        likely_seen_as_cd_m2=_likely_seen(seen, best.luminance_cd_m2, guesses),
        allowed_cd_m2=least_seen_here(room), glows=tuple(glows), outlines_mm=gap.outlines_mm,
        seen_in=tuple(word for word, value, least in rooms if value.typical > least),
        may_in=tuple(word for word, value, least in rooms
                     if value.typical <= least < _likely_seen(value, best.luminance_cd_m2, guesses).high),
    )


def _likely_seen(seen: Range, shines: Range, guesses: Guesses) -> Range:
    """What is likely of a gap as it is seen: its width, which counts once more there, goes with the gap's own guess."""
    by_width = max(ln_apart(seen) - ln_apart(shines), 0.0) if shines.low > 0.0 else 0.0
    return likely_range(seen, likely_times(joined(guesses, ((GAP, by_width),))))


def _luminance(build: Build, leak: Leak, gap: _Gap) -> Range:
    """Share by share of the luminance of the inside, in the state in which the part sees most light."""
    lit = (leak.inside_lx.low, leak.inside_lx.typical, leak.inside_lx.high)
    if gap.thin or gap.sheet:
        shares = (gap.share.low, gap.share.typical, gap.share.high)
        return Range(*(leak_luminance_cd_m2(lx, share) for lx, share in zip(lit, shares, strict=True)))
    rho = room_reflectance(build.drawer, parts_round(build.plan, leak.part))
    shares = (rho.low, rho.typical, rho.high)
    inside = Range(*(inner_wall_cd_m2(lx, share) for lx, share in zip(lit, shares, strict=True)))
    return inside.times(gap.share)


def _gap_guesses(build: Build, leak: Leak, gap: _Gap) -> Guesses:
    """What of the light inside shows hangs on: the gap as one guess; the paint once more where the inside is seen."""
    own = [(GAP, gap.share)]
    if not (gap.thin or gap.sheet):
        rho = room_reflectance(build.drawer, parts_round(build.plan, leak.part))
        own.append((PAINT, Range(*(inner_wall_cd_m2(1.0, share) for share in (rho.low, rho.typical, rho.high)))))
    return known_apart(own)


def _seen(build: Build, gap: _Gap, luminance: Range, room: Room) -> Range:
    """As the luminance of a wide patch, from the plan's viewing distance."""
    sums_mm = build.plan.subject.viewing_distance_mm * math.radians(room.summation_arcmin / 60.0)
    wide, typical = gap.width_mm, gap.width_mm.typical or 1.0
    return Range(*(
        seen_as_cd_m2(cd_m2, width_mm=width, area_mm2=gap.area_mm2 * width / typical, sums_over_mm=sums_mm)
        for cd_m2, width in ((luminance.low, wide.low), (luminance.typical, wide.typical), (luminance.high, wide.high))
    ))
