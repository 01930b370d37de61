"""Stray light: what shows through each wall, and how many coats stop it."""

from __future__ import annotations

from dataclasses import replace

from rushlight.likely import Guesses, joined, known_apart, likely_range, likely_times, summed
from rushlight.model.design_light import Leak, WallGlow
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point
from rushlight.model.plan_part import Part
from rushlight.optics.display import through_colour_xy
from rushlight.optics.eye import Room, background_cd_m2, least_seen_cd_m2, room_at, room_lux, viewing_room
from rushlight.optics.wall import cavity_lx, leak_luminance_cd_m2
from rushlight.stages.build import Build
from rushlight.stages.coats import Seen, cured, paints_for
from rushlight.stages.lamps import colour_of
from rushlight.stages.painted_wall import room_reflectance, wall_guesses, wall_through
from rushlight.stages.rooms import parts_round, space_area_m2
from rushlight.stages.strays import Stray, Strays, flux_of, mixed_xy, together, within
from rushlight.units import Range

ROOMS = {"lit room": "lit", "dim room": "dim", "dark room": "dark display"}
"""The plan's words for the law's rooms."""

PAINT = "the paint inside"
"""A guess of all light inside, and of walls seen there."""

OUTSIDE_REFLECTANCE = 0.3
"""Reflectance of a painted model outside (from memory, typical)."""


def leaks_of(build: Build, strays: Strays) -> tuple[Leak, ...]:
    """Each part whose inside sees light, in the state in which it sees most; how it glows in each, and the coats that
    stop it, are left out.

    Source
    ------
    See `optics.wall`; light inside from `strays.strays_of`.
    """
    made = []
    for part in build.plan.parts:
        inside = [(stray_lm(build, strays, state.state, part.name), state.state) for state in build.power.states]
        if not inside:
            continue
        flux, state = max(inside, key=lambda pair: pair[0].typical)
        if flux.typical > 0:
            lit = within(strays, state, together(build.plan, part.name))
            made.append(_leak(build, part, lit, near=_nearest_source(build, strays, part, state), state=state))
    return tuple(made)


def glowing(build: Build, leaks: tuple[Leak, ...], strays: Strays) -> tuple[Leak, ...]:
    """The same with how each wall glows in every state, the rooms in which it is seen and the coats that stop it."""
    return tuple(replace(_with_coats(build, leak, strays), glows=_glows(build, leak, strays)) for leak in leaks)


def _with_coats(build: Build, leak: Leak, strays: Strays) -> Leak:
    """The rooms in which it is seen and in which it is likely that it may be, the cure for the plan's own, and every
    paint where at the outside it may be seen in one."""
    part, bright = build.plan.part(leak.part), leak.luminance_cd_m2
    flux = stray_lm(build, strays, leak.state, leak.part)
    rooms = {room: least_seen_in(room) for room in ROOMS}
    seen = tuple(room for room, least in rooms.items() if bright.typical > least)
    may = tuple(room for room, least in rooms.items() if bright.typical <= least < leak.likely_cd_m2.high)

    def shine(painted: Part) -> Range:
        return _shines(build, painted, flux)[2]

    if bright.typical > leak.allowed_cd_m2:
        coat, more, order = cured(build.drawer, part, lambda one: shine(one).typical <= leak.allowed_cd_m2)
        leak = replace(leak, coat=coat, coats_needed=more, order=order)
    ever = bright.high > min(rooms.values())
    paints = paints_for(build.drawer, part, shine, Seen(rooms, leak.allowed_cd_m2)) if ever else ()
    return replace(leak, seen_in=seen, may_in=may, paints=paints)


def _glows(build: Build, leak: Leak, strays: Strays) -> tuple[WallGlow, ...]:
    """The wall in every state with light behind it; its luminance goes with the flux."""
    parts, made = together(build.plan, leak.part), []
    over = flux_of(within(strays, leak.state, parts))
    for state in build.power.states:
        here = within(strays, state.state, parts)
        if here:
            bright = scaled(leak.luminance_cd_m2, flux_of(here), over)
            lamps = tuple(name for stray in here for name in stray.lamps)
            xy = wall_xy(build.plan.part(leak.part), mixed_xy(here))
            made.append(WallGlow(state=state.state, luminance_cd_m2=bright, xy=xy, lamps=lamps))
    return tuple(made)


def wall_xy(part: Part, light_xy: Point) -> Point:
    """Colour in which a wall shows light: filtered by its own where the plan gives it, else as it is."""
    if part.wall_colour is None:
        return light_xy
    wall = colour_of(part.wall_colour)
    return through_colour_xy(light_xy, (wall.x, wall.y))


