"""Warm air that leaves a closed model through its vents."""

from __future__ import annotations

import math

from rushlight.units import ZERO_CELSIUS_K, checked

GRAVITY_M_PER_S2 = 9.80665

VENT_SHARE = 0.6
"""Discharge coefficient of a sharp-edged hole [-] (ASHRAE Fundamentals gives 0.65, handbooks 0.6 to 0.65; memory)."""

VENT_RISE = 0.5
"""Height between the lower and the upper vents over that of the space (project proposal)."""


def vent_w(vents_mm2: float, rise_k: float, *, height_mm: float, room_c: float = 22.0) -> float:
    """Heat that warm air carries out through the vents of a box.

    Parameters
    ----------
    vents_mm2 : float
        Free area of all vents [mm2], 0 or more; half lie low, half high, `VENT_RISE` of the height apart.
    rise_k : float
        Air inside over the room [K]; nothing flows at 0 and below.
    height_mm : float
        Height of the box [mm].
    room_c : float
        Room [C], -10 to 45.
    Returns
    -------
    float
        Heat [W].
    Raises
    ------
    OutOfRange
        If the room or the vents lie outside their range.
    Notes
    -----
    Q = C A sqrt(2 g (h / 2) dT / T_inside) through half the area A, neutral level half way; rho c_p Q dT.
    Source
    ------
    Stack effect with equal openings, ASHRAE Fundamentals, ventilation (from memory). Felt and gauze let less through.
    """
    checked("vents (mm2)", vents_mm2, 0.0)
    checked("room (C)", room_c, -10.0, 45.0)
    if rise_k <= 0.0 or vents_mm2 == 0.0:
        return 0.0
    inside_k = room_c + rise_k + ZERO_CELSIUS_K
    half_m = VENT_RISE * height_mm / 2000.0
    flow_m3_per_s = VENT_SHARE * vents_mm2 / 2e6 * math.sqrt(2.0 * GRAVITY_M_PER_S2 * half_m * rise_k / inside_k)
    return 101325.0 / (287.05 * (room_c + ZERO_CELSIUS_K)) * 1006.0 * flow_m3_per_s * rise_k
