"""Warming over time: energy balance, order, limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight.errors import OutOfRange
from rushlight.tables import rows
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.thermal.warming import box_laws, settling_h, stores_of, wall_j_per_k, warmed

BOX = Box(200.0, 80.0, 50.0)
TYPICAL, HIGH = box_laws(BOX, 5.0)
STORE = wall_j_per_k(BOX)


def test_energy_in_is_energy_stored_and_given_off():
    made = warmed(TYPICAL, STORE, [(3.0, 0.3), (1.0, 0.3)])
    given = float(np.trapezoid(np.interp(made.wall_k, TYPICAL.wall_k, TYPICAL.watts), made.hours * 3600))
    put_in = (3.0 + 1.0) * 0.3 * 3600
    assert given + STORE * made.wall_k[-1] == pytest.approx(put_in, rel=2e-3)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 5.0), st.floats(0.05, 3.0))
def test_longer_is_never_cooler_and_never_over_the_steady_rise(watts, hours):
    made = warmed(TYPICAL, STORE, [(watts, hours)])
    assert np.all(np.diff(made.wall_k) >= -1e-9)
    assert made.wall_k[-1] <= np.interp(watts, TYPICAL.watts, TYPICAL.wall_k) + 1e-6
    assert warmed(TYPICAL, STORE, [(watts, 1.5 * hours)]).wall_k[-1] >= made.wall_k[-1] - 1e-6
    assert np.all(warmed(HIGH, STORE, [(watts, hours)]).air_k >= made.air_k - 1e-9)


def test_left_on_it_comes_to_the_steady_law():
    steady = box_heat(BOX, 5.0)
    made = warmed(TYPICAL, STORE, [(5.0, 20.0)])
    assert made.wall_k[-1] == pytest.approx(steady.wall_k.typical, rel=1e-3)
    assert made.air_k[-1] == pytest.approx(steady.inside_air_k.typical, rel=1e-3)
    nine_tenths = made.hours[np.flatnonzero(made.wall_k >= 0.9 * steady.wall_k.typical)[0]]
    assert settling_h(TYPICAL, STORE, 5.0) == pytest.approx(nine_tenths, abs=0.02)


def test_a_power_beyond_the_law_is_refused():
    with pytest.raises(OutOfRange):
        warmed(TYPICAL, STORE, [(6.0, 1.0)])
    with pytest.raises(OutOfRange):
        warmed(TYPICAL, STORE, [(1.0, 0.0)])


def test_a_state_left_on_for_weeks_is_walked_as_far_as_it_changes():
    made = warmed(TYPICAL, STORE, [(5.0, 1600.0), (1.0, 1.0)])
    assert len(made.hours) < 2000
    assert made.hours[-1] == 1601.0
    assert made.wall_k[made.stretch == 0][-1] == pytest.approx(np.interp(5.0, TYPICAL.watts, TYPICAL.wall_k), rel=1e-4)


def test_walls_store_by_their_material():
    assert wall_j_per_k(BOX, stores_of("white styrene")) == wall_j_per_k(BOX)
    assert stores_of("a wall of my own") == stores_of("white styrene")
    assert stores_of("brass sheet") > 2 * stores_of("plywood")


def test_every_wall_of_the_drawer_has_what_it_stores():
    known = {row["wall"] for row in rows("wall_heat_capacity")}
    assert {row["name"] for row in rows("drawer_walls")} == known
