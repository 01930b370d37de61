"""Readings at the bench take the place of guesses: what each comes to, and where in the drawer it goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rushlight.electric.cell import cell
from rushlight.electric.led import law_spread
from rushlight.electric.led_read import LedReading, law_of_readings
from rushlight.errors import OutOfRange, nearest_word
from rushlight.geometry.bundle import hand_factor
from rushlight.geometry.circles import enclosing_circle
from rushlight.model.drawer import BenchValue, Drawer, LedPart, OwnLaw, WallPart
from rushlight.model.plan_bench import BENCH_METHODS, Measured
from rushlight.optics.bench import (
    at_1_mm,
    cut_back_db_per_m,
    density_per_coat,
    half_angle_from_aside_deg,
    intensity_from_lux,
    lost_db,
    paint_reflectance,
    ratio,
    sheet_reflectance,
    shown,
    strip_lm_per_m,
)
from rushlight.optics.camera import pulses_from_bands_hz, readout_from_bands_s
from rushlight.optics.fibre import Launch, joint_factor, launch_sine, tail_flux
from rushlight.optics.fibre import Tail as TailLaw
from rushlight.optics.fibre_loss import attenuation_db_per_m, bend_loss_db, finish_db
from rushlight.stages.bundles import BUNDLE_WIDTH, tied
from rushlight.stages.fibre_light import REFERENCE_A, in_colour
from rushlight.stages.filming import any_readout_ms
from rushlight.stages.heat import FEED_POWER
from rushlight.stages.parts_law import fibre_of, joint_of, led_launch, led_law_range
from rushlight.stages.rooms import BOXED_ROOM, ROOM_PAINT
from rushlight.stages.strays import stray_share
from rushlight.stages.supplies import CELL_CHARGE, of_own_charge
from rushlight.tables import Row, row_by, rows
from rushlight.units import Range

TABLES: dict[str, tuple[str, ...]] = {
    "led intensity": ("leds",), "led half angle": ("leds",), "led voltage": ("leds",), "strip flux": ("strips",),
    "diffuser": ("diffusers",),
    "wall": ("walls",), "coat": ("coats",), "reflectance": ("coats", "walls"), "fibre joint": ("leds",),
    "fibre length": ("fibres",), "fibre bend": ("fibres",), BUNDLE_WIDTH: ("fibres",), CELL_CHARGE: ("cells",),
}
"""Tables of the drawer in which the thing measured is looked up; the others name what they are of by a word."""

ONE_THING = {"pulse rate": "controller", "camera readout": "camera", "room light": "room"}
"""Methods of which there is one thing alone, and what it is called."""

OF_PLAN = ("lamp", "hull warmth", FEED_POWER)
"""What is measured of a thing that the plan names; whether it is there is asked where the plan is known."""

Place = tuple[str, str, str]
"""Table, row and column of a guess; `habits` and `bench` stand for what is no row of a part."""

JOINT: Place = ("habits", "fibre_joint", "value")

POLISHED = "polished"

LED_VOLTAGE = "led voltage"

LEAST_RISE_K = 1.0
"""A rise that a cheap thermometer still tells from nothing (project rule)."""

LEAST_BEND_DB = 0.3
"""A bend that loses less drowns in the meter's error (project rule)."""

SMALL_JOINT = 0.01
"""A joint so poor that the luminance of the lamp never holds the coupling down: a tail's light goes with it."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a reading comes to: a value of a row (table, row, column), a habit, or a value that stands in no table.

    `law` is an LED's, beside its voltage at the current that its row is told for.
    """

    table: str
    row: str
    column: str
    value: Range
    law: OwnLaw | None = None


