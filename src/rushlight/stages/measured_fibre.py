"""Readings of fibre: its end, its length, its bends, its joint to the LED, and how wide a hand ties it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from rushlight.errors import nearest_word
from rushlight.geometry.bundle import loose_offsets_mm
from rushlight.geometry.circles import enclosing_circle
from rushlight.model.drawer import Drawer, FibrePart, LedPart
from rushlight.model.plan_bench import Measured
from rushlight.optics.bench import cut_back_db_per_m, lost_db, ratio, shown
from rushlight.optics.fibre import Launch, launch_sine, tail_flux
from rushlight.optics.fibre import Tail as TailLaw
from rushlight.optics.fibre_cone import LEAST_SPREAD, bent_sine
from rushlight.optics.fibre_loss import Bend, Fibre, attenuation_db_per_m, bend_loss_db, finish_db
from rushlight.stages.bundles import BUNDLE_WIDTH, hand_made_width, tied
from rushlight.stages.fibre_light import REFERENCE_A, in_colour
from rushlight.stages.measured_found import (
    POLISHED,
    Found,
    MeasuredFault,
    Way,
    given,
    off_share_of,
    passed,
    share_left,
)
from rushlight.stages.parts_law import fibre_of, led_launch
from rushlight.units import Range

LEAST_BEND_DB = 0.3
"""A bend that loses less drowns in the meter's error (project rule)."""

LEAST_LENGTH_DB = 0.3
"""A length of which the worst fibre loses less drowns there too (project rule)."""

SMALL_JOINT = 0.01
"""A joint so poor that the luminance of the lamp never holds the coupling down: a tail's light goes with it."""


PIECE_MM = (10.0, 2000.0)
"""Length of a joint's test piece: in a shorter one the LED's own light passes beside it, a longer one is another trial
(project rule)."""


def _end(drawer: Drawer, one: Measured, finish: Any) -> tuple[Found, ...]:
    """Loss of an end over a polished one, and what that one loses."""
    polished = finish_db(POLISHED)
    lost = lost_db(passed(share_left(one)))
    return (Found("bench", finish, "fibre end", Range(lost.low + polished.low, lost.typical + polished.typical,
                                                      lost.high + polished.high)),)


def _length(drawer: Drawer, one: Measured, fibre: Any) -> tuple[Found, ...]:
    """What a metre lost; perhaps less, where a narrow beam may have widened to the whole cone on the reel."""
    led, length_mm = _led_of(drawer, one), given(one.length_mm)
    most_db = attenuation_db_per_m(led.dominant_nm).high * length_mm / 1000.0
    if most_db < LEAST_LENGTH_DB:
        raise MeasuredFault("length_mm", f"is {length_mm:g}: so much fibre loses {most_db:.2g} dB at most, too little "
                            "to read", "a reel of some metres")
    lost = cut_back_db_per_m(ratio(one.against, one.readings, off=off_share_of(one)), length_mm=length_mm)
    law = fibre_of(fibre)
    thinned = _wider_db(_sine(led, law), law.na) * 1000.0 / length_mm
    lost = Range(max(0.0, lost.low - thinned), lost.typical, lost.high)
    return (Found("bench", in_colour(fibre, led), "fibre length", lost),)


def _sine(led: LedPart, fibre: Fibre) -> float:
    """Sine of the edge of the cone that an LED sends into a fibre on its axis."""
    return launch_sine(led_launch(led, REFERENCE_A), fibre, offset_mm=0.0)


def _wider_db(before: float, after: float) -> float:
    """By how much the light straight ahead falls where the sine of a cone's edge grows so, and none is lost [dB]."""
    return 20.0 * math.log10(max(after / before, 1.0))


def _thinned_db(sine: float, fibre: Fibre, bend: Bend) -> Range:
    """What a bend takes off the light straight ahead by the wider cone alone, least, usual and at most [dB]."""
    least, usual = (bent_sine(sine, fibre, (bend,), share=share) for share in (LEAST_SPREAD, 1.0))
    return Range(*(_wider_db(sine, edge) for edge in (least, usual, max(fibre.na, usual))))


