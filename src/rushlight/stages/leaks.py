"""Stray light: what shows through each wall, and how many coats stop it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rushlight.model.design_light import Leak, WallGlow
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import StatePower
from rushlight.model.drawer import Drawer, WallPart
from rushlight.model.place import Point
from rushlight.model.plan_part import Part
from rushlight.optics.eye import background_cd_m2, least_seen_cd_m2, viewing_room
from rushlight.optics.wall import absorbing_coats, cavity_lx, coats_needed, leak_luminance_cd_m2, stacked
from rushlight.stages.order import Build
from rushlight.stages.parts_law import led_flux_lm
from rushlight.stages.rooms import inside_reflectance, space_area_m2
from rushlight.tables import row_by, rows
from rushlight.units import Range

ROOMS = {"lit room": "lit", "dim room": "dim", "dark room": "dark display"}
"""The plan's words for the law's rooms."""

OUTSIDE_REFLECTANCE = 0.3
"""Reflectance of a painted model outside (from memory, typical)."""

OPAQUE = ("black", "metallic", "foil")
"""Kinds of coat that stop light; primer, white and colour let some through."""

BESIDE_A_SOURCE = 10.0
"""Light on a wall at grazing angle beside an open LED, over the mean of the room (project proposal)."""

BEST_COAT = "black lacquer"
"""The coat that the cure counts in."""


def leaks_of(build: Build) -> tuple[Leak, ...]:
    """Each part whose inside sees light, in the state in which it sees most; how it glows in each is left out.

    Source
    ------
    See `optics.wall`; shares of stray light from stray_share.csv (orders of magnitude, to be measured).
    """
    made = []
    for part in build.plan.parts:
        inside = [(stray_lm(build, state, part.name), state.state) for state in build.power.states]
        if not inside:
            continue
        flux, state = max(inside, key=lambda pair: pair[0].typical)
        if flux.typical > 0:
            made.append(_leak(build, part, flux, state))
    return tuple(made)


def glowing(build: Build, leaks: tuple[Leak, ...]) -> tuple[Leak, ...]:
    """The same with how each wall glows in every state."""
    states = {state.state: state for state in build.power.states}
    return tuple(
        replace(leak, glows=_glows(build, leak, stray_lm(build, states[leak.state], leak.part))) for leak in leaks
    )


def _glows(build: Build, leak: Leak, flux_lm: Range) -> tuple[WallGlow, ...]:
    """The wall in every state with light behind it; its luminance goes with the flux."""
    parts, made = together(build, leak.part), []
    for state in build.power.states:
        strays = [(emitter, stray) for emitter, stray in _strays(build, state, parts) if stray.typical > 0]
        if not strays:
            continue
        flux = stray_lm(build, state, leak.part)
        bright = Range(*(
            value * (of / over if over > 0 else 0.0)
            for value, of, over in zip(_three(leak.luminance_cd_m2), _three(flux), _three(flux_lm), strict=True)
        ))
        lamps = tuple(name for emitter, _ in strays for name in emitter.lamps)
        made.append(WallGlow(state=state.state, luminance_cd_m2=bright, xy=_mixed(build, strays), lamps=lamps))
    return tuple(made)


def _three(value: Range) -> tuple[float, float, float]:
    return (value.low, value.typical, value.high)


def _mixed(build: Build, strays: list[tuple[Emitter, Range]]) -> Point:
    """Colour of all stray light, each LED by its flux; walls and coats are taken to be grey."""
    colour_of = {lamp.name: lamp.colour for lamp in build.lamps}
    colours = [colour_of[emitter.lamps[0]] for emitter, _ in strays]
    big_x = sum(stray.typical * tint.x / tint.y for (_, stray), tint in zip(strays, colours, strict=True))
    total = sum(stray.typical / tint.y for (_, stray), tint in zip(strays, colours, strict=True))
    big_y = sum(stray.typical for _, stray in strays)
    return (round(big_x / total, 6), round(big_y / total, 6))


def least_seen_in(room: str) -> float:
    """Faintest glow of a painted wall that is seen [cd/m2] in a room of the plan's words.

    Source
    ------
    `eye.least_seen_cd_m2` on the wall's own luminance in the room's light.
    """
    law = viewing_room(ROOMS[room])
    return least_seen_cd_m2(law, background_cd_m2=background_cd_m2(law.illuminance_lx, OUTSIDE_REFLECTANCE))


def together(build: Build, part: str) -> frozenset[str]:
    """The parts that share a space with a part."""
    names = [set(space.parts) for space in build.plan.spaces if part in space.parts]
    return frozenset({part}.union(*names)) if names else frozenset({part})


def stray_lm(build: Build, state: StatePower, part: str) -> Range:
    """Flux thrown about inside the space of a part in one state."""
    parts = together(build, part)
    total = Range.exactly(0.0)
    for _, stray in _strays(build, state, parts):
        total = total.plus(stray)
    return total


def _strays(build: Build, state: StatePower, parts: frozenset[str]) -> Iterator[tuple[Emitter, Range]]:
    """What each lit emitter in a space throws about there [lm]."""
    for current in state.lit:
        emitter = build.loom.emitter(current.emitter)
        if emitter.spot.part not in parts:
            continue
        share = row_by("stray_share", "kind", emitter.kind)
        strayed = Range(float(share["low"]), float(share["typical"]), float(share["high"]))
        yield emitter, _flux(build, current.emitter, current.current_a.typical).times(strayed)


def _flux(build: Build, name: str, current_a: float) -> Range:
    emitter = build.loom.emitter(name)
    if emitter.kind == "strip":
        strip = build.drawer.strip(emitter.part_row)
        length_m = emitter.segments * strip.segment_mm / 1000
        return strip.flux_lm_per_m.times(length_m * max(current_a, 0.0) * 1000 / strip.segment_ma)
    return led_flux_lm(build.drawer.led(emitter.part_row), max(current_a, 0.0))


def _leak(build: Build, part: Part, flux: Range, state: str) -> Leak:
    area = space_area_m2(build.plan, part.name)
    reflect = inside_reflectance(build.drawer, part)
    inside = Range(*(
        cavity_lx(lm, area_m2=area, reflectance=min(rho, 0.95))
        for lm, rho in ((flux.low, reflect.low), (flux.typical, reflect.typical), (flux.high, reflect.high))
    ))
    through = wall_through(build.drawer, part)
    bright = Range(*(
        leak_luminance_cd_m2(lx, share)
        for lx, share in ((inside.low, through.low), (inside.typical, through.typical), (inside.high, through.high))
    ))
    allowed = least_seen_in(build.plan.subject.viewing_room)
    coat = build.drawer.coat(BEST_COAT)
    needed = coats_needed(bright.typical, allowed, density=coat.density.typical) if bright.typical > allowed else 0
    return Leak(
        part=part.name, state=state, inside_lx=inside, transmittance=through, luminance_cd_m2=bright,
        allowed_cd_m2=allowed, coats_needed=needed, coat=coat.name, brightest_near=_nearest_source(build, part, state),
    )


def wall_through(drawer: Drawer, part: Part) -> Range:
    """Transmittance of the wall with its planned coats."""
    bare = _bare(drawer.wall(part.wall), part.wall_mm)
    low, typical, high = bare.low, bare.typical, bare.high
    for name in part.coats:
        coat = drawer.coat(name)
        if coat.kind in ("white", "primer"):
            low, typical, high = (
                _white(value, 10 ** -density)
                for value, density in (
                    (low, coat.density.high), (typical, coat.density.typical), (high, coat.density.low)
                )
            )
        else:
            low = absorbing_coats(low, coat.density.high, coats=1)
            typical = absorbing_coats(typical, coat.density.typical, coats=1)
            high = absorbing_coats(high, coat.density.low, coats=1)
    return Range(low, typical, high)


def _white(wall: float, coat: float) -> float:
    return stacked(wall, coat, first_reflectance=1 - wall, second_reflectance=1 - coat)


def _bare(wall: WallPart, wall_mm: float) -> Range:
    """From 1 mm to the real thickness: Kubelka's T = 1 / (1 + S X) where it scatters, Beer's law where it absorbs."""
    at_1 = wall.transmittance_1mm
    return Range(*(_thick(wall, value, wall_mm) for value in (at_1.low, at_1.typical, at_1.high)))


def _thick(wall: WallPart, at_1mm: float, wall_mm: float) -> float:
    if at_1mm <= 0:
        return 0.0
    if wall.scatters:
        return 1 / (1 + (1 / at_1mm - 1) * wall_mm)
    return float(at_1mm**wall_mm)


def _nearest_source(build: Build, part: Part, state: str) -> str:
    """The emitter on the part that strays most: where to look first in the dark."""
    lit = next(row for row in build.power.states if row.state == state)
    own = [
        (build.loom.emitter(current.emitter), current) for current in lit.lit
        if build.loom.emitter(current.emitter).spot.part in together(build, part.name)
    ]
    if not own:
        return ""
    strays = {row["kind"]: float(row["typical"]) for row in rows("stray_share")}
    best = max(
        own, key=lambda pair: (
            strays[pair[0].kind] * _flux(build, pair[0].name, pair[1].current_a.typical).typical
            * (2.0 if pair[0].spot.part == part.name else 1.0), pair[0].name,
        ),
    )
    return best[0].name
