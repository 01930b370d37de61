"""Cells that would do."""

from __future__ import annotations

import re

import pytest

from designed import PACKAGED, designed
from plans import SUPPLY_AA, board
from rushlight.stages.supply_choice import supplies_that_do, wanted_of, weight_g

RED = "{name: a, part: board, at_mm: [20, 50], colour: red, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"


def test_every_set_lasts_gives_the_voltage_and_fits() -> None:
    made = designed(board(RED, supply=SUPPLY_AA))
    hours, _, most_a = wanted_of(made)
    found = supplies_that_do(made)
    own = next(row for row in found if row.own)
    assert [row.weight_g for row in found] == sorted(row.weight_g for row in found)
    for row in found:
        if not row.own:
            part = PACKAGED.cell(row.cell)
            assert row.runs_h >= hours
            assert row.fits is not False
            assert abs(row.nominal_v / own.nominal_v - 1) < 0.1
            assert part.drain_limit_ma * row.in_parallel / 1000 >= most_a
            assert not part.coin
    assert own.runs_h == pytest.approx(made.power.states[0].run_time_h.typical, rel=0.3)  # there with the falling current


def test_what_is_asked_for_decides() -> None:
    long = designed(board(RED, supply=re.sub(r"run_h: [0-9.]+", "run_h: 5000", SUPPLY_AA)))
    assert all(row.own or row.runs_h >= 5000 for row in supplies_that_do(long))
    assert supplies_that_do(designed(board(RED))) == ()  # an adapter


def test_usual_weights() -> None:
    """Common practice, no source: an AA cell weighs about 23 g, a rechargeable one 27 to 30, an 18650 45 to 48."""
    assert weight_g(PACKAGED.cell("AA")) == pytest.approx(23, rel=0.05)
    assert 26 < weight_g(PACKAGED.cell("AA rechargeable")) < 31
    assert 44 < weight_g(PACKAGED.cell("18650")) < 49
    assert weight_g(PACKAGED.cell("CR2032")) == pytest.approx(3, rel=0.1)
