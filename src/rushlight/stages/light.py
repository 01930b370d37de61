"""Light: what every lamp gives in every state, how equal rows look, strips behind openings, pools, leaks."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.likely import Guesses, joined, known_apart, likely_range, likely_times
from rushlight.model.design import Aim, Source
from rushlight.model.design_light import Aside, LampLight, Light, Loss, RowLight
from rushlight.model.design_loom import Emitter, Tail
from rushlight.model.plan_part import Opening
from rushlight.optics.doorway import Doorway
from rushlight.optics.emitter import pattern_order
from rushlight.stages.aside import ASIDE
from rushlight.stages.build import Build
from rushlight.stages.fibre_light import REFERENCE_A, LedJoint, led_joint, tail_light_guesses
from rushlight.stages.leaks import glowing, leaks_of
from rushlight.stages.measured_found import lamp_in
from rushlight.stages.outlook import seen_range
from rushlight.stages.parts_law import disc_mm2, led_flux_lm, led_guesses, led_peak_cd
from rushlight.stages.pools import grounds_of, pools_of
from rushlight.stages.poses import doorway_in
from rushlight.stages.rooms import doors_about, opening_named, room_guesses, room_light
from rushlight.stages.sisters import kin_of, sister_times
from rushlight.stages.spots import spots_of
from rushlight.stages.strays import strays_of
from rushlight.stages.strips import opening_guesses, strip_light, strip_opening_light
from rushlight.stages.ways_out import ways_out
from rushlight.stages.window_match import windows_alike
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import effective_intensity_cd
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class Glow:
    """What a lamp gives at REFERENCE_A, as `led_light_a` counts, through its emitter; the cos^m exponent and the edge
    [deg] of its cone.

    `flux_guesses` are what its flux hangs on, `ahead_guesses` what its intensity and its luminance do.
    """

    flux_lm: Range
    intensity_cd: Range
    luminance_cd_m2: Range
    losses: tuple[Loss, ...]
    order: float = 1.0
    edge_deg: float = 90.0
    flux_guesses: Guesses = ()
    ahead_guesses: Guesses = ()

    def through(self, doorway: Doorway) -> Glow:
        """The same past a door."""
        luminance = self.luminance_cd_m2 if doorway.seen > 0.0 else Range.exactly(0.0)
        passes = doorway.passes if doorway.seen > 0.0 else 0.0
        return replace(self, flux_lm=self.flux_lm.times(passes), intensity_cd=self.intensity_cd.times(doorway.seen),
                       luminance_cd_m2=luminance)

    def at(self, light_a: float) -> Glow:
        """The same at another current, as `led_light_a` counts it."""
        share = light_a / REFERENCE_A
        return replace(self, flux_lm=self.flux_lm.times(share), intensity_cd=self.intensity_cd.times(share),
                       luminance_cd_m2=self.luminance_cd_m2.times(share))

    def spread(self, times: Range) -> Glow:
        """The same with a further factor that is not known well."""
        return replace(self, flux_lm=self.flux_lm.times(times), intensity_cd=self.intensity_cd.times(times),
                       luminance_cd_m2=self.luminance_cd_m2.times(times))


def light_of(build: Build, aims: tuple[Aim, ...]) -> Light:
    """All that the eye will see.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    aims : tuple of Aim
        What each lamp should give.
    Returns
    -------
    Light
        Every lit lamp that could be built, in every state that lights it; ranges carry the spread of the parts and of
        what warmth does to LEDs. Rows are compared in every state, and the one in which they differ most is kept.
    Source
    ------
    See the laws in `optics`.
    """
    lamps = lamp_lights(build, aims)
    strays = strays_of(build, lamps)
    leaks = leaks_of(build, strays)
    return Light(
        lamps=lamps, rows=_rows(build, lamps), strips=strip_light(build), pools=pools_of(build, lamps),
        alike=windows_alike(build.plan, build.lamps, build.sources, build.loom.emitters, lamps),
        leaks=glowing(build, leaks, strays), grounds=grounds_of(build, lamps),
        ways_out=ways_out(build, leaks, strays), spots=spots_of(build, strays),
    )


def lamp_lights(build: Build, aims: tuple[Aim, ...]) -> tuple[LampLight, ...]:
    """What every lamp gives in every state.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    aims : tuple of Aim
        What each lamp should give.
    Returns
    -------
    tuple of LampLight
        As in `light_of`.
    Source
    ------
    See the laws in `optics`.
    """
    wanted = {aim.lamp: aim for aim in aims}
    emitter_of = {lamp: emitter for emitter in build.loom.emitters for lamp in emitter.lamps}
    return _as_read(build, _lamp_lights(build, _glows(build), wanted=wanted, emitter_of=emitter_of))


def _as_read(build: Build, lights: tuple[LampLight, ...]) -> tuple[LampLight, ...]:
    """Lamps that were read at the bench give what the meter showed; in their other states in proportion to it.

    One that is looked at from beside its axis was read there. Their sisters are known the better for it.
    """
    times: dict[str, Range] = {}
    for light in lights:
        read = build.drawer.measured("lamp", lamp_in(light.lamp, light.state))
        typical = light.looked_at.intensity_cd.typical
        if read is not None and typical > 0:
            times[light.lamp] = read.times(1.0 / typical)
    if not times:
        return lights
    believed = {light.lamp: seen.times(1.0 / seen.typical) for light in lights
                if (seen := light.looked_at.intensity_cd).typical > 0}
    told = sister_times(times, believed, kin_of(build))
    return tuple(
        _scaled(light, times[light.lamp], _one_guess) if light.lamp in times
        else _scaled(light, told[light.lamp], _likely_of_sister) if light.lamp in told else light
        for light in lights
    )


def _scaled(light: LampLight, times: Range, likely_times_of: Callable[[Range, Range, Range], Range]) -> LampLight:
    """A lamp as a reading tells of it, and what of that is likely, from what was likely before.

    What a reading beside the axis leaves open is told of both, along it and beside it, with the typical share.
    """
    if light.aside is not None:
        scaled = _scaled(light.looked_at, times, likely_times_of)
        share, candela, likely = light.aside.share.typical, scaled.intensity_cd, scaled.likely_cd
        return replace(
            scaled, flux_lm=times.times(light.flux_lm.typical), likely_lm=times.times(light.flux_lm.typical),
            intensity_cd=candela.times(1 / share), likely_cd=likely.times(1 / share),
            luminance_cd_m2=scaled.luminance_cd_m2.times(1 / share),
            likely_cd_m2=scaled.likely_cd_m2.times(1 / share), effective_cd=scaled.effective_cd / share,
            wanted_cd=light.wanted_cd, aside=Aside(share=Range.exactly(share), likely_times=_reach_of(candela, likely)),
        )
    flux, intensity, luminance = (
        (times.times(value.typical), likely_times_of(times, value, likely).times(value.typical))
        for value, likely in ((light.flux_lm, light.likely_lm), (light.intensity_cd, light.likely_cd),
                              (light.luminance_cd_m2, light.likely_cd_m2))
    )
    return replace(light, flux_lm=flux[0], intensity_cd=intensity[0], luminance_cd_m2=luminance[0],
                   likely_lm=flux[1], likely_cd=intensity[1], likely_cd_m2=luminance[1],
                   effective_cd=light.effective_cd * times.typical)


def _reach_of(value: Range, likely: Range) -> float:
    """How many times its typical value a likely range reaches, on its wider side."""
    down = value.typical / likely.low if likely.low > 0 else math.inf
    return max(likely.high / value.typical, down)


def _one_guess(times: Range, before: Range, likely: Range) -> Range:
    """Of a lamp that was read the meter's error alone is left: all of it is likely."""
    return times


