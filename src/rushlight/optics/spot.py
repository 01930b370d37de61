"""The bright spot on a wall right beside a source: direct light, before it is thrown about."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.units import checked

Array = NDArray[np.float64]


def beside_lx(flux_lm: float, *, off_mm: float, away_mm: ArrayLike) -> Array:
    """Illuminance of a wall beside a small source that shines alike to all sides.

    Parameters
    ----------
    flux_lm : float
        What it gives to all sides [lm], 0 or more.
    off_mm : float
        Its distance from the wall [mm], above 0.
    away_mm : array
        Distance on the wall from the point next to it [mm], 0 or more.
    Returns
    -------
    array
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    E = Phi / (4 pi) z / (z^2 + r^2)^(3/2): inverse square with the cosine.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104.
    """
    away = np.asarray(away_mm, dtype=float)
    checked("flux (lm)", flux_lm, 0.0)
    checked("distance (mm)", off_mm, 0.0, above=True)
    checked("distance on the wall (mm)", float(away.min()), 0.0)
    return np.asarray(1e6 * flux_lm / (4.0 * math.pi) * off_mm / (off_mm**2 + away**2) ** 1.5)


def before_lx(flux_lm: float, *, off_mm: float, away_mm: ArrayLike) -> Array:
    """The same of a flat matt source that faces the wall.

    Parameters
    ----------
    flux_lm, off_mm, away_mm : float, float, array
        As `beside_lx`.
    Returns
    -------
    array
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    E = Phi / pi z^2 / (z^2 + r^2)^2.
    Source
    ------
    Photometric distance law with Lambert's cosine at both ends.
    """
    away = np.asarray(away_mm, dtype=float)
    checked("flux (lm)", flux_lm, 0.0)
    checked("distance (mm)", off_mm, 0.0, above=True)
    checked("distance on the wall (mm)", float(away.min()), 0.0)
    return np.asarray(1e6 * flux_lm / math.pi * off_mm**2 / (off_mm**2 + away**2) ** 2)
