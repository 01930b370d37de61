"""How the eye spreads the light of a point: as a sum of bell curves, so that a picture can be spread by halving it.

The CIE's total glare function is made of terms (1 + (t/a)^2)^-n. Each of them is exactly a mixture of Gaussians, and
the share of its energy in each width is known, so no curve is fitted and no light is lost or gained.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.units import checked

Array = NDArray[np.float64]

AGE_YEARS, PIGMENT = 40.0, 0.5
"""The eye that the pictures take for granted: 40 years old, brown."""

FIRST_DEG, STEPS = 0.001, 33
"""Widths of the table of shares: the first, and how many steps of half an octave follow, to 93 degrees."""

SR_PER_DEG2 = math.radians(1.0) ** 2


def glare_per_lx(angle_deg: ArrayLike, *, age_years: float = AGE_YEARS, pigment: float = PIGMENT) -> Array:
    """The eye's whole spread of a point, from its core out to 90 degrees.

    Parameters
    ----------
    angle_deg : array
        Angle from the point [deg], 0 to 90.
    age_years : float
        Age of the eye [years], 5 to 90.
    pigment : float
        Eye colour [-]: 0 black, 0.5 brown, 1 blue, 1.2 very light.
    Returns
    -------
    array
        Luminance per illuminance at the eye [cd/m2 per lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    (1 - 0.08 q) {9.2e6 / [1 + (t/0.0046)^2]^1.5 + 1.5e5 / [1 + (t/0.045)^2]^1.5}
    + (1 + 1.6 q) {400 / [1 + (t/0.1)^2] + 3e-8 t^2 + p [1300 / [1 + (t/0.1)^2]^1.5 + 0.8 / [1 + (t/0.1)^2]^0.5]}
    + 0.0025 p, q = (age/70)^4.
    Source
    ------
    CIE 135/1:1999, disability glare, total glare function; Vos & van den Berg (coefficients from memory; they agree
    with a copy made public, and the whole carries all of the light within 4 %).
    """
    angle = np.asarray(angle_deg, dtype=float)
    checked("least angle (deg)", float(angle.min()), 0.0)
    checked("greatest angle (deg)", float(angle.max()), 0.0, 90.0)
    light = sum(w / (1.0 + (angle / a) ** 2) ** n for w, a, n in _terms(age_years, pigment))
    lens = 1.0 + 1.6 * (age_years / 70.0) ** 4
    return np.asarray(light + lens * 3e-8 * angle**2 + 0.0025 * pigment)


def _terms(age_years: float, pigment: float) -> tuple[tuple[float, float, float], ...]:
    """Weight [1/sr], width [deg] and power of each term (1 + (t/a)^2)^-n."""
    checked("age (years)", age_years, 5.0, 90.0)
    checked("pigment", pigment, 0.0, 1.2)
    old = (age_years / 70.0) ** 4
    core, lens = 1.0 - 0.08 * old, 1.0 + 1.6 * old
    return (
        (core * 9.2e6, 0.0046, 1.5), (core * 1.5e5, 0.045, 1.5), (lens * 400.0, 0.1, 1.0),
        (lens * pigment * 1300.0, 0.1, 1.5), (lens * pigment * 0.8, 0.1, 0.5),
    )


def share_table(*, age_years: float = AGE_YEARS, pigment: float = PIGMENT) -> tuple[float, ...]:
    """Share of a point's light that is spread no wider than each width of the table.

    Parameters
    ----------
    age_years, pigment : float
        As `glare_per_lx`.
    Returns
    -------
    tuple of float
        For the widths FIRST_DEG 2^(n/2) [deg], n = 0 to STEPS, as standard deviation of a Gaussian: the share of the
        light [-] in Gaussians no wider than that; rising, the last is 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    (1 + x)^-n = 1/Gamma(n) * integral v^(n-1) e^-v e^(-vx) dv: with v = a^2 / (2 s^2) each term is a mixture of
    Gaussians of width s with the energy w 2 pi a^2 v^(n-1) e^-v / Gamma(n) for each step of ln s. What the function
    holds beyond the last width is left out, and the rest scaled to 1.
    Source
    ------
    Integral of the gamma function; angles are small enough that a degree square is a piece of a plane.
    """
    fine = 64
    log_s = np.log(FIRST_DEG / 64.0) + np.arange((STEPS + 12) * fine + 1) * math.log(2.0) / 2.0 / fine
    energy = np.zeros_like(log_s)
    for weight, a, n in _terms(age_years, pigment):
        v = a**2 / 2.0 * np.exp(-2.0 * log_s)
        energy += weight * SR_PER_DEG2 * 2.0 * math.pi * a**2 * v ** (n - 1.0) * np.exp(-v) / math.gamma(n)
    summed = np.concatenate([[0.0], np.cumsum((energy[1:] + energy[:-1]) / 2.0)])
    table = summed[12 * fine :: fine]
    return tuple(float(share) for share in table / table[-1])


def share_below(width_deg: ArrayLike, table: tuple[float, ...]) -> Array:
    """Share of the light spread no wider than a width, read from a table.

    Parameters
    ----------
    width_deg : array
        Standard deviation of a Gaussian [deg], above 0.
    table : tuple of float
        From `share_table`.
    Returns
    -------
    array
        Share [-], 0 to 1.
    Source
    ------
    Straight lines over the logarithm of the width.
    """
    at = 2.0 * np.log2(np.asarray(width_deg, dtype=float) / FIRST_DEG)
    return np.asarray(np.interp(at, np.arange(len(table)), table))
