"""What the modeller may know better, as the forms get it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import rushlight
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_value_fault, practice_fault
from rushlight.files.plan_yaml import read_plan
from rushlight.model.plan_bench import OwnValue, Practice
from rushlight.stages.pipeline import design
from rushlight.web.own_plain import own_json

LIGHTHOUSE = Path(rushlight.__file__).parent / "demos" / "lighthouse"
PARTS = read_drawer(None)


@pytest.fixture(scope="module")
def told():
    return own_json(design(read_plan(LIGHTHOUSE, PARTS).plan, PARTS))


def test_every_offered_value_and_habit_is_one_that_a_plan_may_hold(told):
    """What the form offers, the reader takes: each column at both of its bounds, each habit at its usual number."""
    for table, held in told["tables"].items():
        for column in held["columns"]:
            for value in {column["low"], column["high"]} - {None}:
                own = OwnValue(table=table, row=held["rows"][0], column=column["key"], value=value)
                assert own_value_fault(PARTS, own) is None, own
    for habit in told["habits"]:
        value = habit["low"] if habit["low"] is not None else habit["high"]
        assert practice_fault(PARTS, Practice(habit=habit["key"], value=value)) is None, habit


def test_readings_name_their_place_and_what_is_believed(told):
    assert told["readings"]
    for row in told["readings"]:
        method = next(way for way in told["methods"] if way["what"] == row["method"])
        if row["table"] not in ("habits", "bench"):
            assert row["row"] in method["of"]
            assert row["row"] in told["tables"][row["table"]]["rows"]
            assert row["column"] in {column["key"] for column in told["tables"][row["table"]]["columns"]}
            assert own_value_fault(PARTS, OwnValue(table=row["table"], row=row["row"], column=row["column"], value=row["now"][0])) is None
        assert row["now"][0] <= row["now"][1]
        assert (row["test_ma"] is not None) == (row["table"] == "leds")
    assert json.dumps(told, allow_nan=False)


def test_what_the_build_is_made_of_stands_first_in_every_list(told):
    of = design(read_plan(LIGHTHOUSE, PARTS).plan, PARTS)
    leds = {row.part_row for row in of.loom.emitters if row.kind != "strip"}
    offered = [next(way["of"] for way in told["methods"] if way["what"] == "led intensity"), told["tables"]["leds"]["rows"]]
    for names in offered:
        assert set(names[: len(leds)]) == leds
        assert set(names) == {led.name for led in PARTS.leds}
    sheets = {row.sheet for part in of.plan.parts for opening in part.openings for row in opening.diffusers}
    assert set(told["tables"]["diffusers"]["rows"][: len(sheets)]) == sheets


def test_the_single_reading_and_the_best_of_each_question_are_told(told):
    now = next(row for row in told["readings"] if row["at_once"])
    assert told["first"].startswith(f"Measure this first: {now['what'][0]}")
    assert len({row["question"] for row in told["asked"]}) == len(told["asked"]) > 1
    assert all(0 <= row["settles"] <= row["open"] for row in told["readings"])
