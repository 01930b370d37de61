"""Readings of power: an LED's own law, a cell's charge, what a feed draws, and the warmth of a closed space."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rushlight.electric.cell import cell
from rushlight.electric.cell_read import bank_share_read, inner_ohm_read
from rushlight.electric.led import law_spread
from rushlight.electric.led_read import LedReading, law_of_readings
from rushlight.electric.supply import bank_range, fall_ohm_read
from rushlight.model.drawer import Drawer, OwnLaw
from rushlight.model.plan_bench import Measured
from rushlight.optics.bench import shown
from rushlight.stages.measured_found import LED_VOLTAGE, Found, MeasuredFault, Way, given, off_share_of
from rushlight.stages.parts_law import led_law_range
from rushlight.stages.supplies import (
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    CELL_OHM,
    FEED_POWER,
    UNIT_OHM,
    UNIT_VOLTS,
    printed,
    unit_named,
    usual_unit_ohm,
)
from rushlight.units import Range

LEAST_RISE_K = 1.0
"""A rise that a cheap thermometer still tells from nothing (project rule)."""

MOST_INSIDE_C = 150.0
"""Where the box law ends: every plastic of a hull is long soft."""

ROOM_C = (5.0, 45.0)
"""No room that a model is tried in is colder or warmer; one told in degrees F is (project rule)."""


MOST_PLUG_V = 40.0
"""A unit of 24 V that is not regulated gives no more than this with nothing on it; a wall far more."""


def _led_voltage(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    """The LED's law, and its voltage at the current that its row is told for."""
    count = len(one.readings)
    for key in ("against", "series_ohm"):
        if len(getattr(one, key)) != count:
            raise MeasuredFault(key, f"hold {len(getattr(one, key))} numbers", f"{count}, one for each reading")
    told = zip(one.series_ohm, one.readings, one.against, strict=True)
    read = law_of_readings([LedReading(*row) for row in told], law_spread(led.law), off_share=off_share_of(one))
    law = OwnLaw(saturation_a=read.law.saturation_a, ideality=read.law.ideality, series_ohm=read.law.series_ohm,
                 low_v=read.low_v, high_v=read.high_v, least_ma=1000.0 * read.least_a, most_ma=1000.0 * read.most_a)
    volts = led_law_range(replace(led, own_law=law), led.test_ma / 1000.0)
    return (Found("bench", led.name, LED_VOLTAGE, volts, law),)


def _warmth(drawer: Drawer, one: Measured, space: Any) -> tuple[Found, ...]:
    """How much warmer than the room the space got, and by what power."""
    off, room_c = off_share_of(one), one.against
    for key, (least_c, most_c) in (("readings", (0.0, MOST_INSIDE_C)), ("against", ROOM_C)):
        wrong = next((each for each in getattr(one, key) if not least_c <= each <= most_c), None)
        if wrong is not None:
            raise MeasuredFault(key, f"hold {wrong:g} degrees C",
                                f"{least_c:g} to {most_c:g} (a slip of the pen, or degrees F: 70 F is 21 C)")
    inside_c = sum(one.readings) / len(one.readings)
    rise_k = inside_c - sum(room_c) / len(room_c)
    least_k, most_k = min(one.readings) - max(room_c), max(one.readings) - min(room_c)
    if rise_k < LEAST_RISE_K or least_k <= 0:
        raise MeasuredFault("readings", f"are {rise_k:.3g} K over the room",
                            f"{LEAST_RISE_K:g} K or more: wait longer, or nothing hangs on it")
    rise = Range(least_k * (1.0 - off), rise_k, most_k * (1.0 + off))
    return (Found("bench", space, "hull warmth", rise),
            Found("bench", space, "hull power", Range.exactly(given(one.power_w))))


def _feed(drawer: Drawer, one: Measured, state: Any) -> tuple[Found, ...]:
    return (Found("bench", state, FEED_POWER, shown(one.readings, off=off_share_of(one))),)


