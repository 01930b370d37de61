"""Resistors: preferred values, series value, derating, bands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.electric.resistor import (
    SERIES_SIZES,
    derated_fraction,
    rating_of,
    ratings,
    series_resistor_ohm,
    series_values,
    value_nearest,
    value_not_above,
    value_not_below,
)
from rushlight.electric.resistor_bands import colour_bands, read_bands, value_of_bands
from rushlight.errors import OutOfRange, UnknownName

RED = law_spread("red").typical


@given(st.floats(0.02, 9e8), st.sampled_from(SERIES_SIZES))
def test_chosen_value_is_never_below_and_at_most_one_step_above(ohm, steps):
    value = value_not_below(ohm, steps)
    assert value >= ohm * (1 - 1e-9)
    # derived: neighbours of a series differ by 10^(1/n), and rounding adds a few per cent
    assert value <= ohm * 10 ** (1 / steps) * 1.06
    assert abs(value_nearest(ohm, steps) / ohm - 1) <= abs(value / ohm - 1) + 1e-12


@pytest.mark.parametrize("steps", SERIES_SIZES)
def test_a_preferred_value_is_its_own_choice_in_every_decade(steps):
    for value in series_values(steps):
        for power in range(-1, 5):
            ohm = float(f"{value}e{power}")
            assert value_not_below(ohm, steps) == ohm
            assert value_nearest(ohm, steps) == ohm


def test_series_resistor_gives_back_the_current_it_was_made_for():
    ohm = series_resistor_ohm(9.0, (RED, RED), current_a=0.008, path_ohm=3.0)
    left = 9.0 - 2 * float(voltage_at_current(RED, 0.008))
    # derived: Kirchhoff's voltage law round the string
    assert (ohm + 3.0) * 0.008 == pytest.approx(left, abs=1e-12)


def test_more_volts_need_more_ohms_and_more_current_fewer():
    assert series_resistor_ohm(12.0, (RED,), current_a=0.01) > series_resistor_ohm(9.0, (RED,), current_a=0.01)
    assert series_resistor_ohm(9.0, (RED,), current_a=0.01) > series_resistor_ohm(9.0, (RED,), current_a=0.02)


def test_ratings_are_halved_by_habit_and_derated_with_heat():
    assert rating_of("axial 1/4 W").rated_w == 0.25
    assert all(r.habit_w == 0.5 * r.rated_w for r in ratings())
    assert derated_fraction(20.0) == derated_fraction(70.0) == 1.0
    # derived: half way from 70 to 155 C
    assert derated_fraction(112.5) == pytest.approx(0.5)
    assert derated_fraction(155.0) == 0.0


@given(st.floats(0.02, 5e8), st.sampled_from((6, 12, 24, 48, 96)))
def test_the_value_not_above_is_the_one_before_the_next(ohm, steps):
    below, above = value_not_above(ohm, steps), value_not_below(ohm, steps)
    assert below <= ohm * (1 + 1e-9) and above >= ohm * (1 - 1e-9)
    # derived: nothing of the series lies between
    assert value_not_below(below * (1 + 1e-6), steps) in (above, value_not_below(above * (1 + 1e-6), steps))


@given(st.sampled_from(series_values(24)), st.integers(-2, 7))
def test_bands_read_back_to_the_value(value, power):
    ohm = float(f"{value}e{power}")
    assert value_of_bands(colour_bands(ohm, 0.05)) == (pytest.approx(ohm, rel=1e-12), 0.05)


@given(st.sampled_from(series_values(96)), st.integers(-3, 6))
def test_five_bands_read_back_to_the_value(value, power):
    ohm = float(f"{value}e{power}")
    assert value_of_bands(colour_bands(ohm, 0.01, bands=5)) == (pytest.approx(ohm, rel=1e-12), 0.01)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: series_values(10), "steps is 10"),
        (lambda: value_not_below(0.0), "wanted_ohm is 0"),
        (lambda: value_nearest(1e10), "wanted_ohm"),
        (lambda: series_resistor_ohm(1.0, (RED,), current_a=0.02), "at least 2.0"),
        (lambda: series_resistor_ohm(100.0, (RED,), current_a=0.02), "supply_v is 100"),
        (lambda: series_resistor_ohm(9.0, (), current_a=0.02), "one LED or more"),
        (lambda: series_resistor_ohm(9.0, (RED,), current_a=0.0), "current_a is 0"),
        (lambda: derated_fraction(156.0), "ambient_c is 156"),
        (lambda: colour_bands(123.0, 0.05), "a value of 2 digits"),
        (lambda: colour_bands(470.0, 0.05, bands=6), "bands is 6"),
        (lambda: colour_bands(0.0, 0.05), "ohm is 0"),
        (lambda: colour_bands(9.9e11, 0.05), "power of ten"),
        (lambda: value_of_bands(("red", "red")), "4 or 5 colours"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: rating_of("0604"), "Did you mean '060"),
        (lambda: colour_bands(470.0, 0.07), "tolerance '0.07' is not known"),
        (lambda: value_of_bands(("redd", "red", "red", "gold")), "Did you mean 'red'"),
        (lambda: value_of_bands(("red", "red", "gilt", "gold")), "multiplier band"),
        (lambda: value_of_bands(("red", "red", "red", "white")), "tolerance band"),
    ],
)
def test_unknown_names_raise(call, words):
    with pytest.raises(UnknownName, match=words):
        call()


def test_bands_say_the_value_and_the_coarsest_series_that_has_it() -> None:
    read = read_bands(("Yellow", "violet", "brown", "gold"))
    assert (read.ohm, read.tolerance, read.series, read.other_way) == (470.0, 0.05, "E6", None)
    assert read_bands(("green", "brown", "brown", "gold")).series == "E24"  # 510 ohm; IEC 60063, from memory
    assert read_bands(("gray", "red", "red", "silver")).ohm == 8200.0
    assert read_bands(("violet", "gray", "violet", "black", "brown")).series == "E48"  # 787 ohm


def test_bands_read_from_the_wrong_end_are_turned() -> None:
    assert read_bands(("gold", "brown", "violet", "yellow")).ohm == 470.0  # gold is no digit: it was the other end
    odd = read_bands(("brown", "brown", "black", "violet", "yellow"))  # 1.1 Gohm of 0.02 %, or 4.7 kohm of 1 %
    assert odd.series is None and odd.other_way is not None
    assert (odd.other_way.ohm, odd.other_way.tolerance, odd.other_way.series) == (4700.0, 0.01, "E6")
    with pytest.raises(UnknownName, match="red"):
        read_bands(("redd", "red", "red", "gold"))
    with pytest.raises(OutOfRange, match="4 or 5"):
        read_bands(("red", "red"))
