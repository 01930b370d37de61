"""`rushlight supplies`: the list as a user reads it, and one of it taken."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

import rushlight
from rushlight.cli import NOT_DONE, main
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.history import revisions
from rushlight.files.plan_yaml import read_plan

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture
def lantern(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("rushlight.files.drawer_csv.own_folder", lambda: tmp_path / "own")
    monkeypatch.setattr("rushlight.open_plan.own_folder", lambda: tmp_path / "own")
    monkeypatch.setattr("rushlight.working_plan.own_folder", lambda: tmp_path / "own")
    return Path(shutil.copytree(DEMOS / "lantern", tmp_path / "lantern"))


def test_the_list_says_what_does_what_does_not_and_why(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (lantern / "plan.yaml").read_bytes()
    assert main(["supplies", str(lantern)]) == 0
    said = capsys.readouterr().out
    assert said.startswith("1. 3 x AA in series: as planned")
    assert "asleep" in said and "The warm white LED of 'flame' alone takes" in said
    assert "Lightest in the model: " in said and "Cheapest: " in said and "Mains is never wired" in said
    assert (lantern / "plan.yaml").read_bytes() == before


def test_one_is_taken_and_can_be_brought_back(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (lantern / "plan.yaml").read_text(encoding="utf-8")
    assert main(["supplies", str(lantern), "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    number = next(n for n, row in enumerate(shown["rows"], 1) if row["name"].startswith("usb adapter"))
    assert main(["supplies", str(lantern), "--take", str(number)]) == 0
    assert "Taken: Feed the model from usb adapter, 5 V" in capsys.readouterr().out
    plan = read_plan(lantern, read_drawer(None)).plan
    assert plan.supply.kind == "usb adapter" and plan.parts[0].bays[0].access == "plug outside"
    assert main(["history", str(lantern), "--restore", str(revisions(lantern)[-2].number)]) == 0
    assert (lantern / "plan.yaml").read_text(encoding="utf-8") == before


def test_a_number_that_is_not_there_changes_nothing(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (lantern / "plan.yaml").read_bytes()
    assert main(["supplies", str(lantern), "--take", "40"]) == NOT_DONE
    assert "a number of the list, 1 to " in capsys.readouterr().err
    assert main(["supplies", str(lantern), "--take", "1"]) == 0
    assert "nothing was changed" in capsys.readouterr().out and (lantern / "plan.yaml").read_bytes() == before
