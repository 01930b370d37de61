"""Which tail lies where in its bundle."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.stages.fibre_light import USUAL_JOINT, tail_light
from rushlight.stages.tail_places import WHOLE_BUNDLE, even_order
from rushlight.units import Range

ONE = np.ones(7)
SIX = "{name: r, part: board, along_mm: [[20, 85], [90, 85]], count: 6, colour: warm white, model_mm: 0.5, states: day}"


def uneven(own, places, order, rows):
    """The definition, written out: squared range of each row, and a little of the whole."""
    lit = [own[tail] + place for tail, place in zip(order, places, strict=True)]
    cost = WHOLE_BUNDLE * (max(lit) - min(lit)) ** 2
    for row in set(rows):
        mine = [value for value, tail in zip(lit, order, strict=True) if rows[tail] == row]
        cost += (max(mine) - min(mine)) ** 2
    return cost


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("kinds", [1, 2, 3])
def test_no_order_of_seven_is_more_even(seed: int, kinds: int) -> None:
    """Second method: all 5040 orders. Exchanges may stop a little short of the best, never by much."""
    rng = np.random.default_rng([seed, kinds])
    own, places = rng.normal(0, 0.1, 7), -np.array([0.0, *rng.uniform(0.2, 0.4, 6)])
    rows = np.arange(7) % kinds
    found = even_order(own, places, rows=rows, widths=ONE)
    assert sorted(found) == list(range(7))
    best = min(uneven(own, places, order, rows) for order in permutations(range(7)))
    assert uneven(own, places, found, rows) <= best * (1.0 + 1e-9 if kinds == 1 else 1.15)


def test_of_two_rows_one_takes_the_middle_and_the_other_the_rim() -> None:
    places = np.log([1.0, 0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 0.5, 0.5])
    rows = np.array([0, 0, 0, 0, 1, 1, 1, 1, 1])
    order = even_order(np.zeros(9), places, rows=rows, widths=np.ones(9))
    # derived: apart, the rows spread by 1.25 and 1.6; any other share of the extremes gives one of them 2 or both 1.6
    assert rows[order[7]] == rows[order[8]] != rows[order[0]]


def test_a_row_that_is_wanted_brighter_lies_inside() -> None:
    wanted = np.log([2.0, 2.0, 1.0, 1.0, 1.0, 1.0, 1.0])
    places = np.log([1.0, 0.99, 0.5, 0.5, 0.5, 0.5, 0.5])
    order = even_order(-wanted, places, rows=np.array([0, 0, 1, 1, 1, 1, 1]), widths=ONE)
    assert set(order[:2]) == {0, 1}


def test_a_tail_only_goes_where_its_width_fits() -> None:
    widths = np.array([1.0, 1.0, 0.5, 0.5, 0.5])
    order = even_order(np.array([0.0, -1.0, 0.0, -2.0, 0.0]), -np.arange(5.0), rows=np.zeros(5, int), widths=widths)
    assert widths[order].tolist() == widths.tolist()
    assert order.tolist() == [1, 0, 3, 2, 4]


def test_tails_keep_their_totals_whatever_their_places() -> None:
    rows = "\n".join(
        f"{{name: {name}, part: board, along_mm: [[20, {y}], [180, {y}]], count: 6, colour: warm white, "
        "model_mm: 0.5, states: day}" for name, y in (("near", 60), ("far", 90))
    )
    loom = designed(board(rows=rows)).loom
    for bundle in loom.bundles:
        mine = [tail for tail in loom.tails if tail.emitter == bundle.emitter]
        assert [tail.name for tail in mine] == list(bundle.tails)
        assert len({tail.lamp for tail in mine}) == len(mine)


def test_totals_of_a_tied_bundle_hang_on_its_places_and_not_on_the_order_of_tails() -> None:
    loom = designed(board(rows=SIX)).loom
    (bundle,) = loom.bundles
    led = PACKAGED.led(loom.emitter(bundle.emitter).part_row)
    alike = [replace(tail, length_mm=100.0, bends=()) for tail in loom.tails]
    places = [tail.offset_mm for tail in alike]
    rng = np.random.default_rng(4)

    def totals(order: np.ndarray) -> tuple[float, float, float]:
        lit = [tail_light(PACKAGED, led, replace(tail, offset_mm=places[at]), USUAL_JOINT).flux_lm
               for tail, at in zip(alike, order, strict=True)]
        return sum(one.low for one in lit), sum(one.typical for one in lit), sum(one.high for one in lit)

    first = totals(np.arange(len(alike)))
    assert first[0] < first[1] < first[2]
    for _ in range(5):
        assert totals(rng.permutation(len(alike))) == pytest.approx(first, rel=1e-12)


def test_outer_tails_lie_at_the_rim_of_the_bundle_as_tied() -> None:
    loom = designed(board(rows=SIX)).loom
    (bundle,) = loom.bundles
    outmost = max(loom.tails, key=lambda tail: tail.offset_mm.typical)
    width = bundle.hand_made_mm
    # derived: half of the tied bundle's width less half of the fibre's
    assert outmost.offset_mm == pytest.approx(Range(*((end - 0.5) / 2 for end in (width.low, width.typical, width.high))))
