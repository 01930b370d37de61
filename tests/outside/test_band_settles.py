"""How soon the wall under a strip settles, against the heat equation solved by SciPy's general solver.

F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, ch. 3 (fins) and 5 (transient conduction): a thin
wall with a heated band loses h (T - T_air) from its two faces. Method of lines, 0.5 mm cells, `solve_ivp` (BDF).
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from rushlight.thermal.led_rise import BOTH_FACES_W_PER_M2K, WALL_W_PER_MK, strip_wall_rise_k
from rushlight.thermal.warming import DENSITY_KG_PER_M3, HEAT_J_PER_KGK

CELL_M = 0.5e-3
CELLS = 200


def middle_k(power_w_per_m: float, width_mm: float, wall_mm: float, seconds: float) -> float:
    """Rise at the middle of the band after so long; half of the wall, symmetric."""
    store = DENSITY_KG_PER_M3 * HEAT_J_PER_KGK * wall_mm / 1000
    across = (np.arange(CELLS) + 0.5) * CELL_M
    heated = np.clip((width_mm / 2000 - (across - CELL_M / 2)) / CELL_M, 0.0, 1.0)
    source = heated * power_w_per_m / (width_mm / 1000)
    along = WALL_W_PER_MK * wall_mm / 1000 / CELL_M**2

    def law(_: float, rise: np.ndarray) -> np.ndarray:
        padded = np.concatenate([rise[:1], rise, [0.0]])
        return (source - BOTH_FACES_W_PER_M2K * rise + along * (padded[2:] - 2 * rise + padded[:-2])) / store

    return float(solve_ivp(law, (0.0, seconds), np.zeros(CELLS), method="BDF", rtol=1e-6, atol=1e-6).y[0, -1])


@pytest.mark.parametrize(("power_w_per_m", "width_mm", "wall_mm"), [(5.0, 8.0, 1.0), (2.0, 10.0, 1.5), (8.0, 5.0, 0.75)])
def test_the_settled_rise_is_never_passed_and_nearly_reached_within_minutes(
    power_w_per_m: float, width_mm: float, wall_mm: float
) -> None:
    settled = strip_wall_rise_k(power_w_per_m, width_mm=width_mm, wall_mm=wall_mm).typical
    later = middle_k(power_w_per_m, width_mm, wall_mm, 1800.0)
    assert later == pytest.approx(settled, rel=0.02)
    assert middle_k(power_w_per_m, width_mm, wall_mm, 300.0) <= settled * 1.01
    assert middle_k(power_w_per_m, width_mm, wall_mm, 300.0) >= 0.85 * settled
