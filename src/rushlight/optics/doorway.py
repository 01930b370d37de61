"""An opening with a door in it: how much of it is seen, and how much of its light gets past the door."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from rushlight.units import checked


@dataclass(frozen=True, slots=True)
class Doorway:
    """Shares of an opening, 0 (shut) to 1 (as if there were no door).

    `seen` is the share of its area that is seen square on, `passes` the share of its light that gets out.
    """

    seen: float
    passes: float


STEPS = 18
"""Steps over each side of an opening and each angle of its light."""

OPEN = Doorway(1.0, 1.0)
SHUT = Doorway(0.0, 0.0)


def turned_door(angle_deg: float, along: float = 1.0) -> Doorway:
    """A dark door that hangs on one edge of its opening and covers all of it when shut.

    Parameters
    ----------
    angle_deg : float
        How far it is turned, either way [deg], 0 (shut) to 360 off.
    along : float
        Size of the opening along the hinge over its width from the hinge [-], more than 0.
    Returns
    -------
    Doorway
        Seen square on 1 - cos t up to 90 degrees, then all; the light past it within 0.01.
    Raises
    ------
    OutOfRange
        If the angle is more than a full turn or the proportion is not above 0.
    Notes
    -----
    Rays of a matt opening, evenly spread over its face and its half space, that do not meet the door. For one endlessly
    long along its hinge that is sin(t / 2); for a square one at a right angle 0.8.
    Source
    ------
    Projection; configuration factor of two plates with a common edge (Howell C-14, C-16) by quadrature.
    """
    checked("size along the hinge over the width", along, 0.0, above=True)
    turned = min(abs(checked("angle of a door (deg)", angle_deg, -360.0, 360.0)), 180.0)
    seen = 1.0 - math.cos(math.radians(min(turned, 90.0)))
    return Doorway(seen=seen, passes=_past(turned, round(along, 6)))


@lru_cache(maxsize=1024)
def _past(turned_deg: float, along: float) -> float:
    """Share of the rays out of an opening 1 wide that miss its door, hung on the edge x = 0."""
    if turned_deg in (0.0, 180.0):
        return turned_deg / 180.0
    step = (np.arange(STEPS) + 0.5) / STEPS
    x, y, sine2, turn = np.meshgrid(step, (step - 0.5) * along, step, 2.0 * math.pi * step, indexing="ij", sparse=True)
    sine, t = np.sqrt(sine2), math.radians(turned_deg)
    u, v, w = sine * np.cos(turn), sine * np.sin(turn), np.sqrt(1.0 - sine2)
    towards = w * math.cos(t) - u * math.sin(t)
    with np.errstate(divide="ignore", invalid="ignore"):
        far = x * math.sin(t) / towards
        out = (x + far * u) * math.cos(t) + far * w * math.sin(t)
        meets = (far > 0.0) & (out > 0.0) & (out < 1.0) & (np.abs(y + far * v) < along / 2.0)
    return 1.0 - float(meets.mean())


def slid_door(slid_mm: float, span_mm: float) -> Doorway:
    """A door that slides along the face of its opening.

    Parameters
    ----------
    slid_mm : float
        How far, either way [mm].
    span_mm : float
        The opening's size in that direction [mm], more than 0.
    Returns
    -------
    Doorway
        The share that is free.
    Raises
    ------
    OutOfRange
        If the span is not above 0.
    Source
    ------
    Geometry.
    """
    checked("span of an opening (mm)", span_mm, 0.0, above=True)
    free = min(1.0, abs(slid_mm) / span_mm)
    return Doorway(seen=free, passes=free)
