"""An LED's law from two resistors: exact at both, its span holds the truth under the meter's error, slips are refused."""

from __future__ import annotations

import itertools

import pytest

from rushlight.electric.led import DiodeLaw, current_at_voltage, law_spread, shifted, voltage_at_current
from rushlight.electric.led_read import LedReading, law_of_readings
from rushlight.errors import OutOfRange

RED = law_spread("red")


def bench(law: DiodeLaw, ohm: float, supply_v: float = 5.0) -> LedReading:
    """By halving: the LED and the resistor share the supply."""
    low, high = 0.0, supply_v
    for _ in range(80):
        volts = (low + high) / 2
        low, high = (volts, high) if float(current_at_voltage(law, volts)) < (supply_v - volts) / ohm else (low, volts)
    return LedReading(ohm, low, supply_v - low)


def test_two_readings_are_met_exactly_and_their_currents_kept() -> None:
    read = (LedReading(1000, 1.83, 3.17), LedReading(330, 1.92, 3.08))
    found = law_of_readings(read, RED)
    for one in read:  # derived: Ohm's law
        assert float(voltage_at_current(found.law, one.current_a)) == pytest.approx(one.led_v, abs=1e-9)
    assert (found.least_a, found.most_a) == pytest.approx((3.17e-3, 3.08 / 330))


def test_the_order_of_the_readings_does_not_matter() -> None:
    read = (LedReading(1000, 1.83, 3.17), LedReading(330, 1.92, 3.08))
    assert law_of_readings(read, RED).law.ideality == pytest.approx(law_of_readings(read[::-1], RED).law.ideality)


def test_the_span_holds_the_led_with_any_error_of_meter_and_resistors() -> None:
    """Every corner of 1 % and a digit of the meter, and 5 % of both resistors."""
    true = shifted(RED.typical, 0.07)
    for gain, digit, one, two in itertools.product((0.99, 1.01), (-0.01, 0.01), (0.95, 1.05), (0.95, 1.05)):
        read = []
        for ohm, off in ((1000.0, one), (330.0, two)):
            is_ = bench(true, ohm * off)
            read.append(LedReading(ohm, is_.led_v * gain + digit, is_.resistor_v * gain + digit))
        found = law_of_readings(read, RED)
        for amps in (0.003, 0.006, 0.01):
            off_v = float(voltage_at_current(true, amps) - voltage_at_current(found.law, amps))
            assert found.low_v <= off_v <= found.high_v


def test_pieces_behind_the_same_resistor_widen_the_span_and_three_narrow_the_bag() -> None:
    one = law_of_readings([bench(RED.typical, ohm) for ohm in (1000, 330)], RED)
    laws = [shifted(RED.typical, shift) for shift in (-0.04, 0.0, 0.04)]
    three = law_of_readings([bench(law, ohm) for ohm in (1000, 330) for law in laws], RED)
    assert three.high_v - three.low_v == pytest.approx(one.high_v - one.low_v - 0.1 + 0.08, abs=0.01)
    assert float(voltage_at_current(three.law, 0.005)) == pytest.approx(
        float(voltage_at_current(RED.typical, 0.005)), abs=0.005)


@pytest.mark.parametrize(("read", "says"), [
    ([(1000, 1.83, 3.17)], "two that differ"),
    ([(1000, 1.83, 3.17), (1000, 1.84, 3.16)], "two that differ"),
    ([(1000, 1.83, 3.17), (820, 1.85, 3.15)], "two that differ"),
    ([(1000, 4.99, 0.01), (330, 4.99, 0.01)], "wrong way round"),
    ([(1000, 0.65, 4.35), (330, 0.7, 4.3)], "1.2 to 4.5 V"),
    ([(1000, 1.95, 3.05), (330, 1.83, 3.17)], "exchanged"),
    ([(1000, 1.6, 3.4), (330, 2.3, 2.7)], "exchanged"),
])
def test_what_cannot_be_is_refused_with_what_to_look_at(read, says) -> None:
    with pytest.raises(OutOfRange, match=says):
        law_of_readings([LedReading(*row) for row in read], RED)
