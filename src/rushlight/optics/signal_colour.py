"""Colours that rules lay down for signal lights of ships, road vehicles and aircraft, as areas in x, y."""

from __future__ import annotations

import math

from rushlight.errors import UnknownName
from rushlight.optics.colour import XY, planck_xy
from rushlight.tables import rows

AIRCRAFT = "aircraft"
EDGE = 1e-9

ROUNDING = 0.001
"""Corners are printed to three digits; spectral colours lie on the outer edges."""


def signal_systems() -> tuple[str, ...]:
    """Systems whose signal colours are known, in order.

    Returns
    -------
    tuple of str
        Names.
    Source
    ------
    signal_colour_corners.csv, aviation_colour_halfplanes.csv.
    """
    return (*dict.fromkeys(row["system"] for row in rows("signal_colour_corners")), AIRCRAFT)


def signal_colours(system: str) -> tuple[str, ...]:
    """Colours that a system lays down.

    Parameters
    ----------
    system : str
        One of `signal_systems()`.
    Returns
    -------
    tuple of str
        Names of its colours.
    Raises
    ------
    UnknownName
        If the system is not known.
    Source
    ------
    signal_colour_corners.csv, aviation_colour_halfplanes.csv.
    """
    if system not in signal_systems():
        raise UnknownName("signal system", system, signal_systems())
    if system == AIRCRAFT:
        return tuple(dict.fromkeys(row["colour"] for row in rows("aviation_colour_halfplanes")))
    return tuple(dict.fromkeys(row["colour"] for row in rows("signal_colour_corners") if row["system"] == system))


def signal_corners(system: str, colour: str) -> tuple[XY, ...]:
    """Corners of a colour's area, in the order to draw them.

    Parameters
    ----------
    system : str
        'ship' or 'road'.
    colour : str
        One of its colours.
    Returns
    -------
    tuple of (x, y)
        Corners [-].
    Raises
    ------
    UnknownName
        If system or colour is not known, or the system (aircraft) is laid down by inequalities.
    Source
    ------
    COLREGs 1972 Annex I 7; UN R48 2.29 (signal_colour_corners.csv).
    """
    if system == AIRCRAFT or colour not in signal_colours(system):
        raise UnknownName("signal colour with corners", f"{system} {colour}",
                          {f"{row['system']} {row['colour']}" for row in rows("signal_colour_corners")})
    ring = [row for row in rows("signal_colour_corners") if (row["system"], row["colour"]) == (system, colour)]
    return tuple((float(row["x"]), float(row["y"])) for row in sorted(ring, key=lambda row: int(row["ring_order"])))


def inside_signal_colour(xy: XY, system: str, colour: str) -> bool:
    """Whether a chromaticity lies in the area that a rule lays down for a signal colour.

    Parameters
    ----------
    xy : tuple of float
        x, y [-].
    system : str
        One of `signal_systems()`.
    colour : str
        One of `signal_colours(system)`.
    Returns
    -------
    bool
        True inside, on the edge, or within 0.001 of it (the printing of the corners).
    Raises
    ------
    UnknownName
        If system or colour is not known.
    Notes
    -----
    Aircraft white also asks y >= min(x - 0.040, y0 - 0.010), y0 on the Planckian locus at x.
    Source
    ------
    COLREGs 1972 Annex I 7; UN R48 2.29; 14 CFR 25.1397.
    """
    if colour not in signal_colours(system):
        raise UnknownName(f"{system} signal colour", colour, signal_colours(system))
    if system != AIRCRAFT:
        return _inside(xy, signal_corners(system, colour))
    planes = [row for row in rows("aviation_colour_halfplanes") if row["colour"] == colour]
    within = all(float(row["x_factor"]) * xy[0] + float(row["y_factor"]) * xy[1] <= float(row["at_most"]) + EDGE
                 for row in planes)
    return within and (colour != "white" or xy[1] >= _white_floor(xy[0]) - EDGE)


def _white_floor(x: float) -> float:
    """Least y of aircraft white at an x between 0.30 and 0.54."""
    low_k, high_k = 1800.0, 25000.0
    for _ in range(50):
        middle_k = 0.5 * (low_k + high_k)
        low_k, high_k = (middle_k, high_k) if planck_xy(middle_k)[0] > x else (low_k, middle_k)
    return min(x - 0.040, planck_xy(low_k)[1] - 0.010)


def _inside(point: XY, ring: tuple[XY, ...]) -> bool:
    """Crossing count; a point within the rounding of the printed corners counts as inside."""
    inside = False
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        if _distance(point, start, end) <= ROUNDING:
            return True
        (x1, y1), (x2, y2) = start, end
        if (y1 > point[1]) != (y2 > point[1]) and point[0] < x1 + (point[1] - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside


def _distance(point: XY, start: XY, end: XY) -> float:
    """Distance from a point to an edge."""
    span = (end[0] - start[0], end[1] - start[1])
    away = (point[0] - start[0], point[1] - start[1])
    share = (away[0] * span[0] + away[1] * span[1]) / (span[0] ** 2 + span[1] ** 2)
    share = min(1.0, max(0.0, share))
    return math.hypot(away[0] - share * span[0], away[1] - share * span[1])
