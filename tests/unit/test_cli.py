"""The commands as a user meets them: what is printed, what is written, the exit status."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import rushlight
from rushlight.cli import NOT_DONE, WRONG_DOCUMENT, main
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.history import revisions

DEMOS = Path(rushlight.__file__).parent / "demos"
ROOT = Path(rushlight.__file__).parents[2]


@pytest.fixture
def lantern(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("rushlight.files.drawer_csv.own_folder", lambda: tmp_path / "own")
    monkeypatch.setattr("rushlight.open_plan.own_folder", lambda: tmp_path / "own")
    return Path(shutil.copytree(DEMOS / "lantern", tmp_path / "lantern"))


def test_check_of_a_sound_plan_ends_with_0(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    plan.write_text(plan.read_text().replace("  - {rhythm: flicker, by: self-timed led}", "  - {rhythm: flicker, by: flasher}"))
    assert main(["check", str(lantern)]) == 0
    assert "No findings" in capsys.readouterr().out


def test_the_exit_status_is_the_worst_grade(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    plan.write_text(plan.read_text().replace("in_series: 3", "in_series: 1"))
    status = main(["check", str(lantern), "--json"])
    shown = json.loads(capsys.readouterr().out)
    grades = {"could be better": 10, "doubtful": 20, "will fail": 30, "dangerous": 40}
    assert shown["findings"]
    assert status == max(grades[row["grade"]] for row in shown["findings"]) >= 30


def test_problems_go_to_stderr_with_their_place_and_change_nothing(
    lantern: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = lantern / "plan.yaml"
    text = plan.read_text().replace("colour: red", "coluor: red")
    plan.write_text(text)
    assert main(["check", str(lantern)]) == WRONG_DOCUMENT
    said = capsys.readouterr().err
    assert "line " in said and "colour" in said and "Traceback" not in said
    assert plan.read_text() == text


def test_check_names_the_edit_that_cures(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    plan.write_text(plan.read_text().replace("in_series: 3", "in_series: 1"))
    main(["check", str(lantern)])
    assert "one edit cures it: Put 3 AA cells in series instead of 1." in capsys.readouterr().out
    main(["check", str(lantern), "--json"])
    edits = [row["edit"] for row in json.loads(capsys.readouterr().out)["findings"] if row["key"] == "electric.supply-low"]
    assert [(row["kind"], row["values"]) for row in edits[0]["changes"]] == [("supply", {"in_series": 3})]


def test_check_tries_every_edit_where_it_is_asked_to(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    plan.write_text(plan.read_text().replace("in_series: 3", "in_series: 1"))
    main(["check", str(lantern)])
    assert "tried: " not in capsys.readouterr().out
    main(["check", str(lantern), "--try-edits"])
    assert "      tried: the finding goes" in capsys.readouterr().out


def test_check_keeps_what_was_edited_by_hand(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    first = plan.read_text()
    main(["check", str(lantern)])
    plan.write_text(first.replace("in_series: 3", "in_series: 2"))
    main(["check", str(lantern), "--json"])
    main(["check", str(lantern), "--json"])
    assert [row.what for row in revisions(lantern)] == ["as found", "edited outside"]
    assert main(["history", str(lantern), "--restore", "1"]) == 0
    assert plan.read_text() == first
    capsys.readouterr()


def test_check_works_where_no_history_can_be_kept(
    lantern: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refused(folder: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("rushlight.files._history_db._opened", refused)
    assert main(["check", str(lantern), "--json"]) < 30
    assert not (lantern / "history.db").exists()
    capsys.readouterr()


@pytest.mark.parametrize("words", [["check", "nowhere"], ["book", "nowhere"], ["history", "nowhere"]])
def test_a_folder_that_is_not_there_is_told(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) in (NOT_DONE, WRONG_DOCUMENT)
    assert capsys.readouterr().err


def test_book_writes_pdf_tables_drawings_templates(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = lantern / "for the bench"
    assert main(["book", str(lantern), "--paper", "letter", "--to", str(target)]) == 0
    assert str(target / "book-letter.pdf") in capsys.readouterr().out
    assert (target / "book-letter.pdf").read_bytes().startswith(b"%PDF")
    for ending in ("csv", "svg", "dxf"):
        assert list(target.rglob(f"*.{ending}")), ending


def test_demo_copies_once_and_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "mine"
    assert main(["demo", "lantern", str(target)]) == 0
    plan = target / "plan.yaml"
    plan.write_text(plan.read_text().replace("run_h: 20", "run_h: 21"))
    assert main(["demo", "lantern", str(target)]) == 0
    assert "run_h: 21" in plan.read_text()
    capsys.readouterr()
    assert main(["demo", "lantren", str(tmp_path / "other")]) == NOT_DONE
    assert "lantern" in capsys.readouterr().err


def test_lights_names_the_rule_and_its_scope(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["lights", "ship", "--length", "29", "--state", "at anchor"]) == 0
    out = capsys.readouterr().out
    assert "Rule 30" in out and "Never use it to equip a real craft" in out and "rule's own text decides" in out


def test_lights_into_a_plan_and_back_out_by_its_history(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    before = plan.read_text()
    added = before.replace("  - {name: ferry is in, minutes: 10}", "  - {name: ferry is in, minutes: 10, rule: power under way}")
    plan.write_text(added)
    assert main(["lights", "ship", "--length", "20", "--state", "power under way", "--into", str(lantern)]) == 0
    assert "rule: masthead" in plan.read_text() and "# " in plan.read_text()
    capsys.readouterr()
    assert main(["history", str(lantern)]) == 0
    first = capsys.readouterr().out.split()[0]
    assert main(["history", str(lantern), "--restore", first]) == 0
    assert plan.read_text() == added


def test_lights_into_a_plan_without_that_state_says_so(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (lantern / "plan.yaml").read_text()
    assert main(["lights", "ship", "--length", "20", "--state", "power under way", "--into", str(lantern)]) == NOT_DONE
    assert "add it under states first" in capsys.readouterr().err
    assert (lantern / "plan.yaml").read_text() == text


def test_lights_check_tells_what_is_missing(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["lights", "ship", "--check", str(DEMOS / "tug")]) == 0
    assert "agrees with the rule" in capsys.readouterr().out


def test_drawer_lists_filters_and_adds(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drawer"]) == 0
    assert "leds" in capsys.readouterr().out
    assert main(["drawer", "fibres", "0.5"]) == 0
    assert "0.5 mm" in capsys.readouterr().out
    words = ["drawer", "wires", "--add", "name=my reel", "kind=hook-up", "awg=30", "copper_mm=0.25", "outer_mm=0.6",
             "bears_c=80", "loom_limit_a=0.14", "pack_m=5", "price_eur=2"]
    assert main(words) == 0
    assert main(["drawer", "wires", "my", "reel"]) == 0
    assert "outer_mm 0.6" in capsys.readouterr().out
    assert main(["drawer", "wiers"]) == NOT_DONE
    assert "wires" in capsys.readouterr().err


def test_no_command_shows_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == NOT_DONE
    assert "check" in capsys.readouterr().out


def test_start_knows_its_words() -> None:
    shown = subprocess.run([sys.executable, str(ROOT / "start.py"), "nonsense"], capture_output=True, text=True, check=False)
    assert shown.returncode == 2 and "does not know 'nonsense'" in shown.stdout


# --- misspelt -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "says"), [
    ("chek x", "'chek' is no command. Did you mean check? There are: open, check, book,"),
    ("book x --papr a4", "'--papr' is no option of it. Did you mean --paper? There are: --help,"),
    ("book x --paper a5", "--paper: 'a5' is no word for it. Did you mean a4? There are: a4, letter."),
    ("check my plan", "'plan' is one word too many. A name with blanks is written in quotes."),
    ("zzz", "'zzz' is no command. There are: open,"),
])
def test_what_is_misspelt_is_named_with_the_nearest_word(typed, says, capsys):
    with pytest.raises(SystemExit) as ended:
        main(typed.split())
    assert ended.value.code == 2 and says in capsys.readouterr().err


def test_measure_says_what_first_and_what_readings_come_to(lantern: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = lantern / "plan.yaml"
    led = next(row.name for row in read_drawer(None).leds)
    plan.write_text(plan.read_text() + f'measured: [{{what: led intensity, of: "{led}", readings: [20], distance_mm: 200}}]\n')
    assert main(["measure", str(lantern)]) == 0
    shown = capsys.readouterr().out
    assert shown.startswith("1. ") and "Goes into the plan under measured: what " in shown
    assert f"Measured: led intensity of {led}, 20. {led}: intensity: 600 to 1000 mcd." in shown  # derived: 800, a quarter off


@pytest.mark.parametrize(("colours", "says"), [
    (["yellow,", "violet,", "brown,", "gold"], ["470 ohm, 5 %: 446.5 ohm to 493.5 ohm.", "A value of E6."]),
    (["brown", "brown", "black", "violet", "yellow"], ["From the other end it is 4.7 kohm, 1 %"]),
    (["blue", "blue", "red", "gold"], ["No series has that value: look"]),
])
def test_drawer_reads_the_bands_of_a_resistor(colours, says, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drawer", "--bands", *colours]) == 0
    out = capsys.readouterr().out
    assert all(word in out for word in says)


def test_the_package_runs_as_the_command_does() -> None:
    def said(module: str, *words: str) -> tuple[int, str]:
        ran = subprocess.run([sys.executable, "-m", module, *words], capture_output=True, text=True, check=False)
        return ran.returncode, ran.stdout

    assert said("rushlight", "--version") == (0, f"rushlight {rushlight.__version__}\n")
    assert said("rushlight", "--help") == said("rushlight.cli", "--help")
    assert said("rushlight")[0] == NOT_DONE


def test_small_matrices_are_left_to_one_thread_unless_it_is_said_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    """numpy asks as it is loaded: the commands must not have loaded it before."""
    shown = subprocess.run([sys.executable, "-c", "import rushlight.cli, sys; print('numpy' in sys.modules)"],
                           capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "False"
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    main([])
    assert os.environ["OPENBLAS_NUM_THREADS"] == "1"
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "2")
    main([])
    assert os.environ["OPENBLAS_NUM_THREADS"] == "2"
