"""The described evening: order, fading lamps, supplies that last, banks that sleep, rooms that warm."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import SUPPLY_AA, board

RED = "{name: a, part: board, at_mm: [20, 50], colour: red, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
BLUE = RED.replace("name: a", "name: c").replace("red", "blue").replace("[20, 50]", "[60, 50]")
EVENING = "evening: [{state: day, minutes: 30}, {state: night, minutes: 90}, {state: day, minutes: 15}]\n"


def test_the_plans_evening_comes_before_the_states_minutes() -> None:
    text = board(RED, supply=SUPPLY_AA + EVENING).replace("{name: day}", "{name: day, minutes: 5}")
    evening = designed(text).power.evening
    assert evening is not None
    assert evening.stages == (("day", 0.5), ("night", 1.5), ("day", 0.25))
    assert evening.hours == pytest.approx(2.25)
    hours = [point.hour_h for point in evening.points]
    assert hours == sorted(hours)
    assert hours[-1] == pytest.approx(2.25)
    assert designed(board(RED, supply=SUPPLY_AA)).power.evening is None  # none described


def test_a_dark_state_takes_next_to_nothing() -> None:
    """Night lights nothing here: 90 of 135 minutes cost no charge, so three times as many running hours."""
    alone = designed(board(RED, supply=SUPPLY_AA + "evening: [{state: day, minutes: 45}]\n")).power.evening
    mixed = designed(board(RED, supply=SUPPLY_AA + EVENING)).power.evening
    assert alone is not None
    assert mixed is not None
    assert mixed.ends_h.typical == pytest.approx(3 * alone.ends_h.typical, rel=0.01)
    assert mixed.ends_h.low < mixed.ends_h.typical < mixed.ends_h.high


def test_a_blue_lamp_fades_before_a_red_one() -> None:
    """Common practice, no source: on falling cells the LED of higher voltage goes first."""
    text = board(f"{RED}\n{BLUE}", supply=SUPPLY_AA + EVENING)
    evening = designed(text).power.evening
    assert evening is not None
    half = {lamp: mark.at_h.typical for mark in evening.marks if mark.kind == "half" for lamp in mark.lamps}
    assert half["c"] < half.get("a", math.inf)
    kept = {row.group: (row.kept_share, row.last_share) for row in evening.faded}
    assert kept["c"][0] < kept["a"][0] <= 1.0 and kept["c"][1] < kept["a"][1] < kept["a"][0]
    assert [row.group for row in evening.faded] == ["c", "a"]  # what fades first comes first
    assert [mark.at_h.typical for mark in evening.marks] == sorted(mark.at_h.typical for mark in evening.marks)


def test_an_adapter_changes_nothing_and_a_bank_may_sleep() -> None:
    mains = designed(board(RED, supply="supply: {kind: adapter, bay: bay}\n" + EVENING)).power.evening
    assert mains is not None
    assert math.isinf(mains.ends_h.typical)
    assert (mains.marks, mains.whole) == ((), ())
    bank = designed(board(RED, supply="supply: {kind: usb power bank, bay: bay}\n" + EVENING)).power.evening
    assert bank is not None
    assert "sleeps" in {mark.kind for mark in bank.marks}


def test_a_closed_space_warms_along_the_evening() -> None:
    text = board(RED, supply=SUPPLY_AA + EVENING + "spaces: [{name: inside, parts: board, size_mm: [100, 60, 40]}]\n")
    made = designed(text).heat
    (row,) = made.evening
    steady = made.spaces[0]
    top = max(point.wall_high_c for point in row.points)
    assert made.room_c.high < top <= steady.wall_c.high + 1e-6
    assert [point.state for point in row.points][-1] == "day"
    assert row.advise_h is None
    assert row.settles_h > 0
