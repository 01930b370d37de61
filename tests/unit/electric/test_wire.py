"""Wire by gauge: trends and edges."""

import numpy as np
import pytest

from rushlight.electric.wire import (
    area_mm2,
    bundled_a,
    diameter_mm,
    fusing_a,
    single_wire_a,
    thinnest_for,
    wire_ohm_per_m,
)
from rushlight.errors import OutOfRange, UnknownName


def test_thinner_gauges_are_thinner_resist_more_and_carry_less():
    gauges = range(-3, 51)
    assert np.all(np.diff([diameter_mm(g) for g in gauges]) < 0)
    assert np.all(np.diff([wire_ohm_per_m(g) for g in gauges]) > 0)
    assert np.all(np.diff([bundled_a(g) for g in gauges]) < 0)


def test_resistance_times_area_is_the_resistivity_of_copper():
    for gauge in range(18, 41):
        # source: IEC 60028, 1.7241e-8 ohm m at 20 C
        assert wire_ohm_per_m(gauge) * area_mm2(gauge) * 1e-6 == pytest.approx(1.7241e-8, rel=1e-12)


def test_warm_copper_resists_more():
    # source: IEC 60028, 0.00393 per kelvin
    assert wire_ohm_per_m(30, 70.0) / wire_ohm_per_m(30, 20.0) == pytest.approx(1 + 0.00393 * 50)


def test_six_gauges_halve_the_diameter_nearly():
    # derived: 92^(6/39) = 2.005
    assert diameter_mm(24) / diameter_mm(30) == pytest.approx(2.005, abs=0.001)


def test_plan_current_is_below_the_hard_limit_and_far_below_fusing():
    for gauge in (24, 26, 28, 30, 32, 34, 36):
        assert bundled_a(gauge) < single_wire_a(gauge) < fusing_a(diameter_mm(gauge))


def test_thinnest_wire_carries_and_the_next_thinner_does_not():
    gauge = thinnest_for(0.1)
    assert bundled_a(gauge) >= 0.1 > bundled_a(gauge + 2)
    assert thinnest_for(0.05, (24, 28)) == 28


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: diameter_mm(60), "gauge_awg is 60"),
        (lambda: wire_ohm_per_m(30, 200.0), "temp_c is 200"),
        (lambda: single_wire_a(40), "handbook current"),
        (lambda: fusing_a(0.0), "diameter_mm is 0"),
        (lambda: thinnest_for(100.0), "current_a is 100"),
        (lambda: thinnest_for(-1.0), "current_a is -1"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_gauge_without_a_row():
    with pytest.raises(UnknownName, match="parts_wire_awg awg '31'"):
        single_wire_a(31)
