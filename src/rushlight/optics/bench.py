"""What a meter showed at the bench, turned into what the laws take: each result with the error that it has.

A `Range` of readings runs from the least to the greatest that the meter showed, widened by what the meter may be off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.errors import OutOfRange
from rushlight.optics.emitter import flux_lm, half_angle_deg, pattern_order
from rushlight.units import Range, checked


def shown(readings: Sequence[float], *, off: float) -> Range:
    """Readings of one thing as a value with its range.

    Parameters
    ----------
    readings : sequence of float
        What the meter showed, one or more, each above 0: several pieces, or the same piece several times.
    off : float
        How far the meter may be off, as a share [-], 0 to below 1.
    Returns
    -------
    Range
        Mean, and the least and greatest reading widened by the meter's error; in the readings' unit.
    Raises
    ------
    OutOfRange
        If a reading is not above 0, there is none, or the error is out of range.
    Source
    ------
    The widest answer: no statistics are read out of three readings (project rule).
    """
    if not readings:
        raise OutOfRange("readings", "none", "one reading or more")
    for reading in readings:
        checked("a reading", reading, 0.0, above=True)
    checked("the meter's error, as a share", off, 0.0, 0.99)
    mean = math.fsum(readings) / len(readings)
    low, high = min(readings), max(readings)
    return Range(min(low, mean) * (1.0 - off), mean, max(high, mean) * (1.0 + off))


def ratio(with_it: Sequence[float], without: Sequence[float], *, off: float) -> Range:
    """How much is left: readings with a thing in the way over readings without it.

    Parameters
    ----------
    with_it, without : sequence of float
        What the same meter showed at the same place, in any unit, above 0.
    off : float
        How far such a ratio may be off, as a share [-].
    Returns
    -------
    Range
        Share [-]; the meter's own scale falls out.
    Raises
    ------
    OutOfRange
        As in `shown`.
    Source
    ------
    Definition of a ratio; the ends divide to the widest answer.
    """
    top, bottom = shown(with_it, off=off), shown(without, off=0.0)
    return Range(top.low / bottom.high, top.typical / bottom.typical, top.high / bottom.low)


def intensity_from_lux(lux: Range, distance_mm: float) -> Range:
    """Intensity towards a meter [cd] from the lux that it shows: I = E d^2.

    Parameters
    ----------
    lux : Range
        Illuminance [lx].
    distance_mm : float
        From the lamp to the meter's window [mm], at least five times the lamp's width.
    Returns
    -------
    Range
        Intensity [cd].
    Raises
    ------
    OutOfRange
        If the distance is not above 0.
    Source
    ------
    Inverse-square law; the five-times rule keeps it within 1 % (tests/outside/test_five_times_rule.py).
    """
    return lux.times((checked("distance (mm)", distance_mm, 0.0, above=True) / 1000.0) ** 2)


def half_angle_from_aside_deg(aside_mm: Range, distance_mm: float) -> Range:
    """Half angle of a lamp from how far aside of its axis a flat meter shows half as much.

    Parameters
    ----------
    aside_mm : Range
        Where on a straight line square to the axis the reading halves [mm from the axis].
    distance_mm : float
        From the lamp to that line [mm].
    Returns
    -------
    Range
        Angle at which the intensity is half [deg].
    Raises
    ------
    OutOfRange
        If a distance is not above 0, or the spot is wider than any lamp's: beyond tan t = 0.766 d, where a lamp that is
        equally bright to all sides would show half.
    Notes
    -----
    E(t) / E(0) = cos^m t cos^3 t on the line, so cos^(m+3) t = 1/2 there, and cos^m t_half = 1/2.
    Source
    ------
    Inverse square and cosine law for a cos^m lamp.
    """
    checked("distance (mm)", distance_mm, 0.0, above=True)
    return Range(*(_half_deg(aside, distance_mm) for aside in (aside_mm.low, aside_mm.typical, aside_mm.high)))


WIDEST_ASIDE = math.tan(math.acos(0.5 ** (1.0 / 3.25)))
"""Aside over distance at which a lamp of m = 0.25 (half angle 86 deg) shows half."""


def _half_deg(aside_mm: float, distance_mm: float) -> float:
    slope = checked("aside over distance", aside_mm / distance_mm, 0.0, WIDEST_ASIDE, above=True)
    cosine = 1.0 / math.hypot(1.0, slope)
    return half_angle_deg(math.log(0.5) / math.log(cosine) - 3.0)


def strip_lm_per_m(lux: Range, *, distance_mm: float, length_mm: float, half_deg: float) -> Range:
    """Light of a metre of strip from the lux before a short piece of it.

    Parameters
    ----------
    lux : Range
        Illuminance on the piece's axis [lx].
    distance_mm : float
        To the meter [mm], at least five times the piece's length.
    length_mm : float
        Length of the lit piece [mm].
    half_deg : float
        Half angle of the strip's LEDs [deg].
    Returns
    -------
    Range
        Flux [lm/m].
    Raises
    ------
    OutOfRange
        If the meter is nearer than five lengths: the piece is no point then.
    Source
    ------
    Inverse square, then the integral of the cos^m law (`emitter.flux_lm`).
    """
    checked("length (mm)", length_mm, 0.0, above=True)
    checked("distance (mm)", distance_mm, 5.0 * length_mm)
    order = pattern_order(half_deg)
    return intensity_from_lux(lux, distance_mm).times(flux_lm(1.0, order) * 1000.0 / length_mm)


def density_per_coat(passes: Range, *, coats: float) -> Range:
    """Optical density of one coat [-] from the share that several let through, of paint that swallows light.

    Parameters
    ----------
    passes : Range
        Readings with the coats over readings before them [-].
    coats : float
        How many coats, 1 or more.
    Returns
    -------
    Range
        log10(1 / share) / coats, 0 at the least.
    Raises
    ------
    OutOfRange
        If the coats let more through than before.
    Source
    ------
    Definition of optical density; coats that swallow light multiply. Of white ones see `painted_wall.density_of_one`.
    """
    checked("coats", coats, 1.0)
    checked("with coats over without", passes.typical, 0.0, 0.9999, above=True)
    return Range(*(max(0.0, -math.log10(share)) / coats for share in (passes.high, passes.typical, passes.low)))


def sheet_reflectance(one: Range, two: Range) -> Range:
    """Reflectance of a sheet from what one and what two of it let through.

    Parameters
    ----------
    one, two : Range
        Readings through one sheet, and through two, over the bare reading [-].
    Returns
    -------
    Range
        Reflectance [-], 0 to 1 less the transmittance.
    Raises
    ------
    OutOfRange
        If two sheets let less through than one after the other could, or more than a sheet that swallows nothing.
    Notes
    -----
    R = sqrt(1 - T1^2 / T12). No sheet lets T12 > T1 / (2 - T1) through: then R would be over 1 - T1.
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 44 (1954) 330, rearranged.
    """
    most = Range(*(share / (2.0 - share) for share in (one.low, one.typical, min(one.high, 1.0))))
    if two.high < one.low**2 or two.low > most.high:
        raise OutOfRange("through two sheets over bare", round(two.typical, 4),
                         f"{one.typical**2:.3g} to {most.typical:.3g} where one lets {one.typical:.3g} through")
    high = _back(one.low, two.high)
    typical = min(max(_back(one.typical, two.typical), 0.0), 1.0 - one.typical)
    return Range(min(_back(one.high, two.low), typical), typical, max(min(high, 1.0 - one.low), typical))


def _back(one: float, two: float) -> float:
    return math.sqrt(max(0.0, 1.0 - one * one / two))


def at_1_mm(passes: Range, *, thickness_mm: float, scatters: bool) -> Range:
    """What 1 mm of a wall lets through, from a piece of another thickness.

    Parameters
    ----------
    passes : Range
        Through the piece over bare [-], below 1.
    thickness_mm : float
        Of the piece [mm].
    scatters : bool
        White plastics scatter (Kubelka), black and clear ones absorb (Beer).
    Returns
    -------
    Range
        Transmittance of 1 mm [-].
    Raises
    ------
    OutOfRange
        If the piece lets as much through as nothing, or has no thickness.
    Notes
    -----
    Scattering without absorption: T = 1 / (1 + S X). Absorbing: T = T1^X.
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 38 (1948) 448; Beer's law.
    """
    checked("thickness (mm)", thickness_mm, 0.0, above=True)
    checked("through the piece over bare", passes.typical, 0.0, 0.9999, above=True)
    shares = (passes.low, passes.typical, min(passes.high, 1.0))
    if scatters:
        return Range(*(1.0 / (1.0 + (1.0 / share - 1.0) / thickness_mm) for share in shares))
    return Range(*(share ** (1.0 / thickness_mm) for share in shares))


PAPER = Range(0.8, 0.87, 0.92)
"""Reflectance of clean white office paper, two sheets thick (from memory, typical)."""


def paint_reflectance(over_paint: Range) -> Range:
    """Reflectance of paint from readings over it and over white paper.

    Parameters
    ----------
    over_paint : Range
        Readings of a meter that looks at a painted card over those at white paper in the same place and light [-].
    Returns
    -------
    Range
        Reflectance [-], at most 0.98.
    Raises
    ------
    OutOfRange
        If the paint throws back more than any paint could beside the paper.
    Notes
    -----
    Both cards fill the same part of what the meter sees, so its view and shadow fall out: rho = rho_paper E1 / E0.
    Source
    ------
    Comparison with a white standard, as reflectance factors are defined; the paper's own value is from memory.
    """
    checked("over the paint over paper", over_paint.typical, 0.0, 1.2, above=True)
    found = over_paint.times(PAPER)
    return Range(*(min(end, 0.98) for end in (found.low, found.typical, found.high)))


def cut_back_db_per_m(short_over_long: Range, *, length_mm: float, recut_db: float = 0.2) -> Range:
    """Loss of a metre of fibre by cutting it back.

    Parameters
    ----------
    short_over_long : Range
        Reading at the end of the short rest over that at the end of the whole length, above 0 [-].
    length_mm : float
        Length that was cut off [mm].
    recut_db : float
        How much two ends cut by hand differ [dB].
    Returns
    -------
    Range
        Loss [dB/m], 0 at the least.
    Raises
    ------
    OutOfRange
        If the long fibre gave more than the short one, beyond the error.
    Notes
    -----
    10 log10(short / long) / length; the launch end is left untouched, so it falls out.
    Source
    ------
    Cut-back method, IEC 60793-1-40 method A; the spread of recut ends is from memory, typical.
    """
    length_m = checked("length cut off (mm)", length_mm, 0.0, above=True) / 1000.0
    low, typical, high = (10.0 * math.log10(share) for share in
                          (short_over_long.low, short_over_long.typical, short_over_long.high))
    if high + recut_db < 0.0:
        raise OutOfRange("short over long", round(short_over_long.typical, 4), "1 or more: the longer gives less")
    ends = (low - recut_db, typical, high + recut_db)
    return Range(*(max(0.0, end) / length_m for end in ends))


def lost_db(left: Range) -> Range:
    """Loss of what leaves a share [dB], 0 at the least.

    Parameters
    ----------
    left : Range
        Share left [-], above 0.
    Returns
    -------
    Range
        Loss [dB].
    Raises
    ------
    OutOfRange
        If nothing is left.
    Source
    ------
    Definition of the decibel.
    """
    checked("share left", left.low, 0.0, above=True)
    return Range(*(max(0.0, -10.0 * math.log10(share)) for share in (left.high, left.typical, left.low)))
