"""What a reading narrows, in words."""

from __future__ import annotations

import pytest

from rushlight.sheets.readings import ANSWER_UNITS, _example
from rushlight.stages.reading_answers import Gain
from rushlight.units import Range

LIGHT = "no question with a unit"


def gain(question: str, before: tuple[float, float], after: tuple[float, float]) -> Gain:
    ranges = [Range(low, (low * high) ** 0.5, high) for low, high in (before, after)]
    return Gain(question=question, stops=1.0, touched=1, undecided=0, settles=0.0, most="wall", before=ranges[0],
                after=ranges[1], likely_before=ranges[0], likely_after=ranges[1])


@pytest.mark.parametrize(("before", "after", "words"), [
    ((1, 150), (1, 40), "from 150 times to 40 times"),
    ((0.001, 8), (0.001, 0.5), "from over 1000 times to 500 times"),
    ((1e-4, 8), (1e-3, 8), "from over 1000 times to 10 times less"),
    ((0.0, 8), (0.0, 4), "from over 1000 times to over 1000 times"),
])
def test_what_stays_over_a_thousand_times_is_told_by_how_much_less(
    before: tuple[float, float], after: tuple[float, float], words: str,
) -> None:
    assert _example(gain(LIGHT, before, after)) == words


def test_near_ends_have_a_digit_more_than_far_ones() -> None:
    (question, unit), *_ = ANSWER_UNITS.items()
    assert _example(gain(question, (0.0352, 0.681), (0.0384, 0.631))) == (
        f"0.035 to 0.68 {unit} now, then 0.038 to 0.63 {unit}")
    assert _example(gain(question, (1.75, 2.07), (1.85, 1.94))) == f"1.75 to 2.07 {unit} now, then 1.85 to 1.94 {unit}"
