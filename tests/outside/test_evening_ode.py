"""The evening's walk along each state's curve against a general solver of differential equations.

source: ds/dt = I(s) / Q(I(s)) by `scipy.integrate.solve_ivp` (RK45), switched from state to state by the clock.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from rushlight.electric.cell import Battery, ages, capacity_mah, cell
from rushlight.electric.evening import draining, spend

BATTERY = Battery(cell("LR6"), 4, 1)
AGES = ages(BATTERY, 101)
CURRENTS = (lambda v: 0.02 * v, lambda v: 0.06 * (v - 2.5), lambda v: 0.008 + 0.01 * v)
"""Currents that fall with the voltage [A], as lamps with resistors take them."""

EVENINGS = ([(0, 0.5), (1, 1.0), (2, 0.3)], [(1, 2.0), (0, 0.25)], [(2, 5.0)])


@pytest.mark.parametrize("evening", EVENINGS)
def test_the_share_used_agrees_with_a_general_solver(evening):
    volts = AGES.emf_v
    amps = np.array([law(volts) for law in CURRENTS])
    made = draining(AGES.used_fraction, amps, np.array([volts] * 3), capacity_mah(BATTERY, amps) / 1000, cut_off_v=0.0)
    spent = spend(made, evening)
    used = 0.0
    for spell in spent.spells[:12]:
        def rate(_, s, state=spell.state):
            current = np.interp(np.clip(s, 0, 1), AGES.used_fraction, amps[state])
            return current / (capacity_mah(BATTERY, current) / 1000)

        used = solve_ivp(rate, (0.0, spell.to_h - spell.from_h), [used], rtol=1e-8, atol=1e-10).y[0, -1]
        assert spell.to_used == pytest.approx(used, abs=5e-4)  # the trapezium over 100 ages
