"""How a closed model warms over time: the wall stores heat, the air inside follows at once.

The steady law of the box (`enclosure.box_heat`) says what the wall gives off at each of its temperatures; what the
lamps give beyond that warms the wall. Wiring, cells and air store little beside it and are left out, so that the
answer runs ahead of a real model.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange
from rushlight.tables import rows
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.units import checked

Array = NDArray[np.float64]

DENSITY_KG_PER_M3 = 1050.0
HEAT_J_PER_KGK = 1300.0
"""Polystyrene (from memory: 1.04 to 1.06 g/cm3; 1200 to 1400 J/kg K at room temperature)."""

LONGEST_STEP_S = 60.0
LEAST_STEPS = 24
SETTLED_H = 24.0
"""Beyond this a stretch is no longer walked: over twenty time constants of the thickest wall."""

SHARES = (0.0, 0.05, 0.2, 0.45, 0.7, 1.0)
"""Powers at which the steady law is asked, as shares of the greatest."""


@dataclass(frozen=True, slots=True)
class WarmingLaw:
    """Steady rises over the room at some powers: watts rise from 0; wall and air [K], each of shape (powers,)."""

    watts: Array
    wall_k: Array
    air_k: Array


@dataclass(frozen=True, slots=True)
class Warming:
    """Rises over the room along the time: hours, the stretch each belongs to, wall and air [K], shape (moments,)."""

    hours: Array
    stretch: NDArray[np.int64]
    wall_k: Array
    air_k: Array


def box_laws(box: Box, most_w: float, *, room_c: float = 22.0) -> tuple[WarmingLaw, WarmingLaw]:
    """The steady law of a box, typical and at its safe end.

    Parameters
    ----------
    box : Box
        The closed model.
    most_w : float
        Greatest power inside [W], above 0, to 200.
    room_c : float
        Room [C].
    Returns
    -------
    tuple of WarmingLaw
        Typical, then the high end of `box_heat`.
    Raises
    ------
    OutOfRange
        As `box_heat`.
    Source
    ------
    `enclosure.box_heat` at a few powers, straight in between.
    """
    watts = np.array(SHARES) * checked("greatest power (W)", most_w, 0.0, 200.0, above=True)
    steady = [box_heat(box, float(power), room_c=room_c) for power in watts]
    typical = WarmingLaw(watts, np.array([row.wall_k.typical for row in steady]),
                         np.array([row.inside_air_k.typical for row in steady]))
    high = WarmingLaw(watts, np.array([row.wall_k.high for row in steady]),
                      np.array([row.inside_air_k.high for row in steady]))
    return typical, high


def stores_of(wall: str) -> float:
    """Heat that a wall of the drawer stores [J/m3 K]; a material that the table does not know counts as styrene.

    Source
    ------
    wall_heat_capacity.csv, row by row.
    """
    row = next((row for row in rows("wall_heat_capacity") if row["wall"] == wall), None)
    if row is None:
        return DENSITY_KG_PER_M3 * HEAT_J_PER_KGK
    return float(row["density_kg_per_m3"]) * float(row["heat_j_per_kgk"])


def wall_j_per_k(box: Box, stores_j_per_m3k: float = DENSITY_KG_PER_M3 * HEAT_J_PER_KGK) -> float:
    """Heat that all walls of a box store for each kelvin [J/K]: area times wall times what its material stores."""
    length, width, height = (size / 1000 for size in (box.length_mm, box.width_mm, box.height_mm))
    area_m2 = 2 * (length * width + length * height + width * height)
    return area_m2 * box.wall_mm / 1000 * stores_j_per_m3k


def warmed(law: WarmingLaw, store_j_per_k: float, stretches: Sequence[tuple[float, float]]) -> Warming:
    """Rises of wall and air over stretches of steady power, from room temperature.

    Parameters
    ----------
    law : WarmingLaw
        What the wall gives off at which rise.
    store_j_per_k : float
        Heat stored [J/K], above 0.
    stretches : sequence of (float, float)
        Power [W], 0 to the law's greatest, and time [h], above 0, in order.
    Returns
    -------
    Warming
        Both ends of each stretch, and moments between.
    Raises
    ------
    OutOfRange
        If a power or a time lies outside.
    Notes
    -----
    C dT/dt = P - Q(T) by the classical Runge-Kutta rule, steps of a minute at most. The air stands above the wall by
    what it takes to carry the stretch's power: C of the air is taken as 0.
    Source
    ------
    Lumped capacity, Incropera ch. 5 (the Biot number of a thin wall is about 0.1 and less).
    """
    checked("store (J/K)", store_j_per_k, 0.0, above=True)
    hours, numbers, walls, airs = [], [], [], []
    now_h, wall = 0.0, 0.0
    for number, (watts, lasts) in enumerate(stretches):
        if not 0 <= watts <= law.watts[-1] * (1 + 1e-9) or not lasts > 0:
            raise OutOfRange("stretch", (watts, lasts), f"0 to {law.watts[-1]:g} W and hours above 0")
        walked_h = min(lasts, SETTLED_H)
        rises = _stretch(law, store_j_per_k, watts, walked_h, wall)
        moments = list(np.linspace(0.0, walked_h, len(rises)))
        if lasts > walked_h:
            moments, rises = [*moments, lasts], [*rises, rises[-1]]
        above = float(np.interp(watts, law.watts, law.air_k - law.wall_k))
        hours += [now_h + moment for moment in moments]
        numbers += [number] * len(rises)
        walls += rises
        airs += [rise + above for rise in rises]
        now_h, wall = now_h + lasts, rises[-1]
    return Warming(np.array(hours), np.array(numbers, np.int64), np.array(walls), np.array(airs))


def _stretch(law: WarmingLaw, store_j_per_k: float, watts: float, lasts_h: float, wall_k: float) -> list[float]:
    steps = max(int(np.ceil(lasts_h * 3600 / LONGEST_STEP_S)), LEAST_STEPS)
    wide_s = lasts_h * 3600 / steps

    def slope(rise: float) -> float:
        return (watts - float(np.interp(rise, law.wall_k, law.watts))) / store_j_per_k

    rises = [wall_k]
    for _ in range(steps):
        now = rises[-1]
        a = slope(now)
        b = slope(now + wide_s / 2 * a)
        c = slope(now + wide_s / 2 * b)
        d = slope(now + wide_s * c)
        rises.append(now + wide_s / 6 * (a + 2 * b + 2 * c + d))
    return rises


def settling_h(law: WarmingLaw, store_j_per_k: float, watts: float) -> float:
    """Time until a wall at room temperature has come to nine tenths of its steady rise at a power [h]."""
    steady = float(np.interp(watts, law.watts, law.wall_k))
    if steady <= 0:
        return 0.0
    rises = np.linspace(0.0, 0.9 * steady, 200)
    rate = (watts - np.interp(rises, law.wall_k, law.watts)) / store_j_per_k
    return float(np.trapezoid(1 / rate, rises)) / 3600