def _charge(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """Hours at a steady current, over the hours that the law of its kind has there."""
    amps, law = given(one.at_ma) / 1000.0, cell(part.law)
    if amps > 3 * law.rate.most_a:
        raise MeasuredFault("at_ma", f"is {one.at_ma:g}", f"{3000 * law.rate.most_a:g} or less: more it does not bear")
    hours = float(law.rate.capacity_mah(amps)) / (1000.0 * amps)
    return (Found("bench", part.name, CELL_CHARGE, shown(one.readings, off=off_share_of(one)).times(1.0 / hours)),)


def _ohm(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """Inner resistance from volts without and with a load, over what the law of its kind has fresh."""
    law = cell(part.law)
    read = inner_ohm_read(one.against, one.readings, current_a=given(one.at_ma) / 1000.0, off_share=off_share_of(one))
    return (Found("bench", part.name, CELL_OHM, read.times(1.0 / law.fresh_ohm)),)


def _bank(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    hours, mah = shown(one.readings, off=off_share_of(one)), given(one.printed_mah)
    share = bank_share_read(hours, current_a=given(one.at_ma) / 1000.0, printed_mah=mah)
    if share.low > 1.0:
        raise MeasuredFault("readings", f"come to {share.typical:.3g} times what is printed on it",
                            "less: a bank gives less than its cells hold (milliwatt-hours for hours, perhaps)")
    return (Found("bench", printed(mah), BANK_ENERGY, share),)


def _bank_load(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    """Between the most at which it went off and the least at which it stayed on."""
    stays, off_at, off = min(one.readings), max(one.against), off_share_of(one)
    if off_at >= stays:
        raise MeasuredFault("against", f"hold {off_at:g} mA, at which it went off",
                            f"less than the {stays:g} mA at which it stayed on (exchanged, perhaps)")
    low, high, usual = off_at * (1 - off), stays * (1 + off), bank_range("sleep", "a").times(1000.0)
    if low <= usual.high and usual.low <= high:  # trials far from it bound it less than what any bank does
        low, high = max(low, usual.low), min(high, usual.high)
    return (Found("bench", word, BANK_LOAD, Range(low, min(max((off_at + stays) / 2, low), high), high)),)


def _unit(drawer: Drawer, one: Measured, word: Any) -> tuple[Found, ...]:
    """Volts with nothing on the plug; where it was read with a load too, how far an ampere takes them down."""
    name = unit_named(word, given(one.printed_v))
    for key in ("readings", "against"):
        far = next((each for each in getattr(one, key) if each > MOST_PLUG_V), None)
        if far is not None:
            raise MeasuredFault(key, f"hold {far:g} V", f"{MOST_PLUG_V:g} V or less, at the low-voltage plug: nothing "
                                "is ever measured at the wall (a slip of the pen, or millivolts)")
    volts = Found("bench", name, UNIT_VOLTS, shown(one.readings, off=off_share_of(one)))
    if bool(one.against) != (one.at_ma is not None):
        key, also = ("at_ma", "against") if one.against else ("against", "at_ma")
        raise MeasuredFault(key, "is missing", f"it, as {also} is told: volts with a load and its current go together")
    if not one.against:
        return (volts,)
    ohm, usual = fall_ohm_read(one.readings, one.against, given(one.at_ma) / 1000.0), usual_unit_ohm(name)
    if ohm.low <= usual.high and usual.low <= ohm.high:  # a small load bounds it less than what any such unit has
        low, high = max(ohm.low, usual.low), min(ohm.high, usual.high)
        ohm = Range(low, min(max(ohm.typical, low), high), high)
    return volts, Found("bench", name, UNIT_OHM, ohm)


POWER_WAYS: dict[str, Way] = {
    LED_VOLTAGE: _led_voltage, "hull warmth": _warmth, FEED_POWER: _feed, CELL_CHARGE: _charge, CELL_OHM: _ohm,
    BANK_ENERGY: _bank, BANK_LOAD: _bank_load, UNIT_VOLTS: _unit,
}
"""Methods with a multimeter or a thermometer."""
