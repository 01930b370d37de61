"""Luminous intensity for a visible range of lights at sea."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange

THRESHOLD_LX = 2e-7
"""Threshold illuminance of the eye (COLREGs 1972 Annex I 8)."""

CLEAR_NIGHT_TRANSMISSIVITY = 0.8
"""Share of light left after one nautical mile, about 13 nmi of meteorological visibility (COLREGs 1972 Annex I 8)."""


def intensity_for_range_cd(range_nmi: float, *, transmissivity: float = CLEAR_NIGHT_TRANSMISSIVITY) -> float:
    """Least luminous intensity of a light that is to be seen at a range.

    Parameters
    ----------
    range_nmi : float
        Visible range D [nmi], over 0 to 60.
    transmissivity : float
        Share of light left after one nautical mile K [-], over 0 to 1.
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
    I = 3.43e6 T D^2 K^-D with T = 2e-7 lx; 3.43e6 is (1852 m)^2 per square nautical mile. A flash needs this
    as its effective intensity.
    Source
    ------
    COLREGs 1972 Annex I 8(a), Allard's law.
    Examples
    --------
    >>> round(intensity_for_range_cd(3.0))
    12
    """
    if not 0.0 < range_nmi <= 60.0:
        raise OutOfRange("range_nmi", range_nmi, "over 0 to 60 nmi")
    if not 0.0 < transmissivity <= 1.0:
        raise OutOfRange("transmissivity", transmissivity, "over 0 to 1")
    return 3.43e6 * THRESHOLD_LX * range_nmi**2 * math.pow(transmissivity, -range_nmi)
