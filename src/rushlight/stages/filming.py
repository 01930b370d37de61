"""The model before a camera: exposures, what burns out, bands of dimming by pulses, flashes between two pictures."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from rushlight.model.design import Colour, Design, PlacedLamp
from rushlight.model.design_light import LampLight
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Camera
from rushlight.optics.camera import (
    CLIP_OVER_MID,
    METER_K,
    banding_contrast,
    bands_in_frame,
    channel_over_white,
    exposure_s,
    image_luminance,
    missed_share,
    pixel_sr,
    safe_pulse_hz,
    shutter_s,
)
from rushlight.stages.rhythms import channels, made_rhythms
from rushlight.stages.sources.common import light_colour
from rushlight.stages.switching import board_of
from rushlight.tables import number, row_by
from rushlight.timing.character import parse_rhythm
from rushlight.timing.rhythm import lit_runs_s, most_light_s, window_for_light_s
from rushlight.units import Range

NEAR = 4.0
"""Another shutter time is offered within two stops of the wanted one."""

LOST_STOPS = 5.0
"""So far under mid-tone a thing is as good as black: code 17 of 255 (18 % of white, 5 stops less, by IEC 61966-2-1)."""

BAND_SHARE = 0.02
"""Bands of less contrast are not noticed: the least contrast of a lit room in viewing_rooms.csv (from memory)."""

USUAL_RATES = (24.0, 25.0, 30.0, 50.0, 60.0)
"""Pictures a second of films (common practice)."""

TIME_ERROR = 0.005
"""How far pulses and shutter together may be off: dividers of the board, lines of the sensor (project proposal)."""

MOST_PULSE_HZ = 20_000.0
"""As fast as the plan lets a controller pulse."""

WHITE_PAINT = 0.94
"""Reflectance that seen_levels.csv has for a white wall: 60 cd/m2 under 200 lx."""

PARTS_OF_S = (8000, 6400, 5000, 4000, 3200, 2500, 2000, 1600, 1250, 1000, 800, 640, 500, 400, 320, 250, 200, 160, 125,
              100, 80, 60, 50, 40, 30, 25, 20, 15, 13, 10, 8, 6, 5, 4)
WHOLE_S = (0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.3, 1.6, 2.0, 2.5, 3.2, 4.0, 5.0, 6.0, 8.0, 10.0, 13.0, 15.0, 20.0,
           25.0, 30.0)
SHUTTERS_S = (*(1.0 / part for part in PARTS_OF_S), *WHOLE_S)
"""Exposure times as cameras name them, in thirds of a stop (common practice; ISO 516, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmedLamps:
    """One lamp, row or strip in a picture, in the state in which each lamp is brightest.

    `seen_cd_m2` is what the picture has of it (a point spread over its pixels); `across_px` its width there; `mid_s`
    the exposures that show it as mid-tone, `clip_s` those from which it burns out. Of a lamp of some `rhythm` that is
    with the most light that such an exposure can catch: in a long one a flash counts no more than it lasts.
    """

    group: str
    count: int
    seen_cd_m2: Range
    across_px: float
    mid_s: Range
    clip_s: Range
    rhythm: str = "steady"

    @property
    def shows_s(self) -> float:
        """The exposure at which it comes out of the dark, LOST_STOPS under mid-tone."""
        return _exposure_for_s(self.rhythm, _caught_s(self.rhythm, self.mid_s.typical) / 2**LOST_STOPS)

    def burns_out(self, exposure_s: float) -> str:
        """'yes' at this exposure whatever the spread of the parts, 'perhaps', or 'no'."""
        if exposure_s > self.clip_s.high:
            return "yes"
        return "perhaps" if exposure_s > self.clip_s.low else "no"

    def over_mid_stops(self, exposure_s: float) -> float:
        """Stops over mid-tone at this exposure, typically."""
        return math.log2(_caught_s(self.rhythm, exposure_s) / _caught_s(self.rhythm, self.mid_s.typical))


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """One exposure that may be chosen: which lamps burn out, which are lost, and how the model itself comes out."""

    name: str
    exposure_s: float
    burnt: tuple[str, ...]
    perhaps: tuple[str, ...]
    lost: tuple[str, ...]
    model_stops: float
    model_iso: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulsed:
    """A shutter before lamps that are dimmed by pulses: at most so much contrast, so many bands."""

    frames_per_s: float | None
    exposure_s: float
    contrast: float
    bands: Range
    safe_hz: float
    whole_s: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flash:
    """A rhythm before a film: its shortest flash, the share of such flashes missed, the light that one picture gets."""

    rhythm: str
    flash_s: float
    missed_share: float
    caught_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Filming:
    """All that a camera will make of the lamps."""

    camera: Camera
    film_s: float
    from_mm: float
    room: str
    model_cd_m2: float
    lamps: tuple[FilmedLamps, ...]
    exposures: tuple[Exposure, ...]
    both_lx: float
    pulse_hz: float
    dimmed: tuple[str, ...]
    pulsed: tuple[Pulsed, ...]
    flashes: tuple[Flash, ...]


def filming_of(design: Design) -> Filming:
    """What a camera makes of the lamps.

    Parameters
    ----------
    design : Design
        A whole design; the plan's `camera`, or a usual one.
    Returns
    -------
    Filming
        `both_lx` is the light on white paint that shows the model as mid-tone where no lamp burns out.
    Source
    ------
    Laws in `optics.camera`.
    """
    camera = design.plan.camera or Camera()
    film_s = camera.exposure_s or shutter_s(camera.frames_per_s, camera.shutter_deg)
    lamps = _lamps(design, camera)
    room = design.plan.subject.viewing_room
    model = _model_cd_m2(design, room)
    longest = min((row.clip_s.low for row in lamps), default=math.inf)
    both = METER_K * camera.f_number**2 / (longest * camera.iso) if lamps else 0.0
    return Filming(
        camera=camera, film_s=film_s, from_mm=_from_mm(design, camera), room=room, model_cd_m2=model, lamps=lamps,
        exposures=_exposures(camera, film_s, lamps, model), both_lx=math.pi * both / WHITE_PAINT,
        pulse_hz=pulse_rate_hz(design).typical,
        dimmed=tuple(dimmed_levels(design)), pulsed=pulsed_of(design), flashes=_flashes(design, camera, film_s),
    )


def _model_cd_m2(design: Design, room: str) -> float:
    """How bright the model stands there: white paint in the light that was read, else as the room's word has it."""
    read = design.drawer.measured("room light", "room")
    if read is not None:
        return WHITE_PAINT * read.typical / math.pi
    return number(row_by("seen_levels", "room", room), "background_cd_m2") or 0.0


def _from_mm(design: Design, camera: Camera) -> float:
    return camera.from_mm or design.plan.subject.viewing_distance_mm


# --- exposures ----------------------------------------------------------------------------------------------------


def _lamps(design: Design, camera: Camera) -> tuple[FilmedLamps, ...]:
    lights = _strongest(design)
    groups: dict[str, list[tuple[PlacedLamp, LampLight]]] = {}
    for lamp in design.lamps:
        light = lights.get(lamp.name)
        if light is not None and light.luminance_cd_m2.low > 0.0:
            groups.setdefault(lamp.group, []).append((lamp, light))
    made = {row.lamp: row for row in design.sources}
    hues = {lamp.name: light_colour(design.drawer, made[lamp.name], lamp.colour)
            for found in groups.values() for lamp, _ in found}
    return tuple(_group(name, found, camera, _from_mm(design, camera), hues) for name, found in groups.items())


def _strongest(design: Design) -> dict[str, LampLight]:
    found: dict[str, LampLight] = {}
    for row in design.light.lamps:
        if row.lamp not in found or row.intensity_cd.typical > found[row.lamp].intensity_cd.typical:
            found[row.lamp] = row
    return found


@cache
def _caught_s(rhythm: str, exposure_s: float) -> float:
    """The most light that an exposure catches of a rhythm, in seconds of full light."""
    return most_light_s(parse_rhythm(rhythm), exposure_s)


@cache
def _exposure_for_s(rhythm: str, light_s: float) -> float:
    """The longest exposure that catches no more than so many seconds of full light."""
    return window_for_light_s(parse_rhythm(rhythm), light_s)


def _group(
    name: str, found: list[tuple[PlacedLamp, LampLight]], camera: Camera, from_mm: float, hues: Mapping[str, Colour]
) -> FilmedLamps:
    pixel = pixel_sr(camera.view_deg, camera.across_px)
    seen, clips, sizes = [], [], []
    for lamp, light in found:
        area_m2 = light.intensity_cd.typical / light.luminance_cd_m2.typical
        solid_sr = area_m2 / (from_mm / 1000.0) ** 2
        own = image_luminance(light.luminance_cd_m2, lamp_sr=solid_sr, pixel_sr=pixel)
        seen.append(own)
        clips.append(own.times(channel_over_white((hues[lamp.name].x, hues[lamp.name].y)) / CLIP_OVER_MID))
        sizes.append(math.sqrt(4.0 * solid_sr / math.pi / pixel))
    text = found[0][0].rhythm
    rhythm = text if parse_rhythm(text).mean_level > 0.0 else "steady"
    return FilmedLamps(
        group=name, count=len(found), seen_cd_m2=_hull(seen), across_px=sorted(sizes)[len(sizes) // 2],
        mid_s=_exposures_of(rhythm, _times(_hull(seen), camera)),
        clip_s=_exposures_of(rhythm, _times(_hull(clips), camera)), rhythm=rhythm,
    )


def _exposures_of(rhythm: str, steady: Range) -> Range:
    """Exposures that catch of a rhythm what these catch of a steady lamp."""
    return Range(*(_exposure_for_s(rhythm, each) for each in (steady.low, steady.typical, steady.high)))


def _hull(ranges: list[Range]) -> Range:
    """From the least to the most; typical is the middle one."""
    typical = sorted(row.typical for row in ranges)[len(ranges) // 2]
    return Range(min(row.low for row in ranges), typical, max(row.high for row in ranges))


def _times(luminance: Range, camera: Camera) -> Range:
    """Exposures that show these luminances as mid-tone; the brightest needs the shortest."""
    short, middle, long = (exposure_s(value, f_number=camera.f_number, iso=camera.iso)
                           for value in (luminance.high, luminance.typical, luminance.low))
    return Range(short, middle, long)


def _exposures(
    camera: Camera, film_s: float, lamps: tuple[FilmedLamps, ...], model_cd_m2: float
) -> tuple[Exposure, ...]:
    if not lamps:
        return ()
    model_s = exposure_s(model_cd_m2, f_number=camera.f_number, iso=camera.iso)
    keeps_s = longest_shutter_s(min(row.clip_s.low for row in lamps))
    film = "The plan's exposure" if camera.exposure_s else f"A film's ({camera.shutter_deg:g} degrees)"
    chosen = (("No lamp burns out", keeps_s), ("The model shows as mid-tone", longest_shutter_s(model_s)),
              (film, film_s))
    return tuple(_exposure(name, seconds, lamps, (model_s, camera)) for name, seconds in chosen)


def _exposure(
    name: str, seconds: float, lamps: tuple[FilmedLamps, ...], model: tuple[float, Camera]
) -> Exposure:
    model_s, camera = model
    burnt = {row.group: row.burns_out(seconds) for row in lamps}
    return Exposure(
        name=name, exposure_s=seconds, burnt=tuple(k for k, says in burnt.items() if says == "yes"),
        perhaps=tuple(k for k, says in burnt.items() if says == "perhaps"),
        lost=tuple(row.group for row in lamps if row.over_mid_stops(seconds) < -LOST_STOPS),
        model_stops=math.log2(seconds / model_s), model_iso=camera.iso * model_s / seconds,
    )


def longest_shutter_s(at_most_s: float) -> float:
    """The longest time of the usual ones that is not longer; the time itself where it is shorter than all."""
    return max((each for each in SHUTTERS_S if each <= at_most_s * 1.001), default=at_most_s)


def shutter_words(seconds: float) -> str:
    """An exposure time as cameras name it: '1/60', '0.5', '4'.

    Parameters
    ----------
    seconds : float
        Time [s], more than 0.
    """
    if seconds >= 0.28:
        return f"{float(f'{seconds:.2g}'):g}"
    under = 1.0 / seconds
    whole = abs(under - round(under)) < 0.01 and under < 10_000
    return f"1/{under:.0f}" if whole else f"1/{float(f'{under:.2g}'):.10g}"


# --- pulses -------------------------------------------------------------------------------------------------------


def dimmed_levels(design: Design) -> dict[str, tuple[float, ...]]:
    """Circuits that a controller dims by pulses, each with the levels between dark and full that it holds."""
    driven = channels(made_rhythms(design.plan, design.circuits, design.loom))
    levels = {row.name: tuple(sorted({step.level for step in row.rhythm.steps if 0.0 < step.level < 1.0}))
              for row in driven}
    return {name: found for name, found in levels.items() if found}


def shutters(design: Design) -> tuple[tuple[float | None, float], ...]:
    """Frame rates with their exposures: the usual films at 180 degrees, or what the plan's camera is set to."""
    camera = design.plan.camera
    if camera is None:
        return tuple((rate, shutter_s(rate)) for rate in USUAL_RATES)
    if camera.exposure_s:
        return ((None, camera.exposure_s),)
    return ((camera.frames_per_s, shutter_s(camera.frames_per_s, camera.shutter_deg)),)


def pulse_rate_hz(design: Design) -> Range:
    """Pulses a second with which the controller dims: as they were read, else as its program asks for."""
    read = design.drawer.measured("pulse rate", "controller")
    hz = board_of(design.plan).pwm_hz
    return Range.spread(hz, 1.0 - TIME_ERROR, 1.0 + TIME_ERROR) if read is None else read


def asked_pulses_hz(plan: Plan) -> Range:
    """What a board that was not read may really make: from where some stop, to what its program asks for."""
    hz = Range.spread(board_of(plan).pwm_hz, 1.0 - TIME_ERROR, 1.0 + TIME_ERROR)
    stops_at = float(row_by("uncertain_inputs", "methods", "pulse rate")["ends"])
    return Range(min(stops_at, hz.low), hz.typical, hz.high)


def readout_ms(design: Design) -> Range:
    """Time from a picture's first to its last line: as it was read, as the plan's camera has it, else of any camera."""
    camera, read = design.plan.camera, design.drawer.measured("camera readout", "camera")
    if read is not None:
        return read
    return Range.exactly(camera.readout_ms) if camera and camera.readout_ms is not None else any_readout_ms()


def any_readout_ms() -> Range:
    """Readout of any camera [ms]: the row of uncertain_inputs.csv."""
    ends = row_by("uncertain_inputs", "methods", "camera readout")["ends"]
    return Range(*(float(each) for each in ends.split(";")))


def worst_banding(pulse_hz: float, exposure_s: float, levels: tuple[float, ...]) -> float:
    """Most contrast of the bands over the levels and over the error of both times [-].

    Source
    ------
    `optics.camera.banding_contrast`; TIME_ERROR either way in steps of a fifth.
    """
    return worst_over(Range.spread(pulse_hz, 1.0 - TIME_ERROR, 1.0 + TIME_ERROR), exposure_s, levels)


@cache
def worst_over(pulse_hz: Range, exposure_s: float, levels: tuple[float, ...]) -> float:
    """Most contrast of the bands over the levels and over what the pulses may be [-].

    Source
    ------
    `optics.camera.banding_contrast`, in even steps: ten, or four to each pulse by which the exposure may differ.
    """
    low, wide = pulse_hz.low, pulse_hz.high - pulse_hz.low
    steps = max(10, math.ceil(4.0 * wide * exposure_s))
    tried = [low + wide * k / steps for k in range(steps + 1)]
    return max(banding_contrast(hz, exposure_s, duty=level) for level in levels for hz in tried)


def band_free_hz(exposure_s: float) -> float:
    """Pulses a second from which no level makes bands that are noticed, in whole 50 Hz."""
    return 50.0 * math.ceil(safe_pulse_hz(exposure_s, BAND_SHARE) * (1.0 + TIME_ERROR) / 50.0 - 1e-9)


def pulsed_of(design: Design) -> tuple[Pulsed, ...]:
    """What each shutter makes of the lamps that are dimmed by pulses; nothing where none are."""
    levels = tuple(sorted({level for found in dimmed_levels(design).values() for level in found}))
    if not levels:
        return ()
    return tuple(_pulsed(design, levels, shutter) for shutter in shutters(design))


def _pulsed(design: Design, levels: tuple[float, ...], shutter: tuple[float | None, float]) -> Pulsed:
    (rate, seconds), hz, readout = shutter, pulse_rate_hz(design), readout_ms(design)
    bands = Range(*(bands_in_frame(hz.typical, ms / 1000.0) for ms in (readout.low, readout.typical, readout.high)))
    return Pulsed(
        frames_per_s=rate, exposure_s=seconds, contrast=worst_over(hz, seconds, levels), bands=bands,
        safe_hz=band_free_hz(seconds), whole_s=_quiet_times(hz, levels, seconds),
    )


def _quiet_times(hz: Range, levels: tuple[float, ...], near_s: float) -> tuple[float, ...]:
    """Up to two usual times beside the wanted one, the next shorter and the next longer, that make no bands."""
    def first(times: list[float]) -> list[float]:
        return [each for each in times if worst_over(hz, each, levels) <= BAND_SHARE][:1]

    shorter = [each for each in reversed(SHUTTERS_S) if near_s / NEAR <= each < near_s]
    longer = [each for each in SHUTTERS_S if near_s <= each <= near_s * NEAR]
    return (*first(shorter), *first(longer))


# --- flashes ------------------------------------------------------------------------------------------------------


def _flashes(design: Design, camera: Camera, film_s: float) -> tuple[Flash, ...]:
    found = []
    for text in sorted({lamp.rhythm for lamp in design.lamps if lamp.states and not lamp.dark} - {"steady"}):
        steps = parse_rhythm(text)
        if len({step.level > 0.0 for step in steps.steps}) < 2:
            continue
        flash_s = min(lit_runs_s(steps, True))
        found.append(Flash(
            rhythm=text, flash_s=flash_s, caught_share=min(1.0, flash_s / film_s),
            missed_share=missed_share(flash_s, exposure_s=film_s, frames_per_s=camera.frames_per_s),
        ))
    return tuple(found)
