"""On-resistance of P-channel MOSFETs against points of their data sheets that the law was not given.

Sources: data sheets AO3401A revision 3 and AO3415 revision 7 (typical and most on-resistance at 25 C, read in public
copies). Each middle point is left out in turn and foretold from its neighbours.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from rushlight.electric.driver import driver_bears_a, driver_type_for, driver_types, on_ohm
from rushlight.errors import OutOfRange

KINDS = {kind.key: kind for kind in driver_types()}


@pytest.mark.parametrize(("key", "gate_v", "typical_ohm", "most_ohm"),
                         [("gate_2_5_v", 4.5, 0.047, 0.060), ("gate_1_8_v", 2.5, 0.042, 0.053)])
def test_a_point_that_is_left_out_is_foretold(key: str, gate_v: float, typical_ohm: float, most_ohm: float) -> None:
    kind = KINDS[key]
    without = replace(kind, on_ohm=tuple(point for point in kind.on_ohm if point[0] != gate_v))
    assert on_ohm(without, gate_v) == pytest.approx((typical_ohm, most_ohm), rel=0.08)
    assert on_ohm(kind, gate_v) == pytest.approx((typical_ohm, most_ohm))


def test_below_its_gate_voltage_it_is_not_on_and_over_it_it_dies() -> None:
    for kind in driver_types():
        for gate_v in (0.9 * kind.least_v, 1.01 * kind.gate_most_v):
            with pytest.raises(OutOfRange):
                on_ohm(kind, gate_v)
        assert on_ohm(kind, kind.gate_most_v)[0] == kind.on_ohm[-1][1]


@pytest.mark.parametrize(("fresh_v", "flat_v", "key"), [
    (5.6, 4.0, "gate_2_5_v"),  # four rechargeable cells
    (3.2, 2.2, "gate_1_8_v"),  # two AA, or one lithium button cell
    (12.6, 11.4, "gate_4_5_v"),  # an adapter of 12 V: over what a 12 V gate should get
    (24.0, 23.0, None), (12.0, 2.0, None),
])
def test_the_supply_chooses_the_gate(fresh_v: float, flat_v: float, key: str | None) -> None:
    found = driver_type_for(fresh_v, flat_v)
    assert (found.key if found else None) == key


def test_it_bears_what_warms_it_as_far_as_it_may() -> None:
    """By hand: 85 milliohm, half as much again hot, 250 K/W, 60 K: 1.37 A; half of the rating is 2 A."""
    kind = KINDS["gate_2_5_v"]
    amps = driver_bears_a(kind, 2.5)
    assert amps == pytest.approx((60 / (250 * 1.5 * 0.085)) ** 0.5) and 1.3 < amps < 1.4
    assert driver_bears_a(kind, 10.0) > amps
