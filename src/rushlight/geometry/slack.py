"""Slack of a lead or fibre that crosses from one part to another that moves."""

from __future__ import annotations

import math

from rushlight.units import checked


def chord_mm(distance_mm: float, opening_deg: float) -> float:
    """How far two points move apart that lie on either side of a hinge, both so far from it.

    Parameters
    ----------
    distance_mm : float
        Distance of each point from the hinge [mm], 0 or more.
    opening_deg : float
        How far the hinge opens [deg], 0 to 360; beyond 180 nothing moves further apart.
    Returns
    -------
    float
        Distance between the two points once open [mm], 0 to 2 * distance.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    2 d sin(a / 2), the chord of the circle on which the point moves; a up to 180 deg, since on its way a wider opening
    passes the half turn.
    Source
    ------
    Chord of a circle, Euclid; the practice `book_slack` adds 20 mm to it.
    Examples
    --------
    >>> chord_mm(30.0, 180.0)
    60.0
    """
    checked("distance from the hinge (mm)", distance_mm, 0.0)
    checked("opening (deg)", opening_deg, 0.0, 360.0)
    return 2 * distance_mm * math.sin(math.radians(min(opening_deg, 180.0)) / 2)
