"""What the sheets of a diffuser do to a pattern of light: a second sheet, the thickness, an overlap."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.units import checked

Array = NDArray[np.float64]


def second_sheet_factor(pitch_mm: float, spacing_mm: float) -> float:
    """Share of a contrast that a second sheet leaves.

    Parameters
    ----------
    pitch_mm : float
        Period of the pattern [mm], more than 0.
    spacing_mm : float
        First sheet to second [mm], 0 or more.
    Returns
    -------
    float
        Factor [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    q g K_1(q g), q = 2 pi / p: the first sheet a Lambertian surface, kernel g^2 / (pi (r^2 + g^2)^2).
    Source
    ------
    Hankel transform of the kernel (derived), by quadrature in tests/unit/optics/test_sheet.py.
    """
    waves = 2.0 * math.pi / checked("pitch (mm)", pitch_mm, 0.0, above=True)
    return float(second_sheet_mtf([waves], spacing_mm)[0])


def second_sheet_mtf(waves_per_mm: ArrayLike, spacing_mm: float) -> Array:
    """`second_sheet_factor` for many wave numbers at once.

    Parameters
    ----------
    waves_per_mm : array
        q = 2 pi / period [rad/mm], 0 or more.
    spacing_mm : float
        First sheet to second [mm], 0 or more.
    Returns
    -------
    array
        Factor [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If the spacing is negative.
    Source
    ------
    As `second_sheet_factor`.
    """
    from scipy.special import k1

    phase = np.asarray(waves_per_mm, dtype=float) * checked("spacing (mm)", spacing_mm, 0.0)
    some = phase > 1e-9
    return np.where(some, phase * k1(np.where(some, phase, 1.0)), 1.0)


def sheet_blur_mtf(waves_per_mm: ArrayLike, thickness_mm: float) -> Array:
    """`sheet_blur_factor` for many wave numbers at once; fine patterns (q L over 3) are told as nearly gone.

    Parameters
    ----------
    waves_per_mm : array
        q = 2 pi / period [rad/mm], 0 or more.
    thickness_mm : float
        Thickness of the sheet [mm], 0 or more.
    Returns
    -------
    array
        Factor [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If the thickness is negative.
    Source
    ------
    As `sheet_blur_factor`.
    """
    phase = np.minimum(np.asarray(waves_per_mm, dtype=float) * checked("thickness (mm)", thickness_mm, 0.0), 50.0)
    some = phase > 1e-9
    return np.where(some, phase / np.sinh(np.where(some, phase, 1.0)), 1.0)


def sheet_blur_factor(pitch_mm: float, thickness_mm: float) -> float:
    """Share of a contrast that the thickness of a volume diffuser leaves.

    Parameters
    ----------
    pitch_mm : float
        Period of the pattern [mm], more than 0.
    thickness_mm : float
        Thickness of the sheet [mm], 0 or more.
    Returns
    -------
    float
        Factor [-], 0 to 1: 0.94 for 1 mm under a 10 mm pitch. The gap does the work, not the sheet.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or 2 pi L / p exceeds 3.
    Notes
    -----
    qL / sinh qL, q = 2 pi / p; within 0.06 of a Monte Carlo for qL <= 2 in a sheet that scatters well (five
    transport lengths or more). A merely frosted sheet lets light straight through and hides nothing.
    Source
    ------
    Diffusion in a slab (derived); diffuser_blur.csv.
    """
    phase = 2.0 * math.pi * checked("thickness (mm)", thickness_mm, 0.0) / checked("pitch (mm)", pitch_mm, 0.0,
                                                                                 above=True)
    checked("2 pi thickness / pitch", phase, 0.0, 3.0)
    return float(sheet_blur_mtf([2.0 * math.pi / pitch_mm], thickness_mm)[0])


def overlap_factor(transmittance: float, reflectance: float, *, own_reflectance: float | None = None) -> float:
    """Luminance of a band where another sheet lies over a window's own, over that beside it.

    Parameters
    ----------
    transmittance : float
        Of the other sheet [-], above 0, at most 1.
    reflectance : float
        Of its face towards the window's own sheet [-], 0 to 1 less the transmittance.
    own_reflectance : float, optional
        Of the own sheet's face towards it [-], 0 to 1; as much as the other's where both are alike.
    Returns
    -------
    float
        Ratio [-]; 0.63 for two sheets of T 0.5, R 0.45. Cured by a butt joint or by a second sheet everywhere.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    T12 / T1 = T2 / (1 - R1 R2).
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 44 (1954) 330.
    """
    checked("transmittance", transmittance, 0.0, 1.0, above=True)
    checked("reflectance", reflectance, 0.0, 1.0 - transmittance + 1e-12)
    own = checked("own reflectance", reflectance if own_reflectance is None else own_reflectance, 0.0, 1.0)
    return transmittance / (1.0 - reflectance * own)
