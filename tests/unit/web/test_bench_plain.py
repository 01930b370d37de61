"""What the bench is given of a design."""

from pathlib import Path

import pytest

import rushlight
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_yaml import read_plan
from rushlight.findings import find
from rushlight.model.plan_bench import Done
from rushlight.stages.pipeline import design
from rushlight.web.bench_api import local_time
from rushlight.web.bench_plain import bench_json

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture(scope="module")
def parts():
    return read_drawer(None)


@pytest.fixture(scope="module")
def tug(parts):
    return design(read_plan(DEMOS / "tug", parts).plan, parts)


@pytest.fixture(scope="module")
def told(tug):
    return bench_json(tug)


def test_every_step_gate_and_drawing_is_there(tug, told):
    assert [step["number"] for step in told["steps"]] == [step.number for step in tug.order.steps]
    gate = next(step for step in told["steps"] if step["key"] == "bench_test")
    foretold = next(step for step in tug.order.steps if step.key == "bench_test").readings
    assert [(row["name"], row["low"]) for row in gate["readings"]] == [(row.name, row.reading.low) for row in foretold]
    short = gate["readings"][0]
    assert (short["high"], short["shown"], short["per_shown"], short["expect"]) == (None, "kohm", 1000, "more than 20 kohm")
    assert {row["part"] for row in told["drawings"]} == {part.name for part in tug.plan.parts}


def test_every_piece_has_a_name_of_its_own_that_the_findings_know(tug, told, parts):
    import dataclasses

    pieces = [row["piece"] for row in told["pieces"]]
    assert len(set(pieces)) == len(pieces) == len(tug.loom.leads) + len(tug.loom.tails) + len(tug.loom.tubes)
    log = tuple(Done(step=piece) for piece in (*pieces, "tube X9"))
    plan = dataclasses.replace(tug.plan, as_built=log)
    unknown = [row.item for row in find(design(plan, parts, previous=tug)) if row.key == "build.step-unknown"]
    assert unknown == ["tube X9"]


def test_the_cut_list_is_the_books(tug, told):
    assert {row["label"]: row["cut_mm"] for row in told["pieces"] if row["kind"] == "lead"} == {lead.name: lead.cut_mm for lead in tug.loom.leads}


def test_lamps_by_number(tug, told):
    assert [lamp["number"] for lamp in told["lamps"]] == list(range(1, len(tug.lamps) + 1))


@pytest.mark.parametrize("given", [None, "x", True, -5, 0, 1e30, 2e12])
def test_a_time_that_is_none_or_ahead_is_now(given):
    assert local_time(given, 1.7e9) == local_time(1.7e12, 1.7e9) == local_time(1.7e12, 1.8e9)


def test_an_led_without_a_data_sheet_is_told_with_its_four_readings_drawn(tug, told):
    assert told["trials"] and all(len(row["readings"]) == 4 for row in told["trials"])
    drawn = told["meters"]["led_trial"]
    assert len(drawn) == 4 * len(told["trials"])
    assert "Behind " in drawn[0]["svg"] and "<svg" in drawn[0]["svg"]
