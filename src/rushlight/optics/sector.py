"""Screens of sector lights: how long they are, and what is seen past them."""

from __future__ import annotations

import math

from rushlight.units import checked


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
