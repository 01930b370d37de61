"""How many open verdicts a reading closes, by drawing truths at random and taking the reading of each."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.stages.reading_answers import Answer, Narrowed, gains_of
from rushlight.units import Range

OPEN = {"bright": True, "stray": True, "warm": True, "fit": True, "lasts": True, "film": True}


def answer(low: float, high: float) -> Answer:
    return Answer(question="bright", value=Range(low, (low * high) ** 0.5, high), undecided=True)


@pytest.mark.parametrize(("low", "high", "left"), [(0.1, 10.0, 1.5), (0.2, 8.0, 3.0), (0.9, 1.3, 1.05)])
def test_the_share_that_is_closed_is_the_chance(low: float, high: float, left: float) -> None:
    """Source: 40,000 draws by NumPy. The truth is equally likely at any factor; what is left of the range is `left`
    wide from end to end and holds the truth anywhere; the limit is drawn anywhere in the range, away from its ends."""
    rng, count = np.random.default_rng(3), 40_000
    truth = rng.uniform(np.log(low), np.log(high), count)
    wide = np.log(left)
    begin = truth - wide * rng.uniform(0.0, 1.0, count)
    limit = rng.uniform(np.log(low) + wide, np.log(high) - wide, count)
    closed = float(np.mean((limit < begin) | (limit > begin + wide)))
    middle = (low * high) ** 0.5
    told = Narrowed(name="lamp", answer=answer(low, high), left=Range(middle / left**0.5, middle, middle * left**0.5), lamps=1)
    [gain] = gains_of([told], OPEN)
    assert gain.settles == pytest.approx(closed, abs=0.01)


def test_lamps_parts_and_hours_count_alike() -> None:
    """Derived: the share of its stops that a range loses, for each lamp that it stands for."""
    lamps = Narrowed(name="row", answer=answer(1.0, 16.0), left=Range(2.0, 4.0, 8.0), lamps=3)
    hours = Narrowed(name="run", answer=Answer(question="lasts", value=Range(1, 2, 4), undecided=True),
                     left=Range(1.9, 2.0, 2.1), lamps=1)
    bright, lasts = gains_of([lamps, hours], OPEN)
    assert (bright.settles, bright.stops) == pytest.approx((1.5, 6.0))
    assert lasts.settles == pytest.approx(1 - np.log2(2.1 / 1.9) / 2)


def test_where_no_verdict_is_open_all_answers_count_and_none_is_settled() -> None:
    """Definition: a closed verdict is neither counted beside open ones nor settled."""
    sure = Answer(question="bright", value=Range(1, 2, 4), undecided=False)
    told = [Narrowed(name="a", answer=sure, left=Range(1.5, 2, 2.5), lamps=1)]
    assert gains_of(told, OPEN) == ()
    [gain] = gains_of(told, OPEN | {"bright": False})
    assert gain.settles == 0 and gain.touched == 1


def test_a_verdict_that_what_is_likely_closes_counts_a_twentieth() -> None:
    """Source: GUM 6.3.3 and G.6.6, what is likely (k = 2) holds about 19 times in 20; a reading that leaves half of the
    outer range's stops closes half of the rest."""
    likely = Range(2.0, 4.0, 8.0)
    sure = Answer(question="bright", value=Range(1.0, 4.0, 16.0), undecided=True, likely=likely, likely_closed=True)
    told = Narrowed(name="lamp", answer=sure, left=Range(2.0, 4.0, 8.0), likely=Range(3.0, 4.0, 5.0), lamps=3)
    [gain] = gains_of([told], OPEN)
    assert gain.settles == pytest.approx(3 * 0.05 * 0.5)
    assert gain.stops == pytest.approx(3 * (2.0 - np.log2(5 / 3))) and gain.likely_before == likely
