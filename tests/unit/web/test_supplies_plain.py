"""Other supplies as the page gets them: plain JSON, and edits that the API takes back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import rushlight
from designed import PACKAGED, designed
from rushlight.files.plan_yaml import read_plan
from rushlight.model.design import Design
from rushlight.stages.supply_trials import SuppliesTried, supplies_tried, take_supply
from rushlight.web.api import _change
from rushlight.web.supplies_plain import supplies_plain
from rushlight.web.worker import ALL
from rushlight.working_plan import changed

LANTERN = Path(rushlight.__file__).parent / "demos" / "lantern"


@pytest.fixture(scope="module")
def made() -> Design:
    return designed(read_plan(LANTERN, PACKAGED).plan)


@pytest.fixture(scope="module")
def found(made: Design) -> SuppliesTried:
    return supplies_tried(made)


def test_it_is_plain_json_and_every_edit_does_what_taking_does(made: Design, found: SuppliesTried) -> None:
    told = json.loads(json.dumps(supplies_plain(made, found), allow_nan=False))
    assert [row["name"] for row in told["rows"]] == [row.name for row in found.rows]
    assert sum(row["lightest"] for row in told["rows"]) == sum(row["cheapest"] for row in told["rows"]) == 1
    for shown, row in zip(told["rows"], found.rows, strict=True):
        if row.own:
            assert shown["edit"] is None
            continue
        given = [_change(change) for change in shown["edit"]["changes"]]
        assert changed(made.plan, given) == changed(made.plan, take_supply(made, row).changes)


def test_no_leaf_s_sheets_wait_for_it() -> None:
    assert "supplies" not in ALL
