"""`rushlight bench` as a user meets it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import rushlight
from rushlight.cli import NOT_DONE, main

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture
def lantern(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("rushlight.open_plan.own_folder", lambda: tmp_path / "own")
    return Path(shutil.copytree(DEMOS / "lantern", tmp_path / "lantern"))


def test_nothing_said_yet_says_where_to_begin(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern)]) == 0
    assert "Begin with: Look, with the switch on 'evening'" in capsys.readouterr().out


def test_a_dark_lamp_gives_places_and_the_next_measurement(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern), "--dark", "evening: flame", "--dark", "ferry is in: flame"]) == 1
    said = capsys.readouterr().out
    assert "1. " in said and "board 45, 98 mm" in said and "Measure next: " in said and "V DC" in said


def test_all_fine_is_fine(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern), "--fine", "evening", "--fine", "ferry is in"]) == 0
    assert "Nothing is wrong as far as 2 findings show." in capsys.readouterr().out


def test_readings_of_the_log_count(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    reading = "{gate: bench_test, what: 'supply current, evening', value: 0.0}"
    plan.write_text(plan.read_text() + f"\nas_built: [{{step: bench_test, readings: [{reading}]}}]\n")
    assert main(["bench", str(lantern)]) == 1
    assert "What fits 1 finding" in capsys.readouterr().out
    assert main(["bench", str(lantern), "--only-these"]) == 0
    capsys.readouterr()


@pytest.mark.parametrize(("words", "says"), [
    (["--dark", "evening: flaem"], "Did you mean 'flame'?"),
    (["--dark", "flame"], "STATE: LAMP, LAMP"),
    (["--read", "supply curent, evening=3"], "supply current, evening"),
    (["--fine", "evenig"], "Did you mean 'evening'?"),
    (["--volts", "evening: bay R 3"], "STATE: PLACE to PLACE=NUMBER"),
])
def test_what_cannot_be_read_is_named(
    lantern: Path, words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", str(lantern), *words]) == NOT_DONE
    assert says in capsys.readouterr().err
