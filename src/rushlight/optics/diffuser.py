"""LEDs in a row behind a diffuser: how uneven the diffuser looks, and what gap or second sheet cures it.

Contrast is Michelson's, (Lmax - Lmin) / (Lmax + Lmin). `gap` runs from the LEDs to the sheet, `pitch` from LED
to LED.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.optics.emitter import MM2_PER_M2, illuminance_parallel_lx
from rushlight.tables import rows
from rushlight.units import checked

Array = NDArray[np.float64]

CLOSED_LEAST_RATIO = 0.5
"""Gap over pitch from which the harmonics describe an endless row; below it LEDs are summed."""

CLOSED_MOST_ORDER = 10.0
"""Exponent up to which they do."""

HARMONICS = 12

AT_ONCE = 20_000
"""Numbers worked on at once when the light of a row is summed: few enough to stay near the processor."""


def row_harmonic(gap_over_pitch: float, order: float, *, harmonic: int = 1) -> float:
    """Strength of one harmonic of an endless row's light on the sheet, relative to the mean.

    Parameters
    ----------
    gap_over_pitch : float
        Gap over pitch [-], more than 0.
    order : float
        Exponent m of the LEDs [-], more than 0.
    harmonic : int
        1 repeats with the pitch, 2 twice as often.
    Returns
    -------
    float
        Amplitude over mean [-]; the first one is the Michelson contrast but for 0.2 % (m = 1, ratio >= 0.75).
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    a_k = 4 (s/2)^nu K_nu(s) / Gamma(nu), s = 2 pi k z/p, nu = (m+2)/2; m = 1: 2 (1 + s) e^-s for k = 1.
    Source
    ------
    Poisson summation of the row (derived); direct sums in tests/outside/test_row_of_leds.py.
    """
    from scipy.special import gammaln, kve

    checked("gap over pitch", gap_over_pitch, 0.0, above=True)
    checked("order", order, 0.0, above=True)
    nu = (order + 2.0) / 2.0
    s = 2.0 * math.pi * checked("harmonic", harmonic, 1) * gap_over_pitch
    bessel = float(kve(nu, s))
    return math.exp(math.log(4.0) + nu * math.log(s / 2.0) + math.log(bessel) - s - float(gammaln(nu)))


def row_contrast(gap_over_pitch: float, order: float) -> float:
    """Michelson contrast on the sheet along an endless row.

    Parameters
    ----------
    gap_over_pitch : float
        Gap over pitch [-], 0.05 to 20.
    order : float
        Exponent m of the LEDs [-], above 0, at most 300.
    Returns
    -------
    float
        Contrast [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    From the harmonics where the ratio is 0.5 or more and the order 10 or less, else from the direct sum.
    Source
    ------
    `row_harmonic`; direct sum.
    """
    checked("gap over pitch", gap_over_pitch, 0.05, 20.0)
    checked("order", order, 0.0, 300.0, above=True)
    if gap_over_pitch >= CLOSED_LEAST_RATIO and order <= CLOSED_MOST_ORDER:
        terms = [row_harmonic(gap_over_pitch, order, harmonic=k) for k in range(1, HARMONICS + 1)]
        peak = 1.0 + sum(terms)
        trough = 1.0 + sum(term * (-1.0) ** k for k, term in enumerate(terms, start=1))
        return (peak - trough) / (peak + trough)
    return _summed_contrast(gap_over_pitch, order)


def _summed_contrast(gap_over_pitch: float, order: float) -> float:
    """Contrast by adding the LEDs of a long row, seen at an LED and midway."""
    reach = 60 + math.ceil(60.0 * gap_over_pitch)
    places = np.arange(-reach, reach + 1, dtype=float)
    at, between = (float(illuminance_parallel_lx(1.0, order, gap_mm=gap_over_pitch, offset_mm=places - shift).sum())
                   for shift in (0.0, 0.5))
    tail = _row_beyond(gap_over_pitch, order, reach + 0.5)
    return abs(at - between) / (at + between + 2.0 * tail)


def _row_beyond(gap: float, order: float, reach: float) -> float:
    """Light of both ends of an endless row beyond a reach, as an integral far away."""
    return float(2e6 * gap ** (order + 1.0) * reach ** -(order + 2.0) / (order + 2.0))


def row_light_lx(
    led_x_mm: ArrayLike, peak_cd: ArrayLike, *, order: float, gap_mm: float, x_mm: ArrayLike, y_mm: ArrayLike = 0.0
) -> Array:
    """Illuminance of the sheet from the real LEDs of a row.

    Parameters
    ----------
    led_x_mm : array (n,)
        Places of the LEDs along the row, at y = 0 [mm].
    peak_cd : array (n,) or float
        Axial intensity of each [cd].
    order : float
        Exponent m [-], 0 or more.
    gap_mm : float
        LEDs to sheet [mm], more than 0.
    x_mm, y_mm : array
        Places on the sheet [mm], of shapes that broadcast.
    Returns
    -------
    array
        Illuminance [lx], shape of the places.
    Raises
    ------
    OutOfRange
        If the gap is not above 0.
    Source
    ------
    Photometric distance law, one term for each LED.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    x, aside = np.asarray(x_mm, dtype=float), gap_mm**2 + np.asarray(y_mm, dtype=float) ** 2
    places = np.asarray(led_x_mm, dtype=float).ravel()
    power = np.broadcast_to(np.asarray(peak_cd, dtype=float), places.shape)
    lit = np.zeros(np.broadcast_shapes(x.shape, aside.shape))
    step = max(1, AT_ONCE // max(lit.size, 1))
    for start in range(0, len(places), step):  # bounds the memory
        some = slice(start, start + step)
        along = np.square(x - places[some].reshape(-1, *(1,) * lit.ndim))
        lit += np.tensordot(power[some], (along + aside) ** (-(order + 3.0) / 2.0), axes=1)
    lit *= MM2_PER_M2 * gap_mm ** (order + 1.0)  # as `illuminance_parallel_lx`, of squares: no root is taken
    return lit


def michelson(light: ArrayLike) -> float:
    """Contrast [-] of a set of luminances or illuminances: (max - min) / (max + min).

    Parameters
    ----------
    light : array
        Values of one unit, 0 or more, not all 0.
    Returns
    -------
    float
        Contrast [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If a value is negative or none is above 0.
    Source
    ------
    Michelson, Studies in Optics (1927).
    """
    values = np.asarray(light, dtype=float)
    least, most = float(values.min()), float(values.max())
    checked("least light", least, 0.0)
    return (most - least) / (checked("most light", most, 0.0, above=True) + least)


def gap_for_contrast(contrast: float, *, pitch_mm: float, order: float) -> float:
    """Gap that an endless row needs for a contrast.

    Parameters
    ----------
    contrast : float
        Michelson contrast wanted [-], 0.0001 to 0.9.
    pitch_mm : float
        LED to LED [mm], more than 0.
    order : float
        Exponent m of the LEDs [-], above 0, at most 300.
    Returns
    -------
    float
        Gap [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    `row_contrast` by halving; strip_required_gap.csv is its one-term form.
    """
    checked("contrast", contrast, 0.0001, 0.9)
    checked("pitch (mm)", pitch_mm, 0.0, above=True)
    low, high = 0.05, 20.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if row_contrast(middle, order) > contrast else (low, middle)
    return high * pitch_mm


def cycles_per_deg(pitch_mm: float, distance_mm: float) -> float:
    """Frequency at which an eye meets a pattern [cycles per degree].

    Parameters
    ----------
    pitch_mm : float
        Period of the pattern [mm], more than 0.
    distance_mm : float
        Viewing distance [mm], more than 0.
    Returns
    -------
    float
        Frequency [1/deg]: 1 / atan(p / D).
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Geometry.
    """
    checked("pitch (mm)", pitch_mm, 0.0, above=True)
    return 1.0 / math.degrees(math.atan2(pitch_mm, checked("distance (mm)", distance_mm, 0.0, above=True)))


def contrast_threshold(pitch_mm: float, *, distance_mm: float, luminance_cd_m2: float) -> float:
    """Contrast at which a trained eye just sees a pattern.

    Parameters
    ----------
    pitch_mm : float
        Period of the pattern [mm], more than 0.
    distance_mm : float
        Viewing distance [mm], more than 0; the pattern must come at 16 cycles per degree or less.
    luminance_cd_m2 : float
        Luminance of the panel [cd/m2], 0.5 to 2000.
    Returns
    -------
    float
        Threshold [-]; ordinary looking needs three to ten times as much.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Table interpolated in logarithms; its ends (0.3 cycles per degree, 1 and 100 cd/m2) stand for what lies
    beyond.
    Source
    ------
    contrast_threshold.csv: Barten, Proc. SPIE 5294 (2003) 231 (formula from memory); Campbell & Robson 1968.
    """
    checked("luminance (cd/m2)", luminance_cd_m2, 0.5, 2000.0)
    frequency = checked("cycles per degree", cycles_per_deg(pitch_mm, distance_mm), 0.0, 16.0)
    return float(contrast_thresholds([frequency], luminance_cd_m2)[0])


LAST_SEEN_PER_DEG = 60.0
"""Cycles per degree at which even full contrast is not seen (Campbell & Robson 1968)."""


def contrast_thresholds(cycles_per_degree: ArrayLike, luminance_cd_m2: float) -> Array:
    """Contrasts at which a trained eye just sees patterns of many frequencies.

    Parameters
    ----------
    cycles_per_degree : array
        Frequencies [1/deg], more than 0.
    luminance_cd_m2 : float
        Luminance of the panel [cd/m2], 0 or more.
    Returns
    -------
    array
        Thresholds [-]; more than 1 where nothing is seen.
    Raises
    ------
    OutOfRange
        If an argument is out of range.
    Notes
    -----
    Interpolated in logarithms. Beyond 16 per degree the threshold rises evenly in its logarithm to 1 at 60; below 0.3,
    and outside 1 and 100 cd/m2, the table's ends stand.
    Source
    ------
    contrast_threshold.csv: Barten, Proc. SPIE 5294 (2003) 231 (formula from memory); Campbell & Robson 1968.
    """
    frequency = np.asarray(cycles_per_degree, dtype=float)
    checked("cycles per degree", float(frequency.min(initial=math.inf)), 0.0, above=True)
    level = math.log(max(checked("luminance (cd/m2)", luminance_cd_m2, 0.0), 1e-9))
    frequencies, levels, thresholds = _threshold_table()
    reach = [float(np.interp(level, levels, column)) for column in thresholds.T]
    known = np.interp(np.log(frequency), np.log(frequencies), reach)
    rise = -reach[-1] / (LAST_SEEN_PER_DEG - frequencies[-1])
    return np.asarray(np.exp(known + np.maximum(frequency - frequencies[-1], 0.0) * rise))


@lru_cache(maxsize=1)
def _threshold_table() -> tuple[Array, Array, Array]:
    """Frequencies, logarithms of levels, logarithms of thresholds (levels, frequencies)."""
    table = rows("contrast_threshold")
    frequencies = sorted({float(row["cycles_per_degree"]) for row in table})
    levels = sorted({float(row["luminance_cd_m2"]) for row in table})
    known = {(float(row["luminance_cd_m2"]), float(row["cycles_per_degree"])): float(row["threshold_contrast"])
             for row in table}
    grid = np.log([[known[level, frequency] for frequency in frequencies] for level in levels])
    return np.array(frequencies), np.log(levels), grid
