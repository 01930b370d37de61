"""Diode laws: both directions, shifts, fit, table."""

import numpy as np
import pytest

from rushlight.electric.led import (
    THERMAL_V,
    DiodeLaw,
    at_temperature,
    current_at_voltage,
    fitted_law,
    law_names,
    law_spread,
    shifted,
    side_by_side,
    voltage_at_current,
)
from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import rows

RED = DiodeLaw(9.66e-18, 2.102, 4.12)


def bisected(law: DiodeLaw, volts: float) -> float:
    """The same current by halving: a second method."""
    low, high = -law.saturation_a * (1 - 1e-9), 1e3
    for _ in range(300):
        middle = 0.5 * (low + high)
        if law.slope_v * np.log1p(middle / law.saturation_a) + law.series_ohm * middle < volts:
            low = middle
        else:
            high = middle
    return low


@pytest.mark.parametrize("key", law_names())
def test_both_directions_agree_over_the_range(key):
    for law in (law_spread(key).low, law_spread(key).typical, law_spread(key).high):
        amps = np.logspace(-9, -0.5, 200)
        volts = voltage_at_current(law, amps)
        assert np.all(np.diff(volts) > 0)
        back = current_at_voltage(law, volts)
        assert np.allclose(back, amps, rtol=1e-9, atol=1e-9 * law.saturation_a)
        assert current_at_voltage(law, 2.0) == pytest.approx(bisected(law, 2.0), rel=1e-8)


def test_reverse_current_never_passes_saturation():
    amps = current_at_voltage(RED, np.linspace(-50, 0, 100))
    assert np.all(amps <= 1e-30) and np.all(amps >= -RED.saturation_a)


def test_red_drops_two_volts_at_20_ma():
    # source: fit target, typical red AlGaInP data sheet, from memory
    assert voltage_at_current(RED, 0.02) == pytest.approx(2.0, abs=0.005)


def test_low_law_conducts_at_a_lower_voltage_and_high_at_a_higher():
    for key in law_names():
        spread = law_spread(key)
        low, mid, high = (float(voltage_at_current(law, 0.01)) for law in (spread.low, spread.typical, spread.high))
        row = next(r for r in rows("led_laws") if r["key"] == key)
        assert low == pytest.approx(mid + float(row["spread_low_v"]), abs=3e-5)
        assert high == pytest.approx(mid + float(row["spread_high_v"]), abs=3e-5)


def test_tabled_laws_fit_the_points_beside_them():
    columns = ("at_1ma_v", "at_5ma_v", "at_10ma_v", "at_20ma_v", "at_30ma_v")
    checked = 0
    for row in rows("led_laws"):
        if row["at_1ma_v"]:
            points = [float(row[column]) for column in columns]
            law = law_spread(row["key"]).typical
            drops = voltage_at_current(law, np.array([0.001, 0.005, 0.01, 0.02, 0.03]))
            assert np.all(np.abs(drops - points) < 0.012), row["key"]
            checked += 1
    assert checked >= 10


def test_fit_returns_the_law_that_made_the_points():
    amps = np.array([0.001, 0.005, 0.01, 0.02, 0.03])
    law = fitted_law(amps, voltage_at_current(RED, amps))
    assert law.ideality == pytest.approx(RED.ideality, rel=1e-6)
    assert law.series_ohm == pytest.approx(RED.series_ohm, rel=1e-6)
    assert law.saturation_a == pytest.approx(RED.saturation_a, rel=1e-4)


def test_fit_meets_its_exact_point_and_never_gives_a_negative_resistance():
    amps = [0.001, 0.01, 0.02, 0.03]
    law = fitted_law(amps, [1.6, 1.78, 1.8, 1.81])
    assert voltage_at_current(law, 0.02) == pytest.approx(1.8, abs=1e-9)
    assert law.series_ohm >= 0.01


def test_warmth_lowers_the_forward_voltage_by_two_millivolts_a_kelvin():
    drops = [float(voltage_at_current(at_temperature(RED, c), 0.02)) for c in (-40.0, 27.0, 60.0, 130.0)]
    assert drops[1] == pytest.approx(float(voltage_at_current(RED, 0.02)), abs=1e-12)
    # source: -2 mV/K, from memory
    assert drops[2] - drops[1] == pytest.approx(-0.066, abs=1e-6)
    assert drops == sorted(drops, reverse=True)


def test_thermal_voltage():
    # source: electron charge and Boltzmann constant of the SI, 300.15 K
    assert pytest.approx(0.025865, abs=1e-6) == THERMAL_V


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: DiodeLaw(0.0, 2.0, 1.0), "saturation_a is 0"),
        (lambda: DiodeLaw(1e-18, 0.1, 1.0), "ideality is 0.1"),
        (lambda: DiodeLaw(1e-18, 2.0, 0.0), "series_ohm is 0"),
        (lambda: current_at_voltage(RED, float("nan")), "voltage_v is nan"),
        (lambda: voltage_at_current(RED, -1.0), "current_a is -1"),
        (lambda: shifted(RED, 2.0), "shift_v is 2"),
        (lambda: at_temperature(RED, 200.0), "junction_c is 200"),
        (lambda: fitted_law([0.01, 0.02], [2.0, 2.1]), "three or more points"),
        (lambda: fitted_law([0.001, 0.01, 0.02], [2.2, 2.1, 2.0]), "rise with current"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_unknown_colour_names_the_nearest():
    with pytest.raises(UnknownName, match="Did you mean 'warm_white'"):
        law_spread("warm white")


@pytest.mark.parametrize("count", [1, 7, 1000])
def test_like_diodes_side_by_side_are_one_with_the_sum_of_their_currents(count):
    law = law_spread("warm_white").typical
    for volts in (2.2, 2.6, 3.0, 3.3):
        # derived: Kirchhoff's current law
        assert current_at_voltage(side_by_side(law, count), volts) == pytest.approx(count * current_at_voltage(law, volts), rel=1e-12)


def test_no_diodes_side_by_side_are_refused():
    with pytest.raises(OutOfRange, match="count is 0"):
        side_by_side(law_spread("red").typical, 0)
