"""A feed's power that was read in another unit, or with another state lit, is doubted."""

from __future__ import annotations

import pytest

from designed import designed
from plans import board
from rushlight.findings import find

LAMP = "{name: flame, part: board, at_mm: [20, 50], colour: red, model_mm: 3, states: day}"


def read(watts: float) -> str:
    return board(LAMP) + f"\nmeasured: [{{what: feed power, of: day, readings: [{watts:.9f}]}}]\n"


def test_milliwatts_typed_as_watts_are_told_with_how_far_they_are_off() -> None:
    (state,) = [row for row in designed(board(LAMP)).power.states if row.state == "day"]
    taken_w = sum(row.power_w.typical for row in state.lit) + state.feed_w.typical
    (row,) = [row for row in find(designed(read(1000 * taken_w))) if row.key == "plan.measured-far-off"]
    assert "'day' (feed power)" in row.says and " W, " in row.says
    assert row.number == pytest.approx(1000, rel=0.5)
    assert not [row for row in find(designed(read(taken_w))) if row.key == "plan.measured-far-off"]
