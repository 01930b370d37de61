"""Transistors as drivers in the plus: what they leave of the voltage, and what gate and channel bear."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from rushlight.errors import OutOfRange
from rushlight.tables import rows

GATE_ROOM = 0.9
"""A gate gets no more than this share of what it bears at the most (project proposal)."""

HOT_SHARE = 1.5
"""On-resistance at 125 C over that at 25 C (AO3401A: 62 over 41 milliohm typical, 75 over 50 at most)."""

TO_AIR_K_W = 250.0
"""From the junction of a small transistor on next to no copper to the air [K/W] (from memory: 200 to 300; on a square
inch of copper data sheets have 100 to 125)."""

RISE_K = 60.0
"""As warm as it should get over the air of a closed model [K] (project proposal)."""


@dataclass(frozen=True, slots=True)
class DriverType:
    """A kind of P-channel MOSFET: what its gate and channel bear, and its on-resistance at some gate voltages.

    `on_ohm` holds (gate voltage [V], typical [ohm], at most [ohm]), lowest voltage first: from that on it is fully on.
    """

    key: str
    name: str
    gate_most_v: float
    drain_most_v: float
    drain_a: float
    on_ohm: tuple[tuple[float, float, float], ...]

    @property
    def least_v(self) -> float:
        """Supply from which it is fully on [V]."""
        return self.on_ohm[0][0]

    @property
    def most_v(self) -> float:
        """Supply up to which its gate is safe [V]."""
        return GATE_ROOM * self.gate_most_v


@cache
def driver_types() -> tuple[DriverType, ...]:
    """Every tabled kind, the most usual first."""
    points: dict[str, list[tuple[float, float, float]]] = {}
    for row in rows("driver_on_ohm"):
        values = float(row["gate_v"]), float(row["typical_ohm"]), float(row["most_ohm"])
        points.setdefault(row["type"], []).append(values)
    return tuple(
        DriverType(row["key"], row["name"], float(row["gate_most_v"]), float(row["drain_most_v"]),
                   float(row["drain_a"]), tuple(sorted(points[row["key"]])))
        for row in rows("driver_types")
    )


def driver_type_for(fresh_v: float, flat_v: float) -> DriverType | None:
    """The most usual kind that is fully on with the flat supply and whose gate bears the fresh one.

    Parameters
    ----------
    fresh_v, flat_v : float
        The supply [V]; the gate gets all of it, since the transistor before it pulls it down to the return.
    Returns
    -------
    DriverType or None
        None where no kind of the table does.
    Source
    ------
    driver_types.csv, driver_on_ohm.csv.
    """
    fit = (kind for kind in driver_types() if kind.least_v <= flat_v and fresh_v <= kind.most_v)
    return next(fit, None)


def on_ohm(kind: DriverType, gate_v: float) -> tuple[float, float]:
    """On-resistance at a gate voltage, typical and at most, at 25 C.

    Parameters
    ----------
    kind : DriverType
        The transistor.
    gate_v : float
        Between source and gate [V].
    Returns
    -------
    tuple of float
        Typical and at most [ohm]; within 8 % between the points of the data sheet.
    Raises
    ------
    OutOfRange
        Under the gate voltage from which it is fully on, or over what its gate bears.
    Notes
    -----
    Straight between the points over the inverse of the gate voltage; above the last point that point's.
    Source
    ------
    The points are the data sheet's. A channel's conductance goes with how far the gate is over its threshold.
    """
    if not kind.least_v <= gate_v <= kind.gate_most_v:
        raise OutOfRange("gate voltage", gate_v, f"{kind.least_v:g} to {kind.gate_most_v:g} V")
    inverse = [1.0 / volts for volts, _, _ in kind.on_ohm[::-1]]
    typical, most = (float(np.interp(1.0 / gate_v, inverse, [point[k] for point in kind.on_ohm[::-1]])) for k in (1, 2))
    return typical, most


def driver_bears_a(kind: DriverType, gate_v: float) -> float:
    """What it bears without a cooling face: half of its rating, or what warms it by RISE_K if that is less.

    Parameters
    ----------
    kind : DriverType
        The transistor.
    gate_v : float
        Between source and gate [V]; the worst is the flat supply's.
    Returns
    -------
    float
        Current [A].
    Raises
    ------
    OutOfRange
        As `on_ohm`.
    Source
    ------
    I^2 R = rise / thermal resistance, R at most and hot; half the rating is common practice.
    """
    hot_ohm = HOT_SHARE * on_ohm(kind, gate_v)[1]
    return min(kind.drain_a / 2, math.sqrt(RISE_K / (TO_AIR_K_W * hot_ohm)))