def scaled(value: Range, flux: Range, over: Range) -> Range:
    """What a value that goes with the flux is at another flux, end by end."""
    ends = zip(_three(value), _three(flux), _three(over), strict=True)
    return Range(*(one * (of / all_ if all_ > 0 else 0.0) for one, of, all_ in ends))


def _three(value: Range) -> tuple[float, float, float]:
    return (value.low, value.typical, value.high)


def least_seen_in(room: str) -> float:
    """Faintest glow of a painted wall that is seen [cd/m2] in a room of the plan's words.

    Source
    ------
    `eye.least_seen_cd_m2` on the wall's own luminance in the room's light.
    """
    return least_seen_here(viewing_room(ROOMS[room]))


def room_here(drawer: Drawer, room: str) -> Room:
    """The viewing room as its light was read at the model's place, else as the plan's word for it has it."""
    read = drawer.measured("room light", "room")
    return viewing_room(ROOMS[room]) if read is None else room_at(read.typical)


def least_seen_here(law: Room) -> float:
    """Faintest glow of a painted wall that is seen in a room [cd/m2]."""
    return least_seen_cd_m2(law, background_cd_m2=background_cd_m2(law.illuminance_lx, OUTSIDE_REFLECTANCE))


def room_lux_here(drawer: Drawer, room: str) -> Range:
    """The light at the model's place: as it was read, else what rooms of the plan's word have [lx]."""
    return drawer.measured("room light", "room") or room_lux(ROOMS[room])


def least_seen_lux(lux: Range) -> Range:
    """Faintest glow of a painted wall that is seen by some light on the model [cd/m2]."""
    return Range(*(least_seen_here(room_at(each)) for each in (lux.low, lux.typical, lux.high)))


def stray_lm(build: Build, strays: Strays, state: str, part: str) -> Range:
    """Flux thrown about inside the space of a part in one state."""
    return flux_of(within(strays, state, together(build.plan, part)))


def _leak(build: Build, part: Part, lit: tuple[Stray, ...], *, near: str, state: str) -> Leak:
    inside, through, bright = _shines(build, part, flux_of(lit))
    reach = likely_times(joined(inside_guesses(build, part, lit), wall_guesses(build.drawer, part)))
    allowed = least_seen_here(room_here(build.drawer, build.plan.subject.viewing_room))
    return Leak(part=part.name, state=state, inside_lx=inside, transmittance=through, luminance_cd_m2=bright,
                likely_cd_m2=likely_range(bright, reach), allowed_cd_m2=allowed, brightest_near=near)


def inside_guesses(build: Build, part: Part, lit: tuple[Stray, ...]) -> Guesses:
    """What the light inside a part hangs on: what sets it free, and the paint there."""
    return joined(summed((row.flux_lm.typical, row.guesses) for row in lit), _paint_guesses(build, part))


def _paint_guesses(build: Build, part: Part) -> Guesses:
    reflect = room_reflectance(build.drawer, parts_round(build.plan, part.name))
    lit = Range(*(cavity_lx(1.0, area_m2=1.0, reflectance=min(rho, 0.95))
                  for rho in (reflect.low, reflect.typical, reflect.high)))
    return known_apart([(PAINT, lit)])


def _shines(build: Build, part: Part, flux: Range) -> tuple[Range, Range, Range]:
    """Light inside [lx], what the wall with its coats lets through [-], and its luminance outside [cd/m2]."""
    area = space_area_m2(build.plan, part.name)
    round_it = [part if row.name == part.name else row for row in parts_round(build.plan, part.name)]
    reflect = room_reflectance(build.drawer, round_it)
    inside = Range(*(
        cavity_lx(lm, area_m2=area, reflectance=min(rho, 0.95))
        for lm, rho in ((flux.low, reflect.low), (flux.typical, reflect.typical), (flux.high, reflect.high))
    ))
    through = wall_through(build.drawer, part)
    bright = Range(*(
        leak_luminance_cd_m2(lx, share)
        for lx, share in ((inside.low, through.low), (inside.typical, through.typical), (inside.high, through.high))
    ))
    return inside, through, bright


def _nearest_source(build: Build, strays: Strays, part: Part, state: str) -> str:
    """The emitter that strays most, one on the part itself counting twice: where to look first in the dark."""
    here = within(strays, state, together(build.plan, part.name))
    weight = {True: 2.0, False: 1.0}
    return max(here, key=lambda row: (row.flux_lm.typical * weight[row.part == part.name], row.emitter)).emitter
