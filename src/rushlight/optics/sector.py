"""How well a lamp's beam keeps to a sector: what spills beyond its edges, what reaches them."""

from __future__ import annotations

import math

from rushlight.units import checked


def spill_share(
    order: float, *, axis_deg: float, from_deg: float, to_deg: float, beyond_deg: float = 5.0
) -> float:
    """Most light outside a sector, over the light on the axis.

    Parameters
    ----------
    order : float
        Exponent of the beam's cos^m law [-], 0 or more.
    axis_deg : float
        Bearing of the beam's axis [deg].
    from_deg, to_deg : float
        Edges of the sector, clockwise [deg].
    beyond_deg : float
        How far beyond an edge the light may still be seen [deg], 0 to 45.
    Returns
    -------
    float
        Share [-], 0 to 1; 1 where the axis itself lies outside; 0 for a sector that is all round.
    Raises
    ------
    OutOfRange
        If the exponent or the margin lies outside its range.
    Notes
    -----
    cos^m of the least angle from the axis to a bearing outside; 0 behind the lamp. No screen is reckoned with.
    Source
    ------
    cos^m law of the beam; 5 degrees: COLREGs 1972 Annex I 9(a).
    """
    checked("order", order, 0.0)
    checked("beyond (deg)", beyond_deg, 0.0, 45.0)
    before, after = _edges_deg(axis_deg, from_deg, to_deg)
    width_deg = before + after
    if width_deg + 2 * beyond_deg >= 360.0:
        return 0.0
    if before < 0.0 or after < 0.0:
        return 1.0
    return _share(order, min(before, after) + beyond_deg)


def edge_share(order: float, *, axis_deg: float, from_deg: float, to_deg: float) -> float:
    """Least light inside a sector, over the light on the axis.

    Parameters
    ----------
    order : float
        Exponent of the beam's cos^m law [-], 0 or more.
    axis_deg : float
        Bearing of the beam's axis [deg].
    from_deg, to_deg : float
        Edges of the sector, clockwise [deg]; equal edges are all round.
    Returns
    -------
    float
        Share [-], 0 to 1; 0 for an edge behind the lamp.
    Raises
    ------
    OutOfRange
        If the exponent is negative.
    Notes
    -----
    cos^m of the largest angle from the axis to a bearing inside.
    Source
    ------
    cos^m law of the beam.
    """
    checked("order", order, 0.0)
    before, after = _edges_deg(axis_deg, from_deg, to_deg)
    if before < 0.0 or after < 0.0:
        return 0.0
    return _share(order, max(before, after))


def _edges_deg(axis_deg: float, from_deg: float, to_deg: float) -> tuple[float, float]:
    """Angles from the axis back to the first edge and on to the second; one is negative if the axis is outside."""
    width_deg = (to_deg - from_deg) % 360.0 or 360.0
    before = (axis_deg - from_deg) % 360.0
    return (before, width_deg - before) if before <= width_deg else (before - 360.0, width_deg - before)


def _share(order: float, angle_deg: float) -> float:
    return math.cos(math.radians(angle_deg)) ** order if angle_deg < 90.0 else 0.0
