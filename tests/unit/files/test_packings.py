"""Bundles kept from one run to the next."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

import rushlight.geometry
from rushlight.files import packings
from rushlight.geometry import circles
from rushlight.geometry.circles import enclosing_circle
from rushlight.open_plan import open_plan

MIX = [1.0] * 3 + [0.5] * 2


@pytest.fixture(autouse=True)
def fresh(monkeypatch):
    """A process that has searched nothing yet."""
    monkeypatch.setattr(circles, "_SEARCHED", {})
    circles._worked_out.cache_clear()


@pytest.fixture
def searches(monkeypatch):
    """How often a search ran."""
    ran: list[int] = []
    search = circles._hops.search
    monkeypatch.setattr(circles._hops, "search", lambda *given: ran.append(1) or search(*given))
    return ran


def another_run(monkeypatch):
    monkeypatch.setattr(circles, "_SEARCHED", {})
    circles._worked_out.cache_clear()


def test_the_same_bundle_is_never_searched_twice(tmp_path, searches, monkeypatch):
    first = enclosing_circle(MIX)
    assert len(searches) == 1
    packings.put_away(tmp_path / "own")
    another_run(monkeypatch)
    packings.take_in(tmp_path / "own")
    assert enclosing_circle(MIX) == first
    twice = enclosing_circle([2 * size for size in reversed(MIX)])
    assert twice.diameter_mm == pytest.approx(2 * first.diameter_mm, rel=1e-12) and len(searches) == 1


def spoiled(text: str) -> str:
    """One centre moved: no file that the tool wrote."""
    said = json.loads(text)
    said["packings"][0]["centres"][0][0] += 0.5
    return json.dumps(said)


@pytest.mark.parametrize("damage", [
    lambda text: "", lambda text: text[:-20], lambda text: "[]", lambda text: "null", spoiled,
    lambda text: json.dumps({**json.loads(text), "search": "an older one"}),
])
def test_a_damaged_file_or_one_of_another_search_counts_as_empty_and_is_mended(tmp_path, damage, monkeypatch):
    enclosing_circle(MIX)
    packings.put_away(tmp_path)
    file = tmp_path / packings.FILE
    good = file.read_text()
    file.write_text(damage(good))
    another_run(monkeypatch)
    packings.take_in(tmp_path)
    assert circles.searched_packings() == {}
    enclosing_circle(MIX)
    packings.put_away(tmp_path)
    assert file.read_text() == good


def test_what_runs_found_is_joined_the_first_goes_first_and_nothing_new_writes_nothing(tmp_path, monkeypatch):
    monkeypatch.setattr(packings, "MOST", 2)
    for small in (0.5, 0.6, 0.7):
        another_run(monkeypatch)
        enclosing_circle([1.0] * 3 + [small])
        packings.put_away(tmp_path)
    another_run(monkeypatch)
    packings.take_in(tmp_path)
    assert [key[-1] for key in circles.searched_packings()] == [0.6, 0.7]
    monkeypatch.setattr(packings, "write_atomic", pytest.fail)
    packings.put_away(tmp_path)


def test_a_folder_that_cannot_be_written_is_left_alone(tmp_path):
    (tmp_path / "own").write_text("a file where the folder should be")
    enclosing_circle(MIX)
    packings.put_away(tmp_path / "own")
    assert (tmp_path / "own").read_text() == "a file where the folder should be"


def test_every_module_of_the_search_counts_as_the_search():
    """Else a better search would be given the answers of the one before."""
    home, seen, left = Path(rushlight.geometry.__file__).parent, set(), {"circles"}
    while left:
        name = left.pop()
        seen.add(name)
        text = (home / f"{name}.py").read_text()
        named = re.findall(r"from rushlight\.geometry\.(\w+) import", text)
        for row in re.findall(r"from rushlight\.geometry import (.+)", text):
            named += re.findall(r"\w+", row)
        left |= set(named) - seen
    assert seen == set(packings.SEARCH)


def test_opening_a_plan_takes_them_in_and_puts_new_ones_away(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path))
    monkeypatch.setattr("rushlight.open_plan.own_folder", lambda: tmp_path / "rushlight")
    kept = {(1.0, 0.9): ((0.5, 0.0), (-0.45, 0.0))}
    circles.learn_packings(kept)
    demo = Path(rushlight.geometry.__file__).parents[1] / "demos" / "lantern"
    open_plan(demo)
    another_run(monkeypatch)
    open_plan(demo)
    assert kept.items() <= circles.searched_packings().items()
