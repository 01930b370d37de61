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


def screen_length_mm(size_mm: float, cut_deg: float) -> float:
    """How far a screen reaches beyond the place where it touches a lamp, so that its light is gone within an angle.

    Parameters
    ----------
    size_mm : float
        Diameter of the lamp as it is seen [mm], more than 0.
    cut_deg : float
        Angle past the sector's edge within which the light goes from full to nothing [deg], 0.5 to 45.
    Returns
    -------
    float
        Length along the edge [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    The screen lies along the edge and touches the lamp: L = s / tan(cut). Full light up to the edge itself.
    Source
    ------
    Straight rays; COLREGs 1972 Annex I 9(a): cut off between 1 and 3 degrees (side lights), 5 degrees (others).
    """
    checked("lamp (mm)", size_mm, 0.0, above=True)
    return size_mm / math.tan(math.radians(checked("cut-off (deg)", cut_deg, 0.5, 45.0)))


def penumbra_deg(size_mm: float, length_mm: float) -> float:
    """Angle over which a screen of a given length takes the light from full to nothing [deg].

    Parameters
    ----------
    size_mm : float
        Diameter of the lamp as it is seen [mm], more than 0.
    length_mm : float
        How far the screen reaches beyond the place where it touches the lamp [mm], more than 0.
    Returns
    -------
    float
        Angle [deg].
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Inverse of `screen_length_mm`.
    """
    checked("lamp (mm)", size_mm, 0.0, above=True)
    return math.degrees(math.atan2(size_mm, checked("screen (mm)", length_mm, 0.0, above=True)))


def screened_share(bearing_deg: float, from_deg: float, to_deg: float, *, cut_deg: float) -> float:
    """Share of a round lamp that an eye sees past a screen which lies along the edges of its sector.

    Parameters
    ----------
    bearing_deg : float
        Bearing from which it is looked at [deg].
    from_deg, to_deg : float
        Edges of the sector, clockwise [deg]; equal edges are all round, without a screen.
    cut_deg : float
        Angle past an edge over which the light goes out [deg], from `penumbra_deg`, above 0, at most 45.
    Returns
    -------
    float
        Share [-]: 1 within the sector and at its edge, 0 from the cut on.
    Raises
    ------
    OutOfRange
        If the cut lies outside its range.
    Notes
    -----
    The shadow's edge is straight and crosses the disc by tan(past) / tan(cut) of its width: a circular segment.
    Source
    ------
    Straight rays, as `screen_length_mm`; pieces of the disc counted in tests/unit/optics/test_sector.py.
    """
    checked("cut-off (deg)", cut_deg, 0.0, 45.0, above=True)
    width_deg = (to_deg - from_deg) % 360.0 or 360.0
    on_deg = (bearing_deg - from_deg) % 360.0
    past_deg = min(on_deg - width_deg, 360.0 - on_deg)
    if on_deg <= width_deg or past_deg <= 0.0:
        return 1.0
    if past_deg >= cut_deg:
        return 0.0
    across = 2.0 * math.tan(math.radians(past_deg)) / math.tan(math.radians(cut_deg)) - 1.0
    return (math.acos(across) - across * math.sqrt(1.0 - across * across)) / math.pi


def screen_flank_mm(size_mm: float, length_mm: float, width_deg: float) -> float:
    """Length of one flank of a strip that is folded once and holds the lamp in its fold.

    Parameters
    ----------
    size_mm : float
        Diameter of the lamp [mm], more than 0.
    length_mm : float
        How far each flank reaches beyond the place where it touches the lamp [mm], more than 0.
    width_deg : float
        Width of the sector, which is how far the flanks are opened on the lamp's side [deg], 10 to 350.
    Returns
    -------
    float
        From the fold to the end [mm]; not less than the lamp's radius.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    L + (s / 2) / tan(width / 2): a circle that touches both flanks of an angle.
    Source
    ------
    Geometry; rays traced one by one in tests/unit/optics/test_sector.py.
    """
    checked("lamp (mm)", size_mm, 0.0, above=True)
    checked("screen (mm)", length_mm, 0.0, above=True)
    half = math.radians(checked("width (deg)", width_deg, 10.0, 350.0)) / 2.0
    return max(length_mm + size_mm / 2.0 / math.tan(half), size_mm / 2.0)


def _edges_deg(axis_deg: float, from_deg: float, to_deg: float) -> tuple[float, float]:
    """Angles from the axis back to the first edge and on to the second; one is negative if the axis is outside."""
    width_deg = (to_deg - from_deg) % 360.0 or 360.0
    before = (axis_deg - from_deg) % 360.0
    return (before, width_deg - before) if before <= width_deg else (before - 360.0, width_deg - before)


def _share(order: float, angle_deg: float) -> float:
    return math.cos(math.radians(angle_deg)) ** order if angle_deg < 90.0 else 0.0
