"""Which measurement is best made first, by small cases that can be reckoned by hand."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.stages.fault_choice import Ends, best_first, survival
from rushlight.stages.fault_seen import Probe

DIODE = Probe("diode", "on", "a", "b")
VOLTS, OHMS = Probe("volts", "on", "a", "b"), Probe("ohms", "on", "a", "b")


def ends(*pairs: tuple[float, float], loose: tuple[bool, ...] = (), room: float = 0.5) -> Ends:
    shown = np.array(pairs)
    return Ends(shown, np.full(shown.shape, room), np.array(loose or (False,) * len(pairs)))


def test_what_survives_is_the_share_of_the_readings_that_fit_both() -> None:
    """By hand: 0 to 3 V, off by 0.5 V, covers -0.5 to 3.5; 3 to 4 V covers 2.5 to 4.5: 1 of 4 and 1 of 2."""
    found = survival(ends((0.0, 3.0), (3.0, 4.0), (9.0, 9.0)), VOLTS, [1, 1, 1])
    assert found == pytest.approx(np.array([[1, 0.25, 0], [0.5, 1, 0], [0, 0, 1]]))


def test_of_what_hangs_in_the_air_no_luck_is_hoped_for() -> None:
    found = survival(ends((0.0, 3.0), (3.0, 4.0), (9.0, 9.0), loose=(True, False, False)), VOLTS, [1, 1, 1])
    assert found == pytest.approx(np.array([[1, 1, 0], [1, 1, 0], [0, 0, 1]]))


def test_an_ohmmeter_shows_a_few_ohm_or_far_more() -> None:
    found = survival(ends((0.0, 50.0), (100.0, 1e7), (0.0, 1e7)), OHMS, [1, 1, 1])
    assert found == pytest.approx(np.array([[1, 0, 1], [0, 1, 1], [0.5, 0.5, 1]]))


def test_the_diode_test_shows_copper_a_diode_or_nothing() -> None:
    found = survival(ends((0.0, 0.06), (0.11, 0.9), (1.2, 1e7), (0.0, 0.9)), DIODE, [1, 1, 1, 1])
    assert found == pytest.approx(np.array([[1, 0, 0, 1], [0, 1, 0, 1], [0, 0, 1, 0], [0.5, 0.5, 0, 1]]))


def test_halves_come_before_one_by_one_and_the_easier_of_equals_first() -> None:
    """Four groups: the probe that parts two from two leaves 1 bit, one that parts one from three more."""
    one = np.array([[1, 0, 0, 0], [0, 1, 1, 1], [0, 1, 1, 1], [0, 1, 1, 1]], float)
    half = np.kron(np.eye(2), np.ones((2, 2)))
    other = np.tile(np.eye(2), (2, 2))
    weight = np.ones(4)
    assert best_first(np.array([one, half, other]), weight) == 1
    assert best_first(np.array([one, other, half]), weight) == 1


def test_the_probe_after_it_counts_too() -> None:
    """Six groups: three pairs first, then halves, leaves one group; the odd one out first leaves more, whatever comes."""
    by_three = np.kron(np.eye(3), np.ones((2, 2)))
    by_two = np.tile(np.eye(2), (3, 3))
    odd = np.ones((6, 6))
    odd[0, 1:] = odd[1:, 0] = 0.0
    assert best_first(np.array([odd, by_two, by_three]), np.ones(6)) == 2
    assert best_first(np.array([odd, by_two]), np.ones(6)) == 1
