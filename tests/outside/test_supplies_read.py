"""Cells and power banks read at the bench against textbook problems and definitions."""

from __future__ import annotations

import pytest

from rushlight.electric.cell_read import bank_share_read, inner_ohm_read
from rushlight.electric.supply import fall_ohm_read
from rushlight.errors import OutOfRange
from rushlight.units import Range


def test_a_battery_of_12_v_that_falls_to_11_5_v_at_3_a() -> None:
    """Source: Serway and Vuille, College Physics, 11th edition, chapter 18, problem 3: r = 0.167 ohm."""
    assert inner_ohm_read([12.0], [11.5], current_a=3.0).typical == pytest.approx(0.167, abs=5e-4)


def test_a_battery_of_12_v_that_falls_to_10_9_v_on_10_ohm() -> None:
    """Source: worked textbook problem (public page): 12.0 V open, 10.9 V on 10.0 ohm, answer 1.0 ohm."""
    assert inner_ohm_read([12.0], [10.9], current_a=10.9 / 10.0).typical == pytest.approx(1.0, abs=0.05)


def test_between_two_currents_as_iec_61960_reads_it() -> None:
    """Source: IEC 61960-3 (public descriptions): Rdc = (U1 - U2) / (I2 - I1), one current as good as none."""
    one, two = (inner_ohm_read([4.15], [4.15 - 0.08 * amps], current_a=amps).typical for amps in (0.8, 2.0))
    assert one == pytest.approx(two) == pytest.approx(0.08)


def test_the_ends_hold_the_meters_last_digits() -> None:
    """Source: a meter of 3 1/2 digits (2000 counts) shows 1 mV up to 1.999 V, 10 mV above."""
    fine, coarse = inner_ohm_read([1.600], [1.585], current_a=0.1), inner_ohm_read([3.20], [3.05], current_a=0.1)
    assert (fine.low, fine.high) == pytest.approx((0.13, 0.17))
    assert (coarse.low, coarse.high) == pytest.approx((1.3, 1.7))


def test_what_an_adapter_falls_by_is_the_same_law_and_one_that_holds_its_volts_has_none() -> None:
    """Source: Serway and Vuille as above; a unit that does not fall is an ideal source."""
    assert fall_ohm_read([12.0], [11.5], 3.0).typical == pytest.approx(0.167, abs=5e-4)
    stiff = fall_ohm_read([5.08], [5.08], 0.2)
    assert (stiff.low, stiff.typical, stiff.high) == pytest.approx((0.0, 0.0, 0.1))  # derived: two digits of 10 mV over 0.2 A
    assert fall_ohm_read([24.0], [23.0], 1.0).high == pytest.approx(1.2)  # derived: over 20 V a digit is 0.1 V
    with pytest.raises(OutOfRange, match="fall"):
        fall_ohm_read([12.0], [12.1], 1.0)


def test_energy_at_the_port_over_what_is_printed() -> None:
    """Source: definition W = U I t. 5000 mAh at 3.7 V are 18.5 Wh; 5 V x 0.5 A x 6 h are 15 Wh."""
    share = bank_share_read(Range.exactly(6.0), current_a=0.5, printed_mah=5000)
    assert share.typical == pytest.approx(15.0 / 18.5)
