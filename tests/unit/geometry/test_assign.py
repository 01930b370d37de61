"""Tails to illuminators: the best on small sets, sound on large ones."""

import itertools
import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.assign import assign_tails


def _lengths(tails, sites, seed=1):
    rng = np.random.default_rng(seed)
    a, b = rng.uniform((0, 0), (400, 160), (tails, 2)), rng.uniform((0, 0), (400, 160), (sites, 2))
    return np.hypot(a[:, None, 0] - b[None, :, 0], a[:, None, 1] - b[None, :, 1])


def _sound(answer, length, keys, capacity, fibres=None):
    """Each tail once, one class an illuminator, within capacity, lengths recomputed."""
    counts = [1] * len(keys) if fibres is None else fibres
    fed = sorted(t for i in answer.illuminators for t in i.tails)
    assert sorted([*fed, *answer.unreached]) == list(range(len(keys)))
    for lit in answer.illuminators:
        assert {keys[t] for t in lit.tails} == {lit.key}
        assert sum(counts[t] for t in lit.tails) == lit.fibres <= capacity
        assert lit.length_mm == pytest.approx(sum(length[t, lit.site] * counts[t] for t in lit.tails))
    assert answer.length_mm == pytest.approx(sum(i.length_mm for i in answer.illuminators))


def _enumerated(length, keys, capacity, open_mm):
    """Every site for every tail; illuminators at a site are as many as the fibres of each class need."""
    best = math.inf
    for sites in itertools.product(range(length.shape[1]), repeat=len(keys)):
        groups = {}
        for tail, site in enumerate(sites):
            groups[site, keys[tail]] = groups.get((site, keys[tail]), 0) + 1
        count = sum(math.ceil(n / capacity) for n in groups.values())
        best = min(best, sum(length[t, s] for t, s in enumerate(sites)) + open_mm * count)
    return best


@pytest.mark.parametrize(("seed", "capacity", "open_mm"), [(1, 2, 50), (2, 3, 100), (3, 3, 0), (4, 7, 400), (5, 1, 30)])
def test_small_sets_equal_enumeration(seed, capacity, open_mm):
    length, keys = _lengths(7, 3, seed), ["warm"] * 4 + ["red"] * 3
    answer = assign_tails(length, keys, capacity=capacity, open_mm=open_mm)
    _sound(answer, length, keys, capacity)
    assert answer.cost_mm == pytest.approx(_enumerated(length, keys, capacity, open_mm))  # derived: enumeration
    assert answer.gap == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("capacity", [5, 9, 40])
def test_the_search_of_large_sets_is_sound_and_close(capacity, monkeypatch):
    length, keys = _lengths(40, 10), ["a", "b"] * 20
    best = assign_tails(length, keys, capacity=capacity, open_mm=150)
    monkeypatch.setattr("rushlight.geometry.assign.EXACT_CELLS", 0)
    found = assign_tails(length, keys, capacity=capacity, open_mm=150)
    _sound(best, length, keys, capacity)
    _sound(found, length, keys, capacity)
    assert best.cost_mm - 1e-6 <= found.cost_mm <= best.cost_mm * 1.05
    assert math.isnan(found.gap)


def test_tails_of_several_fibres_are_packed_within_capacity():
    fibres = [1, 3, 2, 5, 4, 2, 3, 1, 1, 5, 2, 2]
    length, keys = _lengths(12, 4), ["warm"] * 12
    answer = assign_tails(length, keys, capacity=7, open_mm=100, fibres=fibres)
    _sound(answer, length, keys, 7, fibres)
    assert len(answer.illuminators) >= math.ceil(sum(fibres) / 7)


def test_one_site_takes_as_many_illuminators_as_it_needs():
    length = _lengths(23, 1)
    answer = assign_tails(length, ["warm"] * 23, capacity=5, open_mm=10)
    assert len(answer.illuminators) == 5  # derived: ceil(23/5)


def test_tails_without_a_route_or_too_long_are_listed():
    length = np.array([[10.0, math.inf], [math.inf, math.inf], [900.0, 950.0]])
    answer = assign_tails(length, ["a"] * 3, capacity=4, open_mm=0, longest_mm=500)
    assert answer.unreached == (1, 2)
    assert [i.tails for i in answer.illuminators] == [(0,)]


def test_no_tails_and_no_sites():
    assert assign_tails(np.zeros((0, 3)), [], capacity=4, open_mm=1).illuminators == ()
    assert assign_tails(np.zeros((2, 0)), ["a", "a"], capacity=4, open_mm=1).unreached == (0, 1)


def test_dearer_illuminators_are_fewer():
    length, keys = _lengths(12, 6), ["a"] * 12
    counts = [len(assign_tails(length, keys, capacity=6, open_mm=c).illuminators) for c in (0, 60, 2000)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == 2  # derived: ceil(12/6)


def test_the_answer_is_the_same_every_time():
    length, keys = _lengths(30, 8), ["a", "b", "c"] * 10
    assert assign_tails(length, keys, capacity=4, open_mm=90) == assign_tails(length, keys, capacity=4, open_mm=90)


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"capacity": 0}, "capacity is 0"),
        ({"open_mm": -1.0}, "open_mm is -1"),
        ({"fibres": [1, 9]}, "fibres"),
        ({"fibres": [1]}, "a row for each"),
        ({"length_mm": [[1.0, -1.0], [1, 1]]}, "0 or more"),
        ({"length_mm": [[1.0, math.nan], [1, 1]]}, "0 or more"),
        ({"length_mm": [[1.0, 2.0]]}, "a row for each of the 2 tails"),
    ],
)
def test_bad_input_raises(changes, text):
    given = {"length_mm": [[1.0, 2.0], [3.0, 4.0]], "keys": ["a", "a"], "capacity": 4, "open_mm": 10.0, **changes}
    with pytest.raises(OutOfRange, match=text):
        assign_tails(given.pop("length_mm"), given.pop("keys"), **given)
