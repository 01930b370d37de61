"""The driver of a controller channel against the common rules for a transistor as a switch.

Sources: usual data sheets of small NPN transistors state saturation at a forced gain of 10 to 20 (collector current
over base current); a silicon base takes about 0.7 V. Common practice, no source beyond that.
"""

from __future__ import annotations

from rushlight.electric.driver import driver_types
from rushlight.stages.rhythms import value

PIN_V, BASE_V, FORCED_GAIN = 3.0, 0.7, 20.0
FLOATING_A = 1e-6
"""Leakage of a pin that is not driven yet (usual data sheets of small controllers: at most 1 uA)."""


def test_the_pin_saturates_the_transistor_at_the_highest_voltage() -> None:
    base_a = (PIN_V - BASE_V) / value("driver_base_ohm") - BASE_V / value("driver_base_down_ohm")
    collector_a = max(kind.most_v for kind in driver_types()) / value("driver_gate_ohm")
    assert collector_a < FORCED_GAIN * base_a


def test_a_floating_pin_leaves_the_circuit_dark() -> None:
    assert FLOATING_A * value("driver_base_down_ohm") < 0.1 * BASE_V


def test_the_pin_gives_no_more_than_a_milliampere() -> None:
    """Pins of small controllers bear some milliamperes each (usual data sheets: 4 mA and more)."""
    assert (3.3 - BASE_V) / value("driver_base_ohm") < 4e-3