def _bend(drawer: Drawer, one: Measured, part: Any) -> tuple[Found, ...]:
    """What the bend lost, as a multiple of the typical law for it.

    The phone in the tube sees what goes straight ahead: a narrow cone that the bend widens is no loss.
    """
    fibre = fibre_of(part)
    sine = _sine(_led_of(drawer, one), fibre)
    law = bend_loss_db(given(one.radius_mm) / fibre.outer_mm, na=fibre.na, launch_na=sine,
                       angle_deg=given(one.turn_deg)).typical
    if law < LEAST_BEND_DB:
        raise MeasuredFault("radius_mm", f"is {one.radius_mm:g}: such a bend loses {law:.2g} dB, too little to read",
                            f"a bend of about {6 * fibre.outer_mm:.2g} mm, a quarter turn or more")
    read = lost_db(passed(share_left(one)))
    thinned = _thinned_db(sine, fibre, Bend(given(one.radius_mm), given(one.turn_deg)))
    lost = Range(*(max(0.0, end) for end in (read.low - thinned.high, read.typical - thinned.typical,
                                             read.high - thinned.low)))
    return (Found("bench", part.name, "fibre bend", lost.times(1.0 / law)),)


def _led_of(drawer: Drawer, one: Measured) -> LedPart:
    known = {row.name: row for row in drawer.leds}
    if one.led not in known:
        raise MeasuredFault("led", f"'{one.led}' is not known", "a row of the drawer's leds",
                            nearest_word(one.led or "", known))
    return known[one.led]


def _joint(drawer: Drawer, one: Measured, led: Any) -> tuple[Found, ...]:
    """Light past the joint over that of the bare LED, against what the laws foretell of a whole joint.

    Of one tail intensity over intensity, in a black tube; of a bundle all its light over the LED's, in a white box.
    """
    length_mm, count = given(one.length_mm), one.count or 1
    if not PIECE_MM[0] <= length_mm <= PIECE_MM[1]:
        raise MeasuredFault("length_mm", f"is {length_mm:g}", f"{PIECE_MM[0]:g} to {PIECE_MM[1]:g} mm: a test piece")
    part = drawer.fibre(given(one.fibre_mm))
    launch: Launch = replace(led_launch(led, led.test_ma / 1000.0), coupling=Range.exactly(SMALL_JOINT))
    launch = replace(launch, flux_lm=Range.exactly(launch.flux_lm.typical))
    tails = [tail_flux(launch, fibre_of(part), TailLaw(offset_mm=offset, length_mm=length_mm,
                                                       wavelength_nm=led.dominant_nm))
             for offset in _offsets_mm(drawer, part, count)]
    if count == 1:
        whole = tails[0].axial_intensity_cd.typical / (led.intensity_mcd.typical / 1000.0) / SMALL_JOINT
    else:
        whole = sum(tail.flux_lm.typical for tail in tails) / launch.flux_lm.typical / SMALL_JOINT
    kept = share_left(one).times(1.0 / whole)
    most = 1.0 / launch.by_face  # how much of its light leaves by its face is a guess too
    if kept.low > most:
        raise MeasuredFault("readings", f"keep {kept.typical:.3g} times what a perfect joint would",
                            f"at most {whole * most:.3g} of the bare LED: no fibre gives more than its LED lets in")
    return (Found("habits", "fibre_joint", "value", Range(*(max(0.01, min(end, most)) for end in
                                                            (kept.low, kept.typical, kept.high)))),)


def _offsets_mm(drawer: Drawer, part: FibrePart, count: int) -> tuple[Range, ...]:
    """Where the fibres of a bundle lie before the LED, as a hand ties them: in the middle of each range."""
    if count == 1:
        return (Range.exactly(0.0),)
    packing = enclosing_circle((part.diameter_mm,) * count)
    return tuple(Range.exactly(one.typical) for one in loose_offsets_mm(packing, hand_made_width(drawer, packing)))


def _width(drawer: Drawer, one: Measured, fibre: Any) -> tuple[Found, ...]:
    """How wide a hand ties, over the ideal bundle."""
    count = int(given(one.count))
    if count < 2:
        raise MeasuredFault("count", f"is {count}", "2 fibres or more: one is its own bundle")
    ideal = enclosing_circle((fibre.diameter_mm,) * count)
    times = shown(one.readings, off=off_share_of(one)).times(1.0 / ideal.diameter_mm)
    if times.high < ideal.lower_bound_mm / ideal.diameter_mm * (1.0 - fibre.tolerance_mm / fibre.diameter_mm):
        raise MeasuredFault("readings", f"are {times.typical * ideal.diameter_mm:.3g} mm",
                            f"{ideal.diameter_mm:.3g} mm or more: {count} of these fibres are never narrower")
    return (Found("bench", tied(fibre, count), BUNDLE_WIDTH, times),)


FIBRE_WAYS: dict[str, Way] = {
    "fibre end": _end, "fibre length": _length, "fibre bend": _bend, "fibre joint": _joint, BUNDLE_WIDTH: _width,
}
"""Methods on a piece of fibre."""
