"""`rushlight bench` as a user meets it."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest

import rushlight
from rushlight.cli import NOT_DONE, _opened, main
from rushlight.open_plan import OpenPlan

DEMOS = Path(rushlight.__file__).parent / "demos"


WORKED_OUT: dict[str, OpenPlan] = {}
"""Designs of these tests by their plan's text: the commands are tested here, not the design."""


def worked_out(folder: Path, *, quiet: bool) -> OpenPlan:
    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    if text not in WORKED_OUT:
        WORKED_OUT[text] = _opened(folder, quiet=quiet)
    return WORKED_OUT[text]


@pytest.fixture
def lantern(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("rushlight.open_plan.own_folder", lambda: tmp_path / "own")
    monkeypatch.setattr("rushlight.cli._opened", worked_out)
    return Path(shutil.copytree(DEMOS / "lantern", tmp_path / "lantern"))


def test_nothing_said_yet_says_where_to_begin(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern)]) == 0
    assert "Begin with: Look, with the switch on 'evening'" in capsys.readouterr().out


def test_a_dark_lamp_gives_places_and_the_next_measurement(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern), "--dark", "evening: flame", "--dark", "ferry is in: flame"]) == 1
    said = capsys.readouterr().out
    assert "1. " in said and "board 45, 98 mm" in said and "Measure next: " in said and "V DC" in said


def test_without_a_meter_the_whole_test_is_told_then_nothing_is_measured(
    lantern: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", str(lantern), "--no-meter"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Of 9 looks") and "it is: lead B3 (yellow), lead R4 (black), green glass" in said
    assert main(["bench", str(lantern), "--no-meter", "--dark", "evening: flame"]) == 1
    said = capsys.readouterr().out
    assert "V DC" not in said and "meter on" not in said and "Look, with the switch on 'ferry is in'" in said


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
    (["--ohms", "evening: bay A to bay R"], "NUMBER or OL"),
    (["--diode", "evening: bay A to nowhere=OL"], "nowhere"),
    (["--beside", "evening: flame under red glass"], "LAMP dimmer than LAMP"),
    (["--lit", "evening: flaem"], "Did you mean 'flame'?"),
])
def test_what_cannot_be_read_is_named(
    lantern: Path, words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", str(lantern), *words]) == NOT_DONE
    assert says in capsys.readouterr().err


def test_every_fault_is_written_down_with_what_it_would_show(lantern: Path, tmp_path: Path) -> None:
    assert main(["bench", str(lantern), "--table", str(tmp_path / "faults.csv")]) == 0
    rows = list(csv.DictReader((tmp_path / "faults.csv").read_text(encoding="utf-8").splitlines()))
    dead = next(row for row in rows if row["fault"].startswith("flame") and "dead" in row["fault"])
    assert dead["evening: dark"] == "flame" and float(dead["evening: supply to mA"]) < 0.1
    touch = next(row for row in rows if row["fault"].startswith("Feed A in the bay and feed B"))
    assert touch["evening: lit though it should be dark"] == "green glass; red glass"
    assert sum("cold" in row["fault"] and "3 to 1000 ohm" in row["fault"] for row in rows) >= 8


def test_without_a_meter_by_lamps_that_are_lit_and_by_lamps_beside_each_other(
    lantern: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", str(lantern), "--lit", "evening: red glass, green glass"]) == 1
    assert "Feed A in the bay and feed B in the bay touch" in capsys.readouterr().out
    assert main(["bench", str(lantern), "--beside", "ferry is in: flame dimmer than red glass"]) == 1
    said = capsys.readouterr().out
    assert "to flame" in said and "blown" not in said  # what darkens both alike is left out


def test_all_dark_is_perhaps_a_short_and_ohms_say_where(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    dark = ["--dark", "evening: flame", "--dark", "ferry is in: flame, red glass, green glass",
            "--read", "supply current, evening=0"]
    assert main(["bench", str(lantern), *dark]) == 1
    assert "fit no new fuse before it is found" in capsys.readouterr().out
    assert main(["bench", str(lantern), *dark, "--ohms", "evening: bay A to bay R=0.6"]) == 1
    said = capsys.readouterr().out
    assert "1. flame, board 45, 98 mm: its two leads touch before the resistor" in said and "SB1" not in said.split("Measure")[0]
    assert main(["bench", str(lantern), *dark, "--diode", "evening: bay A to bay R=0.0"]) == 1
    assert "1. flame, board 45, 98 mm: its two leads touch before the resistor" in capsys.readouterr().out
    assert main(["bench", str(lantern), *dark, "--ohms", "evening: bay A to bay R=OL"]) == 1
    assert "its two leads touch" not in capsys.readouterr().out.split("\n\n")[1].splitlines()[0]


def test_mended_and_still_wrong_leaves_the_others_and_asks_on(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = ["--dark", "evening: flame", "--dark", "ferry is in: flame"]
    assert main(["bench", str(lantern), *found]) == 1
    first = next(line for line in capsys.readouterr().out.splitlines() if line.startswith("1. "))
    assert main(["bench", str(lantern), *found, "--mended", "1", *found]) == 1
    said = capsys.readouterr().out
    assert "Taken as mended: " in said and first not in said and "1. " in said
    assert main(["bench", str(lantern), *found, "--mended", "1"]) == 1
    assert "Measure next: " in capsys.readouterr().out
    assert main(["bench", str(lantern), *found, "--mended", "1", "--fine", "evening"]) == 0
    assert main(["bench", str(lantern), *found, "--mended", "99"]) != 0
    assert "a number of the answer" in capsys.readouterr().err


def test_it_says_why_it_asks_there_and_nothing_has_no_minus(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", str(lantern), "--dark", "evening: flame", "--dark", "ferry is in: flame"]) == 1
    said = capsys.readouterr().out
    assert "Why this one: " in said and "-0.0" not in said
    shows = [line.split(":")[0] for line in said.split("Measure next")[1].splitlines() if ": number" in line]
    assert len(shows) == len(set(shows)) > 1
