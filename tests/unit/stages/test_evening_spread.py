"""The evening's ranges hold the spread of LEDs, not that of the cells' charge alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.model.design_power import Power
from rushlight.stages import drains as drains_stage
from rushlight.stages import evening as stage
from rushlight.stages import power as power_stage

BLUE = "{name: c, part: board, at_mm: [60, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
EVENING = "evening: [{state: day, minutes: 45}]\n"
TEXT = board(BLUE, supply=SUPPLY_AA + EVENING)


def typical_alone(monkeypatch: pytest.MonkeyPatch) -> Power:
    """The same design as if all LEDs were typical."""
    whole = stage.evening_of
    monkeypatch.setattr(power_stage, "evening_of", lambda plan, drawer, emitters, drains: whole(plan, drawer, emitters,
                                                                                               drains[:1]))
    return designed(TEXT).power


def test_leds_of_high_voltage_fade_sooner_than_typical_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    made = designed(TEXT).power.evening
    alone = typical_alone(monkeypatch).evening
    assert made is not None
    assert alone is not None
    half = next(mark.at_h for mark in made.marks if mark.kind == "half")
    bare = next(mark.at_h for mark in alone.marks if mark.kind == "half")
    assert half.typical == pytest.approx(bare.typical)
    assert half.low < bare.low  # a high forward voltage leaves less for the resistor
    assert half.high >= bare.high
    assert (made.ends_h.low, made.ends_h.high) != (alone.ends_h.low, alone.ends_h.high)
    assert made.ends_h.low <= alone.ends_h.low
    assert made.ends_h.high >= alone.ends_h.high
    assert made.points == alone.points  # the chart is that of typical LEDs


def test_lamps_of_a_row_part_sooner_where_one_has_a_low_and_one_a_high_voltage() -> None:
    """Shares of fresh light: the high ones fall to 0.5 where the low ones still have 0.8."""
    used = np.linspace(0.0, 1.0, 5)
    at = stage.Ages(used, np.full(5, 4.0), np.full(5, 0.1))
    amps = np.full((1, 5), 0.02)

    def drain(*shares: float) -> stage.Drain:
        return stage.Drain(states=("day",), at=at, amps=amps, mean=amps,
                           lit=({"a": 0.01 * np.array(shares), "b": 0.01 * np.array(shares)},), light=np.array([shares]))

    drains = (drain(1, 0.9, 0.8, 0.7, 0.6), drain(1, 1, 0.95, 0.9, 0.85), drain(1, 0.8, 0.7, 0.5, 0.3))
    made = stage.draining(used, amps, np.full((1, 5), 4.0), np.full((1, 5), 1.0), cut_off_v=0.0)
    spread = stage.Range(0.9, 1.0, 1.1)
    spent = tuple(stage.spend(made, [(0, 1.0)], times=k) for k in (0.9, 1.0, 1.1))
    lives = tuple(stage._Life(one, made, spread, spent) for one in drains)
    marks = list(stage._state_marks(lives, 0, {"row": ("a", "b")}, 1.5))
    assert [mark.kind for mark in marks] == []  # typical LEDs never part nor fall so far
    uneven = lives[0].first_h(0, 0.5)
    assert uneven[0] < uneven[1] < uneven[2]
    parting = replace(drains[0], lit=({"a": 0.01 * np.array([1, 0.9, 0.8, 0.7, 0.6]),
                                       "b": 0.01 * np.array([1, 0.8, 0.6, 0.4, 0.3])},))
    lives = (stage._Life(parting, made, spread, spent), *lives[1:])
    mark = next(mark for mark in stage._state_marks(lives, 0, {"row": ("a", "b")}, 1.5) if mark.kind == "uneven")
    assert mark.at_h.low <= mark.at_h.typical < math.inf


def test_where_nothing_runs_down_and_no_evening_is_described_the_loom_is_not_solved_for_them(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    whole = power_stage.drained

    def counted(*values, **named):
        asked.extend(named["shifts"])
        return whole(*values, **named)

    monkeypatch.setattr(power_stage, "drained", counted)
    designed(board(BLUE, supply="supply: {kind: adapter, adapter_v: 5, bay: bay}\n"))
    assert asked == ["typical"]
    designed(TEXT)
    assert asked[1:] == ["typical", "low", "high"]
    designed(board(BLUE, supply=SUPPLY_AA))
    assert asked[4:] == ["typical", "low", "high"]  # run times hold what LEDs differ by


def test_the_ranges_hold_leds_that_are_at_their_best_late(monkeypatch: pytest.MonkeyPatch) -> None:
    """Such an LED loses more of its light with its current; typical ones fade as before, and so does the run time."""
    made = designed(TEXT).power
    monkeypatch.setattr(drains_stage, "LAW_ENDS", ())
    usual = designed(TEXT).power
    wide, narrow = (next(mark.at_h for mark in one.evening.marks if mark.kind == "half")  # type: ignore[union-attr]
                    for one in (made, usual))
    assert wide.low < narrow.low and wide.high >= narrow.high
    assert wide.typical == narrow.typical
    assert made.states[0].run_time_h == usual.states[0].run_time_h