def _likely_of_sister(times: Range, before: Range, likely: Range) -> Range:
    """Of a sister what both the reading and the guesses before it leave; the reading's alone where they disagree."""
    typical = before.typical
    if typical <= 0.0 or not likely.low <= times.typical * typical <= likely.high:
        return times
    return Range(max(times.low, likely.low / typical), times.typical, min(times.high, likely.high / typical))


# --- lamps --------------------------------------------------------------------------------------------------------


def _glows(build: Build) -> dict[str, Glow]:
    tails = {tail.lamp: tail for tail in build.loom.tails}
    sources = {source.lamp: source for source in build.sources}
    groups = {lamp.name: lamp.group for lamp in build.lamps}
    glows: dict[str, Glow] = {}
    for emitter in build.loom.emitters:
        for lamp in emitter.lamps:
            source = sources[lamp]
            if emitter.kind == "illuminator":
                if lamp in tails:
                    joint = led_joint(build.plan, build.drawer, groups[lamp], lamp)
                    glows[lamp] = _fibre(build, emitter, tails[lamp], joint)
            elif emitter.kind == "strip":
                glows[lamp] = _opening(strip_opening_light(build, emitter, lamp, REFERENCE_A),
                                       opening_guesses(build, emitter, lamp))
            elif emitter.kind == "room":
                glows[lamp] = _room(build, emitter, lamp)
            else:
                glows[lamp] = _led(build, emitter, source)
    return glows


