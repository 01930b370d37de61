"""Two resistors in place of one, against every two that there are."""

from itertools import combinations_with_replacement

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.electric.resistor_pairs import ResistorPair, pair_not_below
from rushlight.errors import OutOfRange

OHMS = st.lists(st.sampled_from([1.0, 4.7, 10.0, 22.0, 47.0, 100.0, 150.0, 220.0, 330.0, 1000.0, 4700.0, 1e6]), max_size=8)


@given(OHMS, st.floats(0.05, 3e6))
def test_it_is_the_nearest_of_every_two(values, wanted):
    # derived: Ohm's law: resistances add in a row, conductances side by side
    every = [way for a, b in combinations_with_replacement(set(values), 2) for way in (a + b, 1 / (1 / a + 1 / b))]
    able = [ohm for ohm in every if ohm >= wanted * (1 - 1e-9)]
    pair = pair_not_below(wanted, values)
    if not able:
        assert pair is None
    else:
        assert pair.ohm == pytest.approx(min(able), rel=1e-8) and set(pair.ohms) <= set(values)
        assert pair.ohms[0] >= pair.ohms[1]


def test_pairs_that_are_known_by_heart():
    # derived: 100 + 22 = 122; two equal ones side by side are half of one
    assert pair_not_below(120, [10, 22, 100, 1000]) == ResistorPair((100, 22), False)
    assert pair_not_below(490, [1000, 10000]) == ResistorPair((1000, 1000), True)
    assert pair_not_below(2000, [1000, 1]) == ResistorPair((1000, 1000), False)
    assert pair_not_below(5, []) is None


@pytest.mark.parametrize(("wanted", "values"), [(0.0, [1.0]), (2e9, [1.0]), (10.0, [0.0, 10.0])])
def test_what_is_out_of_range_is_refused(wanted, values):
    with pytest.raises(OutOfRange):
        pair_not_below(wanted, values)
