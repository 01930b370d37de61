"""Cells: rate law, ages, run time."""

import numpy as np
import pytest

from rushlight.electric.cell import (
    Battery,
    ages,
    capacity_mah,
    cell,
    cell_keys,
    discharge,
    fitted_rate_law,
    inner_ohm,
    open_circuit_v,
    uses_of,
)
from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import rows


@pytest.mark.parametrize("key", cell_keys())
def test_every_cell_falls_in_capacity_with_rate_and_in_voltage_with_use(key):
    battery = Battery(cell(key), 1)
    rate = battery.cell.rate
    amps = np.linspace(rate.least_a, rate.most_a, 100)
    assert np.all(np.diff(capacity_mah(battery, amps)) < 0)
    assert capacity_mah(battery, 0.0) == capacity_mah(battery, rate.least_a)
    used = np.linspace(0, 1, 101)
    assert np.all(np.diff(open_circuit_v(battery, used)) <= 0)
    assert np.all(np.diff(inner_ohm(battery, used)) > 0)
    assert battery.cell.cut_off_v <= open_circuit_v(battery, 1.0) + 0.21
    assert battery.cell.time_spread.low <= 0.75 and battery.cell.time_spread.high >= 1.25


def test_capacities_of_the_table_are_met():
    for key in cell_keys():
        for use in uses_of(key):
            law = cell(key, use).rate
            for row in rows("cell_capacity"):
                if (row["cell"], row["use"]) == (key, use):
                    found = float(law.capacity_mah(float(row["current_ma"]) / 1000))
                    # derived: worst error of the fit in the project's study was 5.9 % (6LR61)
                    assert found == pytest.approx(float(row["capacity_mah"]), rel=0.06), (key, row["current_ma"])


def test_fit_returns_the_law_that_made_the_points():
    amps = np.array([0.02, 0.1, 0.3, 0.9])
    law = fitted_rate_law(amps, 2000 / (1 + (amps / 0.4) ** 1.1))
    assert law.full_mah == pytest.approx(2000, rel=1e-3)
    assert law.knee_a == pytest.approx(0.4, rel=5e-3)
    assert law.exponent == pytest.approx(1.1, rel=5e-3)


def test_series_adds_volts_and_ohms_parallel_adds_charge_and_shares_ohms():
    one, many = Battery(cell("LR6"), 1), Battery(cell("LR6"), 4, 2)
    assert open_circuit_v(many, 0.3) == pytest.approx(4 * open_circuit_v(one, 0.3))
    assert inner_ohm(many, 0.3) == pytest.approx(2 * inner_ohm(one, 0.3))
    assert capacity_mah(many, 0.2) == pytest.approx(2 * capacity_mah(one, 0.1))


def test_steady_current_lasts_the_capacity_over_the_current():
    battery = Battery(cell("HR6"), 1)
    at = ages(battery, 200)
    result = discharge(battery, at, np.full(200, 0.4))
    # derived: Q(I) / I, less the little that the cut-off leaves in the cell
    assert result.run_time_h.typical == pytest.approx(float(capacity_mah(battery, 0.4)) / 400, rel=0.03)
    assert result.run_time_h.typical <= float(capacity_mah(battery, 0.4)) / 400


def test_resistive_load_against_small_steps_of_charge():
    battery = Battery(cell("LR6"), 6)
    at = ages(battery, 101)
    result = discharge(battery, at, at.emf_v / (100.0 + at.inner_ohm), cut_off_v=6.6)
    # derived: the same sum by short steps of time
    used, hours = 0.0, 0.0
    while True:
        emf, ohm = float(open_circuit_v(battery, used)), float(inner_ohm(battery, used))
        amps = emf / (100.0 + ohm)
        if amps * 100.0 < 6.6:
            break
        used += amps * 0.01 / float(capacity_mah(battery, amps)) * 1000
        hours += 0.01
    assert result.run_time_h.typical == pytest.approx(hours, rel=0.01)
    assert result.ended_by == "cut-off"
    assert np.all(np.diff(result.terminal_v) < 0) and result.terminal_v[-1] >= 6.6


def test_more_current_means_less_time_and_a_higher_cut_off_too():
    battery = Battery(cell("6LR61"), 1)
    at = ages(battery)
    times = [discharge(battery, at, np.full(21, amps)).run_time_h.typical for amps in (0.0, 0.01, 0.02, 0.05, 0.1)]
    assert times == sorted(times, reverse=True) and np.isfinite(times[0])
    low, high = (discharge(battery, at, np.full(21, 0.02), cut_off_v=v).run_time_h for v in (6.0, 7.5))
    assert low.typical > high.typical
    assert discharge(battery, at, np.full(21, 0.02), cut_off_v=9.9).run_time_h.high == 0.0


def test_empty_without_meeting_the_cut_off():
    battery = Battery(cell("HR6"), 1)
    at = ages(battery)
    assert discharge(battery, at, np.full(21, 0.0)).ended_by == "empty"


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Battery(cell("LR6"), 0), "cells is"),
        (lambda: fitted_rate_law([0.1, 0.2], [5, 4]), "three or more"),
        (lambda: fitted_rate_law([0.1, 0.2, 0.3], [5, 6, 4]), "falling or level"),
        (lambda: open_circuit_v(Battery(cell("LR6"), 1), 1.1), "used_fraction is 1.1"),
        (lambda: capacity_mah(Battery(cell("LR6"), 1), 7.0), "current_a is 7"),
        (lambda: capacity_mah(Battery(cell("LR6"), 1), -1.0), "current_a is -1"),
        (lambda: ages(Battery(cell("LR6"), 1), 1), "count is 1"),
        (lambda: discharge(Battery(cell("LR6"), 1), ages(Battery(cell("LR6"), 1)), [0.1]), "one for each of the 21"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_unknown_cell_and_use():
    with pytest.raises(UnknownName, match="cell_kinds cell 'LR7'"):
        cell("LR7")
    with pytest.raises(UnknownName, match="use of a cell 'always'"):
        cell("LR6", "always")
