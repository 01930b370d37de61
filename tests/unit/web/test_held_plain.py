"""What can be held fast, as the forms get it: each is something that the design can use, with what it took."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

import rushlight
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_yaml import read_plan
from rushlight.findings.plan.pin_without_effect import RULE
from rushlight.model.plan_bench import Pin
from rushlight.stages.pipeline import design
from rushlight.web.held_plain import TOOK, held_json

LIGHTHOUSE = Path(rushlight.__file__).parent / "demos" / "lighthouse"
PARTS = read_drawer(None)
PLAN = replace(read_plan(LIGHTHOUSE, PARTS).plan, pinned=())


@pytest.fixture(scope="module")
def told():
    return held_json(design(PLAN, PARTS))["rows"]


def test_what_is_offered_has_an_effect_and_holding_what_was_chosen_changes_nothing(told):
    assert {row["choice"] for row in told} == set(TOOK)
    json.dumps(told, allow_nan=False)
    sure = [row for row in told if len(row["took"]) == 1 and row["choice"] in ("led", "gauge_awg")]
    assert {row["choice"] for row in sure} == {"led", "gauge_awg"}
    pins = tuple(Pin(of=row["of"], choice=row["choice"], value=row["took"][0]) for row in sure)
    again = design(replace(PLAN, pinned=pins), PARTS)
    assert RULE.look(again) == ()
    now = {(row["choice"], row["of"]): row["took"] for row in held_json(again)["rows"]}
    assert all(now[row["choice"], row["of"]] == row["took"] for row in sure)


def test_a_held_current_is_what_the_design_then_takes(told):
    row = next(row for row in told if row["choice"] == "current_ma" and len(row["of"]) > 2 and len(row["took"]) == 1)
    again = held_json(design(replace(PLAN, pinned=(Pin(of=row["of"], choice="current_ma", value="3.5"),)), PARTS))["rows"]
    assert next(one["took"] for one in again if (one["choice"], one["of"]) == ("current_ma", row["of"])) == ["3.5"]


def test_rows_have_what_is_proposed_and_a_narrower_fibre_is_named():
    told = held_json(design(PLAN, PARTS))
    assert told["picks"]["east footway"]["built"] and "tails of" in told["picks"]["east footway"]["says"]
    wide = [way for way in told["ways"]["street lamps"] if way["kind"] == "fibre"]
    narrow = [way for way in told["ways"]["east footway"] if way["kind"] == "fibre"]
    assert wide[0]["fibre_mm"] == 2.0 and narrow[0]["fibre_mm"] is None
