"""A supply that runs down over an evening: charge balance, limits, and what the steady run time says of one state."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight.electric.cell import Battery, ages, capacity_mah, cell, discharge
from rushlight.electric.evening import draining, first_under, reached_h, spend
from rushlight.errors import OutOfRange

BATTERY = Battery(cell("LR6"), 3, 1)
AGES = ages(BATTERY, 21)


def drained(*currents_a: float, cut_off_v: float = 0.0):
    """States that draw steady currents from three AA cells."""
    amps = np.array([np.full(21, amp) for amp in currents_a])
    volts = AGES.emf_v - amps * AGES.inner_ohm
    return draining(AGES.used_fraction, amps, volts, capacity_mah(BATTERY, amps) / 1000, cut_off_v=cut_off_v)


def test_one_state_alone_lasts_as_long_as_its_steady_discharge():
    limit = BATTERY.cell.cut_off_v * BATTERY.series
    steady = discharge(BATTERY, AGES, np.full(21, 0.05))
    spent = spend(drained(0.05, cut_off_v=limit), [(0, 0.7)])
    assert spent.ends_h == pytest.approx(steady.run_time_h.typical, rel=1e-6)
    assert spent.spells[-1].to_h == spent.ends_h


def test_charge_taken_is_current_times_time():
    """With one rate of discharge the share used is the charge taken over the charge held."""
    made = drained(0.05)
    spent = spend(made, [(0, 2.0)])
    held_ah = float(capacity_mah(BATTERY, 0.05)) / 1000
    for spell in spent.spells:
        assert (spell.to_used - spell.from_used) * held_ah == pytest.approx(0.05 * (spell.to_h - spell.from_h), rel=1e-9)
    assert spent.spells[-1].to_used == pytest.approx(1.0)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 2), st.floats(0.05, 6.0)), min_size=1, max_size=5), st.floats(0.5, 1.5))
def test_spells_join_and_never_give_charge_back(evening, times):
    made = drained(0.02, 0.08, 0.2, cut_off_v=2.7)
    spent = spend(made, evening, times=times)
    assert spent.spells[0].from_h == spent.spells[0].from_used == 0.0
    for one, other in zip(spent.spells, spent.spells[1:], strict=False):
        assert (other.from_h, other.from_used) == (one.to_h, one.to_used)
        assert one.to_used > one.from_used or one.to_h == one.from_h
    assert spent.spells[-1].to_used <= 1.0
    more = spend(made, evening, times=times * 1.1)
    assert more.ends_h >= spent.ends_h - 1e-9  # more charge never ends sooner


def test_a_heavy_state_meets_the_cut_off_before_a_light_one():
    made = drained(0.02, 1.0, cut_off_v=3.0)
    assert made.end[1] < made.end[0]
    assert spend(made, [(0, 1.0), (1, 0.5)]).ends_h < spend(made, [(0, 1.0)]).ends_h
    starved = drained(0.02, cut_off_v=9.0)
    assert spend(starved, [(0, 1.0)]).ends_h == 0.0


def test_thresholds_are_met_within_a_spell_or_as_its_state_begins():
    made = drained(0.05, 0.1)
    spent = spend(made, [(0, 1.0), (1, 1.0)])
    first = spent.spells[1]
    inside = (first.from_used + first.to_used) / 2
    assert reached_h(spent, made, [math.inf, inside]) == pytest.approx(1.5, abs=1e-3)
    assert reached_h(spent, made, [math.inf, first.from_used / 2]) == 1.0  # already so when the state comes up
    assert reached_h(spent, made, [math.inf, math.inf]) == math.inf


def test_first_under_lies_straight_between_ages():
    used = np.array([0.0, 0.5, 1.0])
    assert first_under(used, np.array([10.0, 8.0, 4.0]), 6.0) == pytest.approx(0.75)
    assert first_under(used, np.array([5.0, 4.0, 3.0]), 6.0) == 0.0
    assert first_under(used, np.array([9.0, 8.0, 7.0]), 6.0) == math.inf


def test_what_lasts_is_shown_for_one_evening():
    spent = spend(drained(1e-5), [(0, 2.0)], most_evenings=3)
    assert spent.ends_h == math.inf
    assert len(spent.spells) == 1
    with pytest.raises(OutOfRange):
        spend(drained(0.05), [(0, 0.0)])
    with pytest.raises(OutOfRange):
        spend(drained(0.05), [])
