"""The cone that leaves a fibre: how bends widen it, and how bright it is on its axis."""

from __future__ import annotations

import math

from rushlight.optics.coupling import CORE_INDEX
from rushlight.optics.fibre_loss import Bend, Fibre
from rushlight.units import checked

BEND_SPREAD, LEAST_SPREAD = 1.3, 0.3
"""By how much a bend widens the cone that runs through a fibre: sin^2 of its edge grows by so much times d / R, and by
that share of it at the least (fitted to an own ray trace, tests/outside/test_bent_fibre_cone.py)."""


def bent_sine(sine: float, fibre: Fibre, bends: tuple[Bend, ...], *, share: float = 1.0) -> float:
    """Sine of the edge of the cone that a bent fibre sends out [-], at most the aperture.

    Parameters
    ----------
    sine : float
        Sine of the edge of the cone that was launched [-], 0 to 1.
    fibre : Fibre
        The fibre.
    bends : tuple of Bend
        Turns of its route; their order does not matter.
    share : float
        Of the widening that counts [-], 0 or more.
    Returns
    -------
    float
        Sine [-], never less than launched.
    Raises
    ------
    OutOfRange
        If the sine or the share lies outside its range.
    Notes
    -----
    A ray that runs along the outer side of a bend of radius R gains angle by what it falls towards that side: sin^2 of
    the cone's edge grows by BEND_SPREAD d / R, whatever the angle turned through; a turn by t so short that a ray flies
    straight through it adds at most 2 (n sin t)^2. Rays are then spread over all ways round, so that a ring is filled.
    Source
    ------
    Fitted to an own ray trace of launches on the axis and in rings; cast anew in tests/outside/test_bent_fibre_cone.py.
    """
    checked("sine of the cone", sine, 0.0, 1.0)
    checked("share", share, 0.0)
    grown = sum(min(BEND_SPREAD * fibre.outer_mm / bend.radius_mm,
                    2.0 * (CORE_INDEX * math.sin(math.radians(min(bend.angle_deg, 90.0)))) ** 2) for bend in bends)
    return max(sine, min(fibre.na, math.sqrt(sine * sine + share * grown)))


def axial_intensity_cd(flux_lm: float, *, order: float, sine: float) -> float:
    """Intensity on the axis of a cone of light with a cos^m profile and a sharp edge.

    Parameters
    ----------
    flux_lm : float
        Flux in the cone [lm], 0 or more.
    order : float
        Exponent m of the profile [-]; 1 is a cone of even luminance.
    sine : float
        Sine of the cone's half angle [-], above 0, at most 1.
    Returns
    -------
    float
        Intensity [cd].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    I = Phi (m+1) / (2 pi (1 - cos^(m+1) t)); m = 1 gives Phi / (pi sine^2).
    Source
    ------
    Integral of the cos^m law over the cone.
    """
    checked("flux (lm)", flux_lm, 0.0)
    checked("order", order, 0.0)
    checked("sine of the cone", sine, 0.0, 1.0, above=True)
    return flux_lm * (order + 1.0) / (2.0 * math.pi * _carried_within(order, sine))


def _carried_within(order: float, sine: float) -> float:
    return float(1.0 - (1.0 - sine * sine) ** ((order + 1.0) / 2.0))