def _fibre(build: Build, emitter: Emitter, tail: Tail, joint: LedJoint) -> Glow:
    lit, flux, ahead = tail_light_guesses(build.drawer, build.drawer.led(emitter.part_row), tail, joint)
    losses = tuple(Loss(name=loss.name, loss_db=loss.loss_db.typical) for loss in lit.losses)
    return Glow(lit.flux_lm, lit.axial_intensity_cd, lit.luminance_cd_m2, losses, lit.exit_order,
                lit.exit_half_angle_deg, flux, ahead)


def _led(build: Build, emitter: Emitter, source: Source) -> Glow:
    led = build.drawer.led(emitter.part_row)
    peak = led_peak_cd(led, REFERENCE_A)
    area_m2 = disc_mm2(source.seen_mm) * 1e-6
    ahead, angle = led_guesses(led)
    return Glow(led_flux_lm(led, REFERENCE_A), peak, peak.times(1 / area_m2), (), pattern_order(led.half_angle_deg),
                flux_guesses=joined(ahead, angle), ahead_guesses=ahead)


def _room(build: Build, emitter: Emitter, name: str, state: str | None = None) -> Glow:
    led = build.drawer.led(emitter.part_row)
    opening = _opening_of(build, name)
    lit = room_light(build.plan, build.drawer, led, opening=opening, state=state, light_a=REFERENCE_A)
    return _opening(lit, room_guesses(build.plan, build.drawer, led, opening=opening, state=state))


def _opening_of(build: Build, name: str) -> Opening | None:
    lamp = next(row for row in build.lamps if row.name == name)
    return opening_named(build.plan, lamp.spot.part if lamp.spot else None, lamp.opening)


def _posed(build: Build, glows: Mapping[str, Glow], emitter_of: Mapping[str, Emitter]) -> dict[tuple[str, str], Glow]:
    """What lamps behind doors, and in rooms with a door, give in each state, by lamp and state."""
    found = {}
    for lamp in build.lamps:
        opening = _opening_of(build, lamp.name) if lamp.opening and lamp.name in glows else None
        if opening is None or not doors_about(build.plan, opening):
            continue
        for state in build.plan.states:
            emitter = emitter_of[lamp.name]
            found[lamp.name, state.name] = (
                _room(build, emitter, lamp.name, state.name) if emitter.kind == "room"
                else glows[lamp.name].through(doorway_in(build.plan, opening, state.name))
            )
    return found


def _opening(lit: tuple[Range, Range, Range], guesses: Guesses) -> Glow:
    return Glow(*lit, (), flux_guesses=guesses, ahead_guesses=guesses)


