"""Colours of lamps: names of the trade, wavelengths and colour temperatures to CIE 1931 x, y; signal colours."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import number, rows
from rushlight.units import checked

Array = NDArray[np.float64]
XY = tuple[float, float]

PEAK_LM_PER_W = 683.002
"""Luminous efficacy at 555 nm (SI 2019 Kcd, in standard air)."""

EQUAL_ENERGY: XY = (1.0 / 3.0, 1.0 / 3.0)
D65: XY = (0.3127, 0.3290)

PLANCK_TO_K = 5000.0
"""Whites up to this colour temperature lie on the Planckian locus, bluer ones on the daylight locus
(the division of ANSI C78.377 and CIE 015)."""


@dataclass(frozen=True, slots=True)
class LampColour:
    """A lamp's colour: x, y, and the wavelength (nm) or colour temperature (K) it goes by.

    `efficacy_lm_per_w` is lumens per radiated watt, None for a white (its spectrum is not known);
    `chemistry` says how its flux falls with warmth (see emitter.junction_factor).
    """

    name: str
    xy: XY
    dominant_nm: float | None
    cct_k: float | None
    efficacy_lm_per_w: float | None
    chemistry: str


@cache
def _observer() -> tuple[Array, Array]:
    table = rows("colour_observer")
    wavelengths = np.array([float(row["wavelength_nm"]) for row in table])
    bars = np.array([[float(row[f"{axis}_bar"]) for axis in "xyz"] for row in table])
    wavelengths.setflags(write=False)
    bars.setflags(write=False)
    return wavelengths, bars


def observer(wavelength_nm: float) -> tuple[float, float, float]:
    """Colour matching functions of the CIE 1931 observer.

    Parameters
    ----------
    wavelength_nm : float
        Wavelength [nm], 385 to 775.
    Returns
    -------
    tuple of float
        x-bar, y-bar (which is V), z-bar [-].
    Raises
    ------
    OutOfRange
        If the wavelength lies outside its range.
    Notes
    -----
    Cubic through the four nearest 5 nm values.
    Source
    ------
    CIE 015, colour_observer.csv.
    """
    checked("wavelength (nm)", wavelength_nm, 385.0, 775.0)
    wavelengths, bars = _observer()
    first = int(np.clip((wavelength_nm - wavelengths[0]) // 5.0 - 1, 0, len(wavelengths) - 4))
    place = (wavelength_nm - wavelengths[first]) / 5.0
    weights = [math.prod((place - other) / (node - other) for other in range(4) if other != node)
               for node in range(4)]
    x, y, z = np.maximum(np.array(weights) @ bars[first:first + 4], 0.0)
    return float(x), float(y), float(z)


def efficacy_lm_per_w(wavelength_nm: float) -> float:
    """Lumens per radiated watt of one wavelength [lm/W].

    Parameters
    ----------
    wavelength_nm : float
        Wavelength [nm], 385 to 775.
    Returns
    -------
    float
        683 V [lm/W].
    Raises
    ------
    OutOfRange
        If the wavelength lies outside its range.
    Source
    ------
    SI definition of the candela; V of CIE 015.
    """
    return PEAK_LM_PER_W * observer(wavelength_nm)[1]


def wavelength_xy(wavelength_nm: float, purity: float = 1.0) -> XY:
    """Chromaticity of a dominant wavelength at a purity.

    Parameters
    ----------
    wavelength_nm : float
        Dominant wavelength [nm], 400 to 700.
    purity : float
        Excitation purity against equal-energy white [-], 0 to 1.
    Returns
    -------
    tuple of float
        x, y [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    xy = w + purity (locus - w).
    Source
    ------
    CIE 015; colour_locus.csv holds the same locus from a second implementation.
    """
    checked("wavelength (nm)", wavelength_nm, 400.0, 700.0)
    checked("purity", purity, 0.0, 1.0)
    x, y = _chromaticity(np.array(observer(wavelength_nm)))
    return tuple(white + purity * (spectral - white)
                 for white, spectral in zip(EQUAL_ENERGY, (x, y), strict=True))  # type: ignore[return-value]


def _chromaticity(xyz: Array) -> XY:
    total = float(xyz.sum())
    return float(xyz[0]) / total, float(xyz[1]) / total


def planck_xy(cct_k: float) -> XY:
    """Chromaticity of a black body.

    Parameters
    ----------
    cct_k : float
        Temperature [K], 1667 to 25000.
    Returns
    -------
    tuple of float
        x, y [-]; within 0.0006 of the integral from 2000 to 10000 K.
    Raises
    ------
    OutOfRange
        If the temperature lies outside its range.
    Source
    ------
    Kang, Moon, Hong, Lee, Cho & Kim, J. Korean Phys. Soc. 41 (2002) 865 (coefficients from memory, checked
    against colour_planck.csv and the Planck integral in the tests).
    """
    kelvin = checked("colour temperature (K)", cct_k, 1667.0, 25000.0)
    if kelvin <= 4000.0:
        x = -0.2661239e9 / kelvin**3 - 0.2343589e6 / kelvin**2 + 0.8776956e3 / kelvin + 0.179910
    else:
        x = -3.0258469e9 / kelvin**3 + 2.1070379e6 / kelvin**2 + 0.2226347e3 / kelvin + 0.240390
    if kelvin <= 2222.0:
        y = -1.1063814 * x**3 - 1.34811020 * x**2 + 2.18555832 * x - 0.20219683
    elif kelvin <= 4000.0:
        y = -0.9549476 * x**3 - 1.37418593 * x**2 + 2.09137015 * x - 0.16748867
    else:
        y = 3.0817580 * x**3 - 5.87338670 * x**2 + 3.75112997 * x - 0.37001483
    return x, y


def daylight_xy(cct_k: float) -> XY:
    """Chromaticity of a phase of daylight (D series).

    Parameters
    ----------
    cct_k : float
        Correlated colour temperature [K], 4000 to 25000; D65 is 6504 K.
    Returns
    -------
    tuple of float
        x, y [-].
    Raises
    ------
    OutOfRange
        If the temperature lies outside its range.
    Source
    ------
    CIE 015, daylight illuminants.
    """
    kelvin = checked("colour temperature (K)", cct_k, 4000.0, 25000.0)
    if kelvin <= 7000.0:
        x = -4.6070e9 / kelvin**3 + 2.9678e6 / kelvin**2 + 0.09911e3 / kelvin + 0.244063
    else:
        x = -2.0064e9 / kelvin**3 + 1.9018e6 / kelvin**2 + 0.24748e3 / kelvin + 0.237040
    return x, -3.000 * x * x + 2.870 * x - 0.275


def white_xy(cct_k: float, duv: float = 0.0) -> XY:
    """Chromaticity of a white lamp by its colour temperature.

    Parameters
    ----------
    cct_k : float
        Correlated colour temperature [K], 1667 to 25000.
    duv : float
        Distance above (greener, positive) or below the locus in CIE 1960 u, v [-], -0.03 to 0.03.
    Returns
    -------
    tuple of float
        x, y [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Planckian up to 5000 K, daylight above; a step of about 0.007 in y lies at 5000 K.
    Source
    ------
    `planck_xy`, `daylight_xy`; division as in ANSI C78.377.
    """
    checked("Duv", duv, -0.03, 0.03)
    law = planck_xy if cct_k <= PLANCK_TO_K else daylight_xy
    here = law(cct_k)
    if duv == 0.0:
        return here
    u, v = _uv(here)
    # The step is wide so that the seams of the fit (2222 and 4000 K) do not tilt the tangent.
    cooler, hotter = _uv(law(max(cct_k * 0.97, 1667.0))), _uv(law(min(cct_k * 1.03, 25000.0)))
    along = np.array([hotter[0] - cooler[0], hotter[1] - cooler[1]])
    across = np.array([along[1], -along[0]]) / np.hypot(*along)
    across *= math.copysign(1.0, across[1])
    return _xy_from_uv(u + duv * float(across[0]), v + duv * float(across[1]))


def _uv(xy: XY) -> XY:
    """CIE 1960 u, v."""
    below = -2.0 * xy[0] + 12.0 * xy[1] + 3.0
    return 4.0 * xy[0] / below, 6.0 * xy[1] / below


def _xy_from_uv(u: float, v: float) -> XY:
    below = 2.0 * u - 8.0 * v + 4.0
    return 3.0 * u / below, 2.0 * v / below


def led_colour(peak_nm: float, fwhm_nm: float) -> LampColour:
    """Colour of a single-colour LED from its spectrum.

    Parameters
    ----------
    peak_nm : float
        Peak wavelength [nm], 440 to 680.
    fwhm_nm : float
        Width at half height [nm], 5 to 60.
    Returns
    -------
    LampColour
        x, y, dominant wavelength against equal-energy white [nm], lumens per radiated watt.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Gaussian spectrum times the CIE 1931 observer. Peak and dominant wavelength differ by a few nm.
    Source
    ------
    CIE 015; colour_led_typical.csv is a second implementation's answer.
    """
    checked("peak (nm)", peak_nm, 440.0, 680.0)
    checked("width at half height (nm)", fwhm_nm, 5.0, 60.0)
    wavelengths = np.arange(385.0, 776.0, 1.0)
    power = np.exp(-4.0 * math.log(2.0) * ((wavelengths - peak_nm) / fwhm_nm) ** 2)
    xyz = power @ np.array([observer(float(nm)) for nm in wavelengths])
    xy = _chromaticity(xyz)
    chemistry = "red_amber" if peak_nm > 560.0 else "white_blue_green"
    efficacy = PEAK_LM_PER_W * float(xyz[1]) / float(power.sum())
    return LampColour(f"{peak_nm:g} nm", xy, dominant_nm(xy), None, efficacy, chemistry)


def dominant_nm(xy: XY) -> float:
    """Dominant wavelength of a chromaticity against equal-energy white.

    Parameters
    ----------
    xy : tuple of float
        x, y [-], not white and not purple.
    Returns
    -------
    float
        Wavelength [nm], 400 to 700, to 0.01 nm.
    Raises
    ------
    OutOfRange
        If the colour is white, or a purple that no single wavelength gives.
    Source
    ------
    CIE 015, dominant wavelength; found by halving on the hue angle.
    """
    wanted = _hue_rad(xy)
    low, high = 400.0, 700.0
    turn = (wanted - _hue_rad(wavelength_xy(high))) % (2.0 * math.pi)
    whole = (_hue_rad(wavelength_xy(low)) - _hue_rad(wavelength_xy(high))) % (2.0 * math.pi)
    if math.dist(xy, EQUAL_ENERGY) < 1e-4 or turn > whole + 1e-9:
        raise OutOfRange("x, y", xy, "a colour with a dominant wavelength (not white, not purple)")
    for _ in range(40):
        middle = 0.5 * (low + high)
        passed = (_hue_rad(wavelength_xy(middle)) - _hue_rad(wavelength_xy(700.0))) % (2.0 * math.pi)
        low, high = (middle, high) if passed > turn else (low, middle)
    return 0.5 * (low + high)


def _hue_rad(xy: XY) -> float:
    return math.atan2(xy[1] - EQUAL_ENERGY[1], xy[0] - EQUAL_ENERGY[0])


def trade_colour(name: str) -> LampColour:
    """Colour that lamps are sold under.

    Parameters
    ----------
    name : str
        A name of colour_names.csv ('warm white', 'amber'), a wavelength ('470 nm') or a colour temperature
        ('3200 K'); case, hyphens and underscores do not matter.
    Returns
    -------
    LampColour
        x, y and the wavelength or colour temperature.
    Raises
    ------
    UnknownName
        If the name is not in the table.
    OutOfRange
        If a wavelength or temperature lies outside its law's range.
    Source
    ------
    colour_names.csv, row by row.
    """
    wanted = " ".join(name.casefold().replace("-", " ").replace("_", " ").split())
    measured = _measured_colour(name, wanted)
    if measured:
        return measured
    known = {alias: row for row in rows("colour_names")
             for alias in (row["name"], *filter(None, row["also"].split(";")))}
    if wanted not in known:
        raise UnknownName("colour", name, known)
    row = known[wanted]
    cct_k, wave_nm = number(row, "cct_k"), number(row, "dominant_nm")
    if cct_k is not None:
        return LampColour(row["name"], white_xy(cct_k), None, cct_k, None, row["led_material"])
    return _single(row["name"], wave_nm or 0.0, number(row, "purity") or 0.0, row["led_material"])


def _measured_colour(name: str, wanted: str) -> LampColour | None:
    """A colour written as a number with nm or K."""
    for unit in ("nm", "k"):
        text = wanted.removesuffix(unit).strip()
        if wanted.endswith(unit) and text.replace(".", "", 1).isdigit():
            value = float(text)
            if unit == "k":
                return LampColour(name, white_xy(value), None, value, None, "white_blue_green")
            return _single(name, value, _usual_purity(value), "red_amber" if value > 560 else "white_blue_green")
    return None


def _usual_purity(wavelength_nm: float) -> float:
    """Purity that LEDs near a wavelength have, between the rows of colour_names.csv."""
    known = sorted((float(row["dominant_nm"]), float(row["purity"])) for row in rows("colour_names")
                   if row["dominant_nm"])
    return float(np.interp(wavelength_nm, [nm for nm, _ in known], [share for _, share in known]))


def _single(name: str, wavelength_nm: float, purity: float, chemistry: str) -> LampColour:
    efficacy = efficacy_lm_per_w(wavelength_nm)
    return LampColour(name, wavelength_xy(wavelength_nm, purity), wavelength_nm, None, efficacy, chemistry)
