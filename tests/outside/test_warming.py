"""Warming over time: a handbook's lumped-capacity example, and the same box face by face by a general solver.

source: Incropera, Fundamentals of Heat and Mass Transfer, example 5.1 (from memory): a thermocouple junction of 0.706 mm,
8500 kg/m3, 400 J/kg K, h = 400 W/m2 K, goes from 25 C to within 1 K of a gas at 200 C in 5.2 s.
source: `scipy.integrate.solve_ivp` (LSODA) on the balance of each face and of the air by itself.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from rushlight.thermal import enclosure
from rushlight.thermal.enclosure import Box
from rushlight.thermal.warming import DENSITY_KG_PER_M3, HEAT_J_PER_KGK, WarmingLaw, settling_h, wall_j_per_k, warmed

ROOM_C = 22.0


def test_the_thermocouple_of_the_handbook():
    wide_m = 7.06e-4
    area_m2 = math.pi * wide_m**2
    store = 8500 * 400 * math.pi * wide_m**3 / 6
    gives = 400 * area_m2  # W/K
    rise = np.array([0.0, 175.0])
    law = WarmingLaw(gives * rise, rise, rise)
    made = warmed(law, store, [(float(gives * 175), 5.2 / 3600)])
    assert made.wall_k[-1] == pytest.approx(174.0, abs=0.1)
    assert settling_h(law, store, float(gives * 175)) * 3600 == pytest.approx(store / gives * math.log(10), rel=0.01)


@pytest.mark.parametrize(("box", "stretches"), [
    (Box(300.0, 100.0, 60.0), [(4.0, 0.5), (1.0, 0.4), (6.0, 1.0)]),
    (Box(120.0, 50.0, 30.0, 1.0), [(1.5, 0.3), (0.2, 0.2), (0.8, 0.5)]),
])
def test_face_by_face_it_comes_to_the_same(box, stretches):
    most = max(watts for watts, _ in stretches)
    watts = np.linspace(0.0, most, 9)
    steady = [(0.0, 0.0), *(enclosure._air_rise_k(box, float(w), ROOM_C, inner_radiation=False) for w in watts[1:])]
    law = WarmingLaw(watts, np.array([wall for _, wall in steady]), np.array([air for air, _ in steady]))
    made = warmed(law, wall_j_per_k(box), stretches)
    faces = enclosure._faces(box)
    stores = [area * box.wall_mm / 1000 * DENSITY_KG_PER_M3 * HEAT_J_PER_KGK for area, _, _ in faces]
    air_store = 5.0  # the air and some wiring [J/K]

    def slope(_, rises, power):
        air, total, out = rises[-1], 0.0, []
        for (area, length_m, kind), wall, store in zip(faces, rises[:-1], stores, strict=True):
            drop = max(air - wall, 0.0)
            into = enclosure._inside_w_per_m2(drop, ROOM_C + air - drop / 2, length_m, kind, False)
            away = enclosure._outside_w_per_m2(max(wall, 0.0), ROOM_C, length_m, kind)
            total += area * into
            out.append(area * (into - away) / store)
        return [*out, (power - total) / air_store]

    rises = np.zeros(len(faces) + 1)
    areas = np.array([area for area, _, _ in faces])
    for number, (power, hours) in enumerate(stretches):
        rises = solve_ivp(slope, (0, hours * 3600), rises, args=(power,), method="LSODA", rtol=1e-6, atol=1e-6).y[:, -1]
        last = np.flatnonzero(made.stretch == number)[-1]
        wall = float(rises[:-1] @ areas / areas.sum())
        assert made.wall_k[last] == pytest.approx(wall, rel=0.08, abs=0.15)
        assert made.air_k[last] == pytest.approx(rises[-1], rel=0.08, abs=0.3)
