"""Air through two equal holes, one above the other.

source: ASHRAE Handbook, Fundamentals, ventilation: Q = C_D A sqrt(2 g dH_NPL (T_i - T_o) / T_i), the neutral level half
way between equal openings (from memory); reckoned by hand: A 0.01 m2, 2 m apart, 305 K in 295 K: 0.6 x 0.01 x
sqrt(2 x 9.80665 x 1 x 10 / 305) = 0.004811 m3/s; air of 1.1965 kg/m3 (ideal gas at 295 K) and 1006 J/kg K: 57.9 W.
"""

from __future__ import annotations

import pytest

from rushlight.thermal.stack import VENT_RISE, vent_w


def test_a_stack_of_two_metres() -> None:
    heat_w = vent_w(2 * 0.01e6, 10.0, height_mm=2000.0 / VENT_RISE, room_c=295.0 - 273.15)
    assert heat_w == pytest.approx(57.9, abs=0.2)  # source: by hand, as above