def _lamp_lights(
    build: Build, glows: Mapping[str, Glow], *, wanted: Mapping[str, Aim], emitter_of: Mapping[str, Emitter]
) -> tuple[LampLight, ...]:
    rhythms = {lamp.name: lamp.rhythm for lamp in build.lamps}
    shares = {text: effective_intensity_cd(parse_rhythm(text), 1.0) for text in sorted(set(rhythms.values()))}
    posed = _posed(build, glows, emitter_of)
    shares_aside = _shares_aside(build, wanted)
    made = []
    for state in build.power.states:
        currents = {current.emitter: current for current in state.lit}
        for lamp, glow in glows.items():
            emitter = emitter_of[lamp]
            if emitter.name not in currents:
                continue
            current = currents[emitter.name]
            lit = posed.get((lamp, state.state), glow).at(max(current.light_a, 0.0)).spread(current.light_range)
            flux, ahead = (_reach(own, current.light_guesses) for own in (lit.flux_guesses, lit.ahead_guesses))
            share = shares_aside.get(lamp)
            made.append(
                LampLight(
                    lamp=lamp, state=state.state, flux_lm=lit.flux_lm, intensity_cd=lit.intensity_cd,
                    luminance_cd_m2=lit.luminance_cd_m2, likely_lm=likely_range(lit.flux_lm, flux),
                    likely_cd=likely_range(lit.intensity_cd, ahead),
                    likely_cd_m2=likely_range(lit.luminance_cd_m2, ahead),
                    effective_cd=lit.intensity_cd.typical * shares[rhythms[lamp]], first_times=current.first_times,
                    wanted_cd=wanted[lamp].wanted_cd if lamp in wanted else lit.intensity_cd.typical,
                    losses=lit.losses, beam_order=lit.order, beam_edge_deg=lit.edge_deg,
                    aside=None if share is None else Aside(share=share, likely_times=_reach(
                        joined(lit.ahead_guesses, known_apart([(ASIDE, share)])), current.light_guesses)),
                )
            )
    return tuple(made)


def _shares_aside(build: Build, wanted: Mapping[str, Aim]) -> dict[str, Range]:
    """What lamps that are wanted beside their axis show there, over what they send along it, by lamp."""
    lamps = {lamp.name: lamp for lamp in build.lamps if lamp.name in wanted and wanted[lamp.name].seen_share != 1.0}
    return {source.lamp: seen_range(build.plan, build.drawer, lamps[source.lamp], source)
            for source in build.sources if source.lamp in lamps}


@lru_cache(maxsize=8192)
def _reach(own: Guesses, current: Guesses) -> float:
    """How many times the typical value is likely of what hangs on these. Kept: the lamps of a row ask alike."""
    return likely_times(joined(own, current))


def _rows(build: Build, lights: tuple[LampLight, ...]) -> tuple[RowLight, ...]:
    """Brightest over dimmest of each row, in the state in which they are farthest apart; of like ones the first."""
    group_of = {lamp.name: lamp.group for lamp in build.lamps if lamp.made_of == "rows"}
    rows: dict[str, dict[str, list[LampLight]]] = {}
    for light in lights:
        group = group_of.get(light.lamp)
        if group is not None:
            rows.setdefault(group, {}).setdefault(light.state, []).append(light)
    compared = {group: [_row(group, lit) for lit in states.values() if len(lit) > 1] for group, states in rows.items()}
    return tuple(max(found, key=lambda row: round(row.ratio, 6)) for found in compared.values() if found)


def _row(group: str, lit: list[LampLight]) -> RowLight:
    brightest = max(lit, key=lambda light: light.intensity_cd.typical)
    dimmest = min(lit, key=lambda light: light.intensity_cd.typical)
    first = [light.intensity_cd.typical * light.first_times for light in lit]
    return RowLight(group=group, state=lit[0].state, brightest=brightest.lamp, dimmest=dimmest.lamp,
                    ratio=_times(brightest.intensity_cd.typical, dimmest.intensity_cd.typical),
                    first_ratio=_times(max(first), min(first)))


def _times(most: float, least: float) -> float:
    return most / least if least > 0 else float("inf")
