"""Resistors, currents, run times, the switch, the supply."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.electric.elements import CLOSED_SWITCH_OHM
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.sheets.power import supply_table
from rushlight.stages.network import JOINT_OHM, PLUG_OHM
from rushlight.stages.power import DIM_SHARE
from rushlight.stages.resistance_spread import contact_ohm

RED = "{name: a, part: board, at_mm: [20, 50], colour: red, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
TWO = RED + "\n{name: b, part: board, at_mm: [60, 50], colour: red, model_mm: 3, states: night, brightness: {intensity_mcd: 100}}"


def test_the_resistor_is_ohms_law_and_the_next_e24_value() -> None:
    made = designed(board(RED))
    amps, aim = made.power.aims[0].aim_a, made.power.aims[0]
    # derived: as warm as it gets 2 mV less a kelvin over 27 degC (led_voltage_temperature.csv)
    led_v = float(voltage_at_current(law_spread("red").typical, amps)) - 0.002 * (aim.junction_c - 27)
    row = made.power.resistors[0]
    assert row.exact_ohm == pytest.approx((12 - led_v) / amps, rel=0.005)  # derived: Ohm's law, wires of some 0.1 ohm
    assert row.value_ohm >= row.exact_ohm
    assert row.value_ohm / row.exact_ohm < 1.11  # source: IEC 60063, E24 steps are at most 10 %
    assert row.dissipated_w <= 0.5 * row.rating_w  # source: habit, common practice


def test_each_state_lights_its_own_circuit() -> None:
    made = designed(board(TWO))
    assert [[row.emitter for row in state.lit] for state in made.power.states] == [["a"], ["b"]]
    assert made.power.switch is not None and made.power.switch.poles == 1


def test_supply_current_is_the_sum_and_spread_follows_the_leds() -> None:
    state = designed(board(RED)).power.states[0]
    assert state.supply_a.low < state.supply_a.typical < state.supply_a.high
    assert state.supply_a.typical == pytest.approx(state.lit[0].current_a.typical, abs=1e-7)


def test_a_flat_supply_dims_and_a_fresh_one_brightens() -> None:
    row = designed(board(RED, supply=SUPPLY_AA)).power.states[0].lit[0]
    assert row.flat_a < row.current_a.typical < row.fresh_a


def test_run_time_is_charge_over_current_within_the_cells_law() -> None:
    made = designed(board(RED, supply=SUPPLY_AA))
    state = made.power.states[0]
    charge_mah = 3100  # source: LR6 at its smallest published current, some 2900 mAh (parts_batteries, electric notes)
    assert state.run_time_h.typical < charge_mah / 1000 / state.supply_a.typical * 1.6
    assert state.run_time_h.typical > 500 / 1000 / state.supply_a.typical
    assert state.run_time_h.low <= 0.76 * state.run_time_h.typical  # source: spread of at least 25 %


def test_an_adapter_never_runs_out() -> None:
    assert math.isinf(designed(board(RED)).power.states[0].run_time_h.typical)


def test_flashing_saves_its_dark_share() -> None:
    held = "pinned: [{of: a, choice: current_ma, value: '5'}]\n"  # a flash would get more, to look as bright
    steady, flashing = (
        designed(board(RED.replace("states: day", f"states: day{rhythm}"), supply=SUPPLY_AA, more=held)).power.states[0]
        for rhythm in ("", ", rhythm: Iso 4s")
    )
    assert flashing.mean_a == pytest.approx(flashing.supply_a.typical / 2, rel=1e-6)  # derived: lit half of the time
    assert 0.99 < flashing.mean_a / (steady.mean_a / 2) < 1  # and so it stays cooler
    assert flashing.run_time_h.typical > 1.9 * steady.run_time_h.typical


def test_the_evening_weighs_states_by_their_minutes() -> None:
    """On four cells, so that no lamp goes out before the charge is used up."""
    text = board(TWO, supply=SUPPLY_AA.replace("in_series: 3", "in_series: 4"))
    made = designed(text.replace("{name: day}, {name: night}", "{name: day, minutes: 60}, {name: night, minutes: 60}"))
    assert made.power.evening_h is not None and made.power.evening is not None
    assert all(row.last_share > DIM_SHARE for row in made.power.evening.faded)
    first, second = (state.run_time_h.typical for state in made.power.states)
    assert made.power.evening_h.typical == pytest.approx(2 / (1 / first + 1 / second))  # derived: equal shares of charge


def test_without_supply_it_says_so() -> None:
    made = designed(board(RED, supply=""))
    assert made.power.faults == ("the plan names no supply",) and made.power.states == ()


def test_a_supply_too_low_leaves_a_dark_lamp_and_a_least_resistor() -> None:
    blue = RED.replace("colour: red", "colour: blue")
    made = designed(board(blue, supply="supply: {kind: cells, cell: AA, in_series: 1, bay: bay}\n"))
    assert made.power.resistors[0].exact_ohm < 0
    assert made.power.states[0].lit[0].current_a.typical < 1e-4


def test_cells_are_tried_in_their_bay() -> None:
    assert designed(board(RED, supply=SUPPLY_AA)).power.supply.fits_bay is True
    big = "supply: {kind: cells, cell: D, in_series: 4, bay: bay}\n"
    assert designed(board(RED, supply=big)).power.supply.fits_bay is False


def test_a_pinned_resistor_holds() -> None:
    made = designed(board(RED, more="pinned: [{of: a, choice: resistor_ohm, value: \"1500\"}]\n"))
    assert made.power.resistors[0].value_ohm == 1500


def test_the_fuse_bears_the_load() -> None:
    plan = designed(board(RED)).power.supply
    assert plan.fuse_a is not None
    assert plan.fuse_a * 0.75 >= designed(board(RED)).power.states[0].supply_a.high


def test_the_protection_board_of_lithium_cells_is_told() -> None:
    """All out at once at 2.3 to 3.0 V a cell, which other cells do not do."""
    supply = "supply: {kind: cells, cell: 18650, in_series: 2, bay: bay}\n"
    rows = {row[0]: str(row[1]) for row in supply_table(designed(board(RED, supply=supply))).rows}
    assert "at 4.6 V to 6 V" in rows["When spent"] and "2.5 A" in rows["When spent"]
    assert "When spent" not in {row[0] for row in supply_table(designed(board(RED, supply=SUPPLY_AA))).rows}


def test_the_loom_is_solved_with_the_typical_contacts_of_the_table() -> None:
    """The worst case spreads about them: they must not part."""
    typical = {what: contact_ohm(what).typical for what in ("soldered joint", "plug contact", "switch contact")}
    assert typical == {"soldered joint": JOINT_OHM, "plug contact": PLUG_OHM, "switch contact": CLOSED_SWITCH_OHM}
