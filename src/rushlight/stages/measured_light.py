"""Readings of light: LEDs, strips, sheets, walls, paint, a built lamp, the room, and what a camera sees."""

from __future__ import annotations

from typing import Any

from rushlight.model.drawer import Drawer, WallPart
from rushlight.model.plan_bench import Measured
from rushlight.optics.bench import (
    at_1_mm,
    density_per_coat,
    half_angle_from_aside_deg,
    intensity_from_lux,
    paint_reflectance,
    ratio,
    sheet_reflectance,
    shown,
    strip_lm_per_m,
)
from rushlight.optics.camera import pulses_from_bands_hz, readout_from_bands_s
from rushlight.optics.led_light import light_laws
from rushlight.stages.aside import ASIDE
from rushlight.stages.measured_found import (
    POST_PAINT,
    USUAL_GAPS,
    Found,
    MeasuredFault,
    Way,
    given,
    lamp_in,
    off_share_of,
    passed,
    share_left,
)
from rushlight.stages.painted_wall import SCATTERING, density_of_one
from rushlight.stages.rooms import BOXED_ROOM
from rushlight.units import Range

BURNT = 2.0
"""So many times the current that an LED bears, it would not have been read but burnt (project rule)."""


def _led_intensity(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    candela = intensity_from_lux(shown(one.readings, off=off_share_of(one)), given(one.distance_mm))
    at_ma = one.at_ma or led.test_ma
    if at_ma > BURNT * led.max_ma:
        raise MeasuredFault("at_ma", f"is {at_ma:g}: this LED bears {led.max_ma:g} mA",
                            f"the current that it had, at most {BURNT * led.max_ma:g} mA")
    at_test = candela.times(1000.0 / light_laws(led.law).usual.times(at_ma / led.test_ma))
    return (Found("leds", led.name, "intensity_mcd", at_test, at_ma=at_ma),)


def _led_half_angle(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    aside = shown(one.readings, off=off_share_of(one))
    return (Found("leds", led.name, "half_angle_deg", half_angle_from_aside_deg(aside, given(one.distance_mm))),)


def _aside(drawer: Drawer, one: Measured, of: Any) -> tuple[Found, ...]:
    share = share_left(one)
    if share.low > 1.0:
        raise MeasuredFault("readings", f"are {share.typical:.3g} times those straight before it",
                            "less than straight before it (exchanged, perhaps)")
    return (Found("bench", of if isinstance(of, str) else of.name, ASIDE, share),)


def _strip(drawer: Drawer, one: Measured, strip: Any) -> tuple[Found, ...]:
    flux = strip_lm_per_m(shown(one.readings, off=off_share_of(one)), distance_mm=given(one.distance_mm),
                          length_mm=given(one.length_mm), half_deg=strip.half_angle_deg)
    return (Found("strips", strip.name, "flux_lm_per_m", flux),)


def _diffuser(drawer: Drawer, one: Measured, sheet: Any) -> tuple[Found, ...]:
    through = passed(share_left(one))
    found = Found("diffusers", sheet.name, "transmittance", through)
    if not one.two:
        return (found,)
    two = ratio(one.two, one.against, off=off_share_of(one))
    return (found, Found("diffusers", sheet.name, "reflectance", sheet_reflectance(through, two)))


def _wall(drawer: Drawer, one: Measured, wall: Any) -> tuple[Found, ...]:
    scatters = isinstance(wall, WallPart) and wall.scatters
    through = at_1_mm(passed(share_left(one)), thickness_mm=given(one.thickness_mm), scatters=scatters)
    return (Found("walls", wall.name, "transmittance_1mm", through),)


def _coat(drawer: Drawer, one: Measured, coat: Any) -> tuple[Found, ...]:
    """Density of one coat; white ones throw light to and fro, so that several let through more than their product."""
    through, coats = passed(share_left(one)), int(given(one.count))
    density = density_per_coat(through, coats=coats)
    if coat.kind in SCATTERING:
        density = Range(*(density_of_one(coat, share, coats=coats)
                          for share in (through.high, through.typical, through.low)))
    return (Found("coats", coat.name, "density", density),)


def _reflectance(drawer: Drawer, one: Measured, row: Any) -> tuple[Found, ...]:
    if row == BOXED_ROOM:
        return (Found("bench", BOXED_ROOM, "room paint", paint_reflectance(share_left(one))),)
    table = "walls" if isinstance(row, WallPart) else "coats"
    return (Found(table, row.name, "reflectance", paint_reflectance(share_left(one))),)


def _stray(drawer: Drawer, one: Measured, kind: Any) -> tuple[Found, ...]:
    return (Found("bench", kind, "stray light", passed(share_left(one))),)


def _gap(drawer: Drawer, one: Measured, of: Any) -> tuple[Found, ...]:
    return (Found("bench", of, one.what, shown(one.readings, off=off_share_of(one))),)


def _root(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """A root has no more paint than the wall beside it."""
    times = share_left(one)
    if times.high < 1.0:
        raise MeasuredFault("readings", f"are {times.typical:.3g} times those over the painted wall",
                            "more: a root holds no more paint than the wall (exchanged, perhaps)")
    ends = Range(max(times.low, 1.0), max(times.typical, 1.0), times.high)
    return (Found("bench", part, POST_PAINT, ends),)


def _lamp(drawer: Drawer, one: Measured, name: Any) -> tuple[Found, ...]:
    candela = intensity_from_lux(shown(one.readings, off=off_share_of(one)), given(one.distance_mm))
    return (Found("bench", lamp_in(name, one.state or ""), "lamp", candela),)


def _pulses(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    """As a meter shows them, or as bands in a picture of a camera whose readout is known."""
    read = shown(one.readings, off=off_share_of(one))
    rate = read if one.readout_ms is None else pulses_from_bands_hz(read, one.readout_ms / 1000.0)
    return (Found("bench", word, "pulse rate", rate),)


def _readout(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    time = readout_from_bands_s(shown(one.readings, off=off_share_of(one)), given(one.pulse_hz))
    return (Found("bench", word, "camera readout", time.times(1000.0)),)


def _room(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    return (Found("bench", word, "room light", shown(one.readings, off=off_share_of(one))),)


LIGHT_WAYS: dict[str, Way] = {
    "led intensity": _led_intensity, "led half angle": _led_half_angle, ASIDE: _aside, "strip flux": _strip,
    "diffuser": _diffuser,
    "wall": _wall, "coat": _coat, "reflectance": _reflectance, "stray light": _stray, "lamp": _lamp,
    POST_PAINT: _root,
    "pulse rate": _pulses, "camera readout": _readout, "room light": _room, **dict.fromkeys(USUAL_GAPS, _gap),
}
"""Methods with a light meter or a camera, and of the gaps through which light gets out."""
