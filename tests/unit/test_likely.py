"""The likely range: squares add, what hangs together adds up, nothing goes beyond the outer range."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from rushlight.likely import Guesses, guess_of, joined, known_apart, likely_range, likely_times, ln_apart, summed
from rushlight.units import Range

TWICE = Range.spread(1.0, 0.5, 2.0)


def likely_of(*guesses: Range) -> tuple[Range, Range]:
    """The outer range of a product of guesses that know nothing of each other, and the likely one."""
    outer = Range.exactly(1.0)
    for one in guesses:
        outer = outer.times(one)
    return outer, likely_range(outer, likely_times(known_apart((str(k), one) for k, one in enumerate(guesses))))


def test_a_single_guess_is_its_own_range() -> None:
    outer, likely = likely_of(TWICE)
    assert likely == outer


@pytest.mark.parametrize("count", [2, 3, 5, 10])
def test_several_guesses_are_narrower_than_all_to_one_side(count: int) -> None:
    outer, likely = likely_of(*[TWICE] * count)
    assert outer.low < likely.low < 1.0 < likely.high < outer.high
    assert likely.high == pytest.approx(2 ** math.sqrt(4 * count / 3))  # derived: 2 a sqrt(n) / sqrt(3), a = ln 2


def test_a_narrower_guess_narrows_and_one_that_is_known_says_nothing() -> None:
    widths = [ln_apart(likely_of(Range.spread(1.0, 1 / w, w), TWICE, Range.spread(2.0, 0.3, 1.5))[1])
              for w in (3.0, 2.0, 1.5, 1.1, 1.0)]
    assert all(wide > narrow for wide, narrow in pairwise(widths))
    assert likely_of(TWICE, TWICE, Range.exactly(7.0))[1].high == pytest.approx(7 * likely_of(TWICE, TWICE)[1].high)


def test_what_bears_one_name_is_one_guess() -> None:
    """Derived: two ends of one hand, each twice at most, are one guess of four times."""
    two: Guesses = known_apart([("ends", TWICE), ("ends", TWICE), ("joint", TWICE)])
    assert dict(two) == pytest.approx({"ends": 2 * math.log(4), "joint": math.log(4)})
    assert joined(two, (("known", 0.0),)) == two
    assert likely_times(two) > likely_times(known_apart([("inlet", TWICE), ("tip", TWICE), ("joint", TWICE)]))


def test_ends_that_leave_nothing_stay_open() -> None:
    dark = Range(0.0, 1.0, 2.0)
    assert math.isinf(ln_apart(dark)) and math.isinf(likely_times(known_apart([("face", dark)])))
    assert likely_of(dark, TWICE)[1] == Range(0.0, 1.0, 4.0)
    assert likely_range(Range.exactly(0.0), 3.0) == Range.exactly(0.0) == likely_range(Range.exactly(0.0), math.inf)
    assert ln_apart(Range.exactly(0.0)) == 0.0


def test_a_sum_moves_with_what_its_parts_share() -> None:
    """Derived: two alike parts with one guess in common are as wide as each; one that acts on a part alone counts by its
    share of the whole."""
    both = summed([(3.0, (("bag", 1.2),)), (1.0, (("bag", 1.2),))])
    assert dict(both) == pytest.approx({"bag": 1.2})
    (name, wide), = summed([(3.0, (("first", 1.2),)), (1.0, ())])
    assert name == "first"
    assert wide == pytest.approx(math.log((3 * math.exp(0.6) + 1) / (3 * math.exp(-0.6) + 1)))
    assert summed([(0.0, (("dark", 1.0),))]) == ()


def test_a_likely_range_counts_as_one_guess_of_its_uncertainty() -> None:
    _, likely = likely_of(TWICE, TWICE, TWICE)
    assert likely_times((("all", guess_of(likely)),)) == pytest.approx(likely.high)