class MeasuredFault(Exception):
    """A reading that cannot be: at which key, what stands there, what was expected, the nearest word."""

    def __init__(self, key: str, found: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(f"{key} {found}; expected {expected}")
        self.key, self.found, self.expected, self.nearest = key, found, expected, nearest


def reckoned_in_order(measured: Sequence[Measured]) -> list[int]:
    """Places of readings in the order in which they are put in: what others hang on comes first."""
    return sorted(range(len(measured)), key=lambda place: BENCH_METHODS.index(measured[place].what))


def with_measured(drawer: Drawer, measured: Sequence[Measured]) -> Drawer:
    """The drawer with the readings of a plan put in.

    Parameters
    ----------
    drawer : Drawer
        With the plan's own values.
    measured : sequence of Measured
        Readings; those that others hang on are put in first, of two on the same thing the later counts.
    Returns
    -------
    Drawer
        Each value with the range that its readings leave it.
    Raises
    ------
    MeasuredFault
        For the first reading that cannot be.
    Source
    ------
    `optics.bench`.
    """
    for place in reckoned_in_order(measured):
        for found in found_by(drawer, measured[place]):
            drawer = put_in(drawer, found)
    return drawer


def found_by(drawer: Drawer, one: Measured) -> tuple[Found, ...]:
    """What a reading comes to.

    Parameters
    ----------
    drawer : Drawer
        The parts that it is of.
    one : Measured
        Readings.
    Returns
    -------
    tuple of Found
        One value or two, each with its range.
    Raises
    ------
    MeasuredFault
        If a key is missing, of what it is is not known, or the readings cannot be.
    Source
    ------
    `optics.bench`.
    """
    method = row_by("bench_methods", "what", one.what)
    _check_keys(one, method)
    row = _row_of(drawer, one)
    try:
        return _WAYS[one.what](drawer, one, row)
    except OutOfRange as wrong:
        raise MeasuredFault("readings", f"come to {wrong.name} {_plain(wrong.value)}", wrong.expected) from None


def put_in(drawer: Drawer, found: Found) -> Drawer:
    """The drawer with one value put in its place, and with a word of what was believed before."""
    place = (found.table, found.row, found.column)
    what = "fibre joint" if place == JOINT else found.column
    kept = tuple(row for row in drawer.bench if (row.what, row.of) != (what, found.row))
    read = BenchValue(what=what, of=found.row, value=found.value, believed=value_at(drawer, place))
    drawer = replace(drawer, bench=(*kept, read))
    if found.law is not None:
        return replace(drawer, leds=tuple(
            replace(row, own_law=found.law) if row.name == found.row else row for row in drawer.leds))
    if found.table in ("habits", "bench"):
        return drawer
    if found.column == "half_angle_deg":
        return _with_angle(drawer, found)
    return replace(drawer, **{found.table: tuple(
        _put(row, found.column, found.value) if row.name == found.row else row for row in getattr(drawer, found.table)
    )})


def value_at(drawer: Drawer, place: Place) -> Range | None:
    """What is believed of a guess today; None of what the plan names, as only the whole design knows it."""
    table, name, column = place
    if place == JOINT:
        return joint_of(drawer) or joint_factor()
    if table == "bench":
        return _bench_value(drawer, name, column)
    row = next(row for row in getattr(drawer, table) if row.name == name)
    if column == "half_angle_deg":
        return Range.spread(row.half_angle_deg, 1 - row.angle_share, 1 + row.angle_share)
    value: Range = getattr(row, column)
    return value


BEND_TIMES = Range(0.5, 1.0, 2.0)
"""How far a bend's loss lies off the typical law, in words: its angle and launch decide the real span."""


def _bench_value(drawer: Drawer, name: str, column: str) -> Range | None:
    """What stands in no table of parts, as measured or as the laws have it."""
    measured = drawer.measured(column, name)
    if measured is not None:
        return measured
    if column == LED_VOLTAGE:
        led = drawer.led(name)
        return led_law_range(led, led.test_ma / 1000.0)
    if column == "fibre end":
        return finish_db(name)
    if column == "fibre bend":
        return BEND_TIMES
    if column == CELL_CHARGE:
        return _charge_believed(drawer, name)
    if column == BUNDLE_WIDTH:
        return _width_believed(drawer, name)
    if column == "camera readout":
        return any_readout_ms()
    if column == "room paint":
        return ROOM_PAINT
    if column == "fibre length":
        colour = name.rpartition(", ")[2]
        return attenuation_db_per_m(next(led.dominant_nm for led in drawer.leds if led.colour == colour))
    return stray_share(drawer, name) if column == "stray light" else None


def _charge_believed(drawer: Drawer, name: str) -> Range:
    """What a cell holds, in times of the law of its kind."""
    part = next(row for row in drawer.cells if row.name == name)
    return of_own_charge(cell(part.law), part).time_spread


def _width_believed(drawer: Drawer, name: str) -> Range:
    """How wide a hand ties a fibre over the ideal bundle, the fibre's own tolerance included."""
    fibre, _, many = name.rpartition(", ")
    part = next(row for row in drawer.fibres if row.name == fibre)
    off = part.tolerance_mm / part.diameter_mm
    return hand_factor(int(many.partition(" ")[0])).times(Range(1.0 - off, 1.0, 1.0 + off))


def _with_angle(drawer: Drawer, found: Found) -> Drawer:
    """A half angle is one number and how far it may be off."""
    angle = found.value
    share = max(angle.high - angle.typical, angle.typical - angle.low) / angle.typical
    return replace(drawer, leds=tuple(
        replace(_put(row, found.column, angle.typical), angle_share=share) if row.name == found.row else row
        for row in drawer.leds
    ))


def _put(row: Any, column: str, value: Any) -> Any:
    return replace(row, **{column: value, "source": f"{row.source}; {column} is measured at your bench"})


# --- checking -----------------------------------------------------------------------------------------------------


def keys_needed(method: Row) -> tuple[str, ...]:
    """Keys of a reading that its method needs beside `readings`."""
    return (*(("against",) if method["against"] else ()), *(word for word in method["must"].split(";") if word))


def _check_keys(one: Measured, method: Row) -> None:
    for key in keys_needed(method):
        if getattr(one, key) in (None, ()):
            raise MeasuredFault(key, "is missing", f"{KEY_WORDS[key]}: {one.what} needs it")
    for key in ("readings", "against", "two", "series_ohm"):
        low = next((value for value in getattr(one, key) if value <= 0), None)
        if low is not None:
            raise MeasuredFault(key, f"hold {low:g}", "more than 0: what no meter shows cannot be reckoned with")


KEY_WORDS = {
    "against": "the readings without it", "distance_mm": "the distance to the meter", "length_mm": "the piece's length",
    "led": "the LED that lit it", "state": "the state that it was lit in", "power_w": "what was burnt inside",
    "radius_mm": "the bend's radius", "turn_deg": "how far it turned",
    "series_ohm": "the resistor of each reading",
    "pulse_hz": "the pulses of the lamp that it saw", "at_ma": "the current that it gave",
    "thickness_mm": "the piece's thickness", "fibre_mm": "the test piece's width", "count": "how many",
}


def may_be_of(drawer: Drawer, what: str) -> tuple[str, ...]:
    """What a method's reading may be of: names of rows of the drawer, or words."""
    if what in OF_PLAN:
        return ()
    if what in ONE_THING:
        return (ONE_THING[what],)
    if what == "fibre end":
        return tuple(row["finish"] for row in rows("fibre_finish") if row["finish"] != POLISHED)
    if what == "stray light":
        return tuple(row["kind"] for row in rows("stray_share") if row["kind"] != "inward")
    words = (BOXED_ROOM,) if what == "reflectance" else ()
    return (*(row.name for table in TABLES[what] for row in getattr(drawer, table)), *words)


def _row_of(drawer: Drawer, one: Measured) -> Any:
    """The row of the drawer that was measured, or the word itself."""
    if one.what in OF_PLAN:
        return one.of
    known = may_be_of(drawer, one.what)
    if one.of not in known:
        of = f"a row of the drawer's {' or '.join(TABLES[one.what])}" if one.what in TABLES else ", ".join(known)
        raise MeasuredFault("of", f"'{one.of}' is not known", of, nearest_word(one.of, known))
    if one.what not in TABLES or one.of == BOXED_ROOM:
        return one.of
    return next(row for table in TABLES[one.what] for row in getattr(drawer, table) if row.name == one.of)


def _plain(value: object) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(value)


# --- methods ------------------------------------------------------------------------------------------------------


def _off(one: Measured) -> float:
    if one.off_share is not None:
        return one.off_share
    return float(row_by("bench_methods", "what", one.what)["off_share"])


def _left(one: Measured) -> Range:
    return ratio(one.readings, one.against, off=_off(one))


def _given(value: float | None) -> float:
    assert value is not None, "checked with the keys"
    return value


def _led_intensity(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    candela = intensity_from_lux(shown(one.readings, off=_off(one)), _given(one.distance_mm))
    at_test = candela.times(1000.0 * led.test_ma / (one.at_ma or led.test_ma))
    return (Found("leds", led.name, "intensity_mcd", at_test),)


def _led_half_angle(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    aside = shown(one.readings, off=_off(one))
    return (Found("leds", led.name, "half_angle_deg", half_angle_from_aside_deg(aside, _given(one.distance_mm))),)


def _led_voltage(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    """The LED's law, and its voltage at the current that its row is told for."""
    count = len(one.readings)
    for key in ("against", "series_ohm"):
        if len(getattr(one, key)) != count:
            raise MeasuredFault(key, f"hold {len(getattr(one, key))} numbers", f"{count}, one for each reading")
    told = zip(one.series_ohm, one.readings, one.against, strict=True)
    read = law_of_readings([LedReading(*row) for row in told], law_spread(led.law), off_share=_off(one))
    law = OwnLaw(saturation_a=read.law.saturation_a, ideality=read.law.ideality, series_ohm=read.law.series_ohm,
                 low_v=read.low_v, high_v=read.high_v, least_ma=1000.0 * read.least_a, most_ma=1000.0 * read.most_a)
    volts = led_law_range(replace(led, own_law=law), led.test_ma / 1000.0)
    return (Found("bench", led.name, LED_VOLTAGE, volts, law),)


def _strip(drawer: Drawer, one: Measured, strip: Any) -> tuple[Found, ...]:
    flux = strip_lm_per_m(shown(one.readings, off=_off(one)), distance_mm=_given(one.distance_mm),
                          length_mm=_given(one.length_mm), half_deg=strip.half_angle_deg)
    return (Found("strips", strip.name, "flux_lm_per_m", flux),)


def _diffuser(drawer: Drawer, one: Measured, sheet: Any) -> tuple[Found, ...]:
    through = _passed(_left(one))
    found = Found("diffusers", sheet.name, "transmittance", through)
    if not one.two:
        return (found,)
    two = ratio(one.two, one.against, off=_off(one))
    return (found, Found("diffusers", sheet.name, "reflectance", sheet_reflectance(through, two)))


def _passed(share: Range) -> Range:
    """A share that a thing lets through: beyond the meter's error it is never over 1."""
    if share.low > 1.0:
        raise MeasuredFault("readings", f"are {share.typical:.3g} times those without it",
                            "less than without it (exchanged, perhaps)")
    return Range(*(min(end, 1.0) for end in (share.low, share.typical, share.high)))


def _wall(drawer: Drawer, one: Measured, wall: Any) -> tuple[Found, ...]:
    scatters = isinstance(wall, WallPart) and wall.scatters
    through = at_1_mm(_passed(_left(one)), thickness_mm=_given(one.thickness_mm), scatters=scatters)
    return (Found("walls", wall.name, "transmittance_1mm", through),)


def _coat(drawer: Drawer, one: Measured, coat: Any) -> tuple[Found, ...]:
    return (Found("coats", coat.name, "density", density_per_coat(_passed(_left(one)), coats=_given(one.count))),)


def _reflectance(drawer: Drawer, one: Measured, row: Any) -> tuple[Found, ...]:
    if row == BOXED_ROOM:
        return (Found("bench", BOXED_ROOM, "room paint", paint_reflectance(_left(one))),)
    table = "walls" if isinstance(row, WallPart) else "coats"
    return (Found(table, row.name, "reflectance", paint_reflectance(_left(one))),)


def _end(drawer: Drawer, one: Measured, finish: Any) -> tuple[Found, ...]:
    """Loss of an end over a polished one, and what that one loses."""
    polished = finish_db(POLISHED)
    lost = lost_db(_passed(_left(one)))
    return (Found("bench", finish, "fibre end", Range(lost.low + polished.low, lost.typical + polished.typical,
                                                      lost.high + polished.high)),)


def _length(drawer: Drawer, one: Measured, fibre: Any) -> tuple[Found, ...]:
    led = _led_of(drawer, one)
    lost = cut_back_db_per_m(ratio(one.against, one.readings, off=_off(one)), length_mm=_given(one.length_mm))
    return (Found("bench", in_colour(fibre, led), "fibre length", lost),)


def _bend(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """What the bend lost, as a multiple of the typical law for it."""
    fibre = fibre_of(part)
    sine = launch_sine(led_launch(_led_of(drawer, one), REFERENCE_A), fibre, offset_mm=0.0)
    law = bend_loss_db(_given(one.radius_mm) / fibre.outer_mm, na=fibre.na, launch_na=sine,
                       angle_deg=_given(one.turn_deg)).typical
    if law < LEAST_BEND_DB:
        raise MeasuredFault("radius_mm", f"is {one.radius_mm:g}: such a bend loses {law:.2g} dB, too little to read",
                            f"a bend of about {6 * fibre.outer_mm:.2g} mm, a quarter turn or more")
    return (Found("bench", part.name, "fibre bend", lost_db(_passed(_left(one))).times(1.0 / law)),)


def _led_of(drawer: Drawer, one: Measured) -> LedPart:
    known = {row.name: row for row in drawer.leds}
    if one.led not in known:
        raise MeasuredFault("led", f"'{one.led}' is not known", "a row of the drawer's leds",
                            nearest_word(one.led or "", known))
    return known[one.led]


def _joint(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    """Intensity of the tail over that of the LED, against what the laws foretell of a whole joint."""
    part = drawer.fibre(_given(one.fibre_mm))
    launch: Launch = replace(led_launch(led, led.test_ma / 1000.0), coupling=Range.exactly(SMALL_JOINT))
    bare = led.intensity_mcd.typical / 1000.0
    launch = replace(launch, flux_lm=Range.exactly(launch.flux_lm.typical))
    straight = TailLaw(offset_mm=0.0, length_mm=_given(one.length_mm), wavelength_nm=led.dominant_nm)
    whole = tail_flux(launch, fibre_of(part), straight).axial_intensity_cd.typical / SMALL_JOINT / bare
    kept = _left(one).times(1.0 / whole)
    if kept.low > 1.0:
        raise MeasuredFault("readings", f"keep {kept.typical:.3g} times what a perfect joint would",
                            f"at most {whole:.3g} of the bare LED: a tail never gives more than its LED lets in")
    return (Found("habits", "fibre_joint", "value", Range(*(max(0.01, min(end, 1.0)) for end in
                                                            (kept.low, kept.typical, kept.high)))),)


def _stray(drawer: Drawer, one: Measured, kind: Any) -> tuple[Found, ...]:
    return (Found("bench", kind, "stray light", _passed(_left(one))),)


def lamp_in(lamp: str, state: str) -> str:
    """A lamp in a state: what its light as read is kept under."""
    return f"{lamp} in {state}"


def _lamp(drawer: Drawer, one: Measured, name: Any) -> tuple[Found, ...]:
    candela = intensity_from_lux(shown(one.readings, off=_off(one)), _given(one.distance_mm))
    return (Found("bench", lamp_in(name, one.state or ""), "lamp", candela),)


def _warmth(drawer: Drawer, one: Measured, space: Any) -> tuple[Found, ...]:
    """How much warmer than the room the space got, and by what power."""
    off, room_c = _off(one), one.against
    inside_c = sum(one.readings) / len(one.readings)
    rise_k = inside_c - sum(room_c) / len(room_c)
    least_k, most_k = min(one.readings) - max(room_c), max(one.readings) - min(room_c)
    if rise_k < LEAST_RISE_K or least_k <= 0:
        raise MeasuredFault("readings", f"are {rise_k:.3g} K over the room",
                            f"{LEAST_RISE_K:g} K or more: wait longer, or nothing hangs on it")
    rise = Range(least_k * (1.0 - off), rise_k, most_k * (1.0 + off))
    return (Found("bench", space, "hull warmth", rise),
            Found("bench", space, "hull power", Range.exactly(_given(one.power_w))))


def _feed(drawer: Drawer, one: Measured, state: Any) -> tuple[Found, ...]:
    return (Found("bench", state, FEED_POWER, shown(one.readings, off=_off(one))),)


def _width(drawer: Drawer, one: Measured, fibre: Any) -> tuple[Found, ...]:
    """How wide a hand ties, over the ideal bundle."""
    count = int(_given(one.count))
    if count < 2:
        raise MeasuredFault("count", f"is {count}", "2 fibres or more: one is its own bundle")
    ideal = enclosing_circle((fibre.diameter_mm,) * count)
    times = shown(one.readings, off=_off(one)).times(1.0 / ideal.diameter_mm)
    if times.high < ideal.lower_bound_mm / ideal.diameter_mm * (1.0 - fibre.tolerance_mm / fibre.diameter_mm):
        raise MeasuredFault("readings", f"are {times.typical * ideal.diameter_mm:.3g} mm",
                            f"{ideal.diameter_mm:.3g} mm or more: {count} of these fibres are never narrower")
    return (Found("bench", tied(fibre, count), BUNDLE_WIDTH, times),)


def _charge(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """Hours at a steady current, over the hours that the law of its kind has there."""
    amps, law = _given(one.at_ma) / 1000.0, cell(part.law)
    if amps > 3 * law.rate.most_a:
        raise MeasuredFault("at_ma", f"is {one.at_ma:g}", f"{3000 * law.rate.most_a:g} or less: more it does not bear")
    hours = float(law.rate.capacity_mah(amps)) / (1000.0 * amps)
    return (Found("bench", part.name, CELL_CHARGE, shown(one.readings, off=_off(one)).times(1.0 / hours)),)


def _pulses(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    """As a meter shows them, or as bands in a picture of a camera whose readout is known."""
    read = shown(one.readings, off=_off(one))
    rate = read if one.readout_ms is None else pulses_from_bands_hz(read, one.readout_ms / 1000.0)
    return (Found("bench", word, "pulse rate", rate),)


def _readout(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    time = readout_from_bands_s(shown(one.readings, off=_off(one)), _given(one.pulse_hz))
    return (Found("bench", word, "camera readout", time.times(1000.0)),)


def _room(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    return (Found("bench", word, "room light", shown(one.readings, off=_off(one))),)


_WAYS: dict[str, Callable[[Drawer, Measured, Any], tuple[Found, ...]]] = {
    "led intensity": _led_intensity, "led half angle": _led_half_angle, LED_VOLTAGE: _led_voltage,
    "strip flux": _strip, "diffuser": _diffuser,
    "wall": _wall, "coat": _coat, "reflectance": _reflectance, "fibre joint": _joint, "stray light": _stray,
    FEED_POWER: _feed, BUNDLE_WIDTH: _width, CELL_CHARGE: _charge, "pulse rate": _pulses, "camera readout": _readout,
    "room light": _room,
    "lamp": _lamp, "hull warmth": _warmth, "fibre end": _end, "fibre length": _length, "fibre bend": _bend,
}
