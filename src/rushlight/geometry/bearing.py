"""Ways round the subject: bearings and heights as directions, and how a flat part is turned to them.

A direction is a unit vector (ahead, port, up). Bearings run clockwise from ahead as seen from above.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from rushlight.units import checked

Array = NDArray[np.float64]

WAYS: dict[str, tuple[float, float, float]] = {
    "ahead": (1.0, 0.0, 0.0), "starboard": (0.0, -1.0, 0.0), "astern": (-1.0, 0.0, 0.0), "port": (0.0, 1.0, 0.0),
    "up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0),
}
"""The six ways that have a word."""


def direction(bearing_deg: float, up_deg: float = 0.0) -> Array:
    """The direction of a bearing, so far over the horizon.

    Parameters
    ----------
    bearing_deg : float
        Clockwise from ahead [deg].
    up_deg : float
        Over the horizon [deg], -90 to 90.
    Returns
    -------
    array (3,)
        Unit vector (ahead, port, up).
    Raises
    ------
    OutOfRange
        If the height lies outside its range.
    Source
    ------
    Definition of a bearing.
    """
    up = math.radians(checked("height (deg)", up_deg, -90.0, 90.0))
    turn = math.radians(bearing_deg)
    return np.array([math.cos(up) * math.cos(turn), -math.cos(up) * math.sin(turn), math.sin(up)])


def bearing_of(way: Array) -> float:
    """Bearing of a direction [deg], 0 to 360; 0 for one that points straight up or down."""
    level = math.hypot(float(way[0]), float(way[1]))
    return math.degrees(math.atan2(-float(way[1]), float(way[0]))) % 360.0 if level > 1e-9 else 0.0


def leaned(way: Array, lean_deg: float) -> Array:
    """A direction raised towards the zenith by an angle [deg]; one that points straight up or down stays."""
    level = float(np.hypot(way[0], way[1]))
    if level < 1e-9:
        return way
    up = math.atan2(float(way[2]), level) + math.radians(lean_deg)
    return np.array([*(math.cos(up) * way[:2] / level), math.sin(up)])


def turned_to(face: Array, top: Array, *, seen_from_outside: bool) -> Array:
    """How a flat part is turned: directions of its drawing's x, y and of the way to whoever looks at the drawing.

    Parameters
    ----------
    face : array (3,)
        Where its outer face looks, unit vector.
    top : array (3,)
        Where the top of its drawing points; taken square to `face`.
    seen_from_outside : bool
        Whether the drawing shows the outer face.
    Returns
    -------
    array (3, 3)
        The three directions as columns.
    Raises
    ------
    OutOfRange
        If the top points the way of the face or straight against it.
    Source
    ------
    A right-handed frame of two directions.
    """
    towards = face if seen_from_outside else -face
    y = top - float(top @ towards) * towards
    y = y / checked("angle between face and top (sine)", float(np.linalg.norm(y)), 1e-6)
    return np.stack([np.cross(y, towards), y, towards], axis=1)
