"""Regulators at the bench: each one's test before it is soldered in, and what stands across it at the gate."""

from __future__ import annotations

import math

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.electric.regulator import regulator_current
from rushlight.findings import find
from rushlight.findings._words import plain
from rushlight.sheets import gates
from rushlight.sheets.meter_use import mind, use_of_reading
from rushlight.stages.at_hand import resistors_sold
from rushlight.stages.regulator_test import part_test
from rushlight.stages.regulators import part_law

LAMPS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: [day, night]}}"
    for k in range(2))


def made_of(cells: int = 6, part: str = "linear regulator 20 mA"):
    pins = f'pinned: [{{of: A, choice: regulator, value: "{part}"}}, {{of: A, choice: current_ma, value: "20"}}]\n'
    return designed(board(LAMPS, more=pins, supply=f"supply: {{kind: cells, cell: AA, in_series: {cells}, bay: bay}}\n"))


def step_of(made, key):
    return next((step for step in made.order.steps if step.key == key), None)


def test_the_test_stands_before_any_wire_is_cut_and_is_asked_only_where_there_are_regulators():
    made = made_of()
    assert step_of(made, "test_regulators").number < step_of(made, "cut_wire").number
    assert step_of(designed(board(LAMPS)), "test_regulators") is None


def test_which_end_is_which_and_how_it_is_tested_stands_in_the_step():
    step = step_of(made_of(), "test_regulators")
    words = " ".join(step.details)
    assert "the ring is the cathode and points to the LED's plus" in words and "no LED yet" in words
    (reading,) = step.readings
    # source: spread of the data sheet, 18 to 22 mA steady, 25.15 mA at most in a pulse; a meter's 3 %
    assert 14 < reading.reading.low < 18 and 22 < reading.reading.high <= 25.15 * 1.03
    assert reading.dial == "200 mA DC" and reading.unit == "mA"


@pytest.mark.parametrize("part", [row.name for row in PACKAGED.regulators])
@pytest.mark.parametrize("fresh", [3.0, 4.8, 9.6, 12.0, 24.0])
def test_a_turned_part_is_told_from_a_right_one_and_neither_is_harmed(part, fresh):
    row = PACKAGED.regulator(part)
    test = part_test(row, fresh_v=fresh, nominal_v=0.9 * fresh, drop_out_v=2.2, resistors=resistors_sold(PACKAGED))
    # derived: no part passes more than the resistor alone would let through
    assert test.right_a.low <= test.right_a.typical <= test.right_a.high <= fresh / test.resistor_ohm
    assert test.turned_a < 5.1 * row.current_ma.typical / 1000
    if fresh >= 9:
        assert test.turned_a > 1.25 * test.right_a.high


def test_the_first_moment_obeys_kirchhoffs_voltage_law():
    """Second method: cold, the strongest part at 22 degC beside its resistor, straight from the law."""
    row = PACKAGED.regulator("linear regulator 20 mA")
    test = part_test(row, fresh_v=9.6, nominal_v=9.0, drop_out_v=2.2, resistors=resistors_sold(PACKAGED))
    law = part_law(row).times(22 / 20 * math.exp(-row.fall_per_k * (22 - row.test_junction_c)))
    left_v = 9.6 - test.right_a.high * test.resistor_ohm
    assert float(regulator_current(law, left_v)) == pytest.approx(test.right_a.high, rel=1e-9)


@pytest.mark.parametrize("state", ["day", "night"])
def test_at_least_the_drop_out_stands_across_one_that_holds(state):
    made = made_of()
    row = made.power.regulators[0]
    reading = next(one for one in step_of(made, "bench_test").readings
                   if one.name.startswith("across the regulator") and one.state == state)
    # derived: 0.9 of the current by the part's law; the sheet says 85 % at 1.8 V
    assert 1.8 < row.drop_out_v < 2.5
    assert row.drop_out_v <= reading.reading.low < reading.reading.typical < reading.reading.high
    assert reading.reading.high < made.power.supply.fresh_v
    words = " ".join(step_of(made, "bench_test").details)
    assert f"{row.drop_out_v:.1f} V or more" in words and f"flat supply {row.flat_v:.1f} V" in words


def test_one_that_the_supply_leaves_too_little_is_told_as_it_is():
    made = made_of(cells=3)
    row = made.power.regulators[0]
    reading = next(one for one in step_of(made, "bench_test").readings if one.name.startswith("across the regulator"))
    assert row.flat_v < row.drop_out_v
    assert reading.reading.low <= reading.reading.typical <= reading.reading.high


def test_the_book_draws_the_meter_for_both():
    made = made_of()
    one, across = (step_of(made, key) for key in ("test_regulators", "bench_test"))
    assert use_of_reading(one.readings[0]).where == "a part"
    use = next(use for use in map(use_of_reading, across.readings) if use.where == "regulator")
    assert any("drop-out" in words for words in mind(use))
    text = str(gates.draw(made))
    assert "'ring'" in text and "regulator" in text and "Resistor of 240 ohm" in text


def test_what_it_wants_is_told_alike_by_the_finding_and_the_gate():
    made = made_of(cells=3)
    row = made.power.regulators[0]
    says = next(one.says for one in find(made) if one.key == "electric.regulator-drops-out")
    assert f"it wants about {plain(row.drop_out_v)} V" in says and row.flat_v < row.drop_out_v
