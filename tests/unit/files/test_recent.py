"""The list of plans opened lately."""

import pytest

from rushlight.files.recent import MOST, recent_plans, remember_plan


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("APPDATA", str(tmp_path / "config"))
    monkeypatch.setattr("rushlight.files.recent.own_folder", lambda: tmp_path / "config" / "rushlight")
    return tmp_path / "config" / "rushlight"


def plan(folder):
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text("rushlight: 1\n")
    return folder


def test_the_latest_first_each_once(tmp_path):
    for name in ("a", "b", "a"):
        remember_plan(plan(tmp_path / name), name)
    assert [row.title for row in recent_plans()] == ["a", "b"]


def test_a_plan_that_is_gone_is_not_shown(tmp_path):
    remember_plan(plan(tmp_path / "a"), "a")
    (tmp_path / "a" / "plan.yaml").unlink()
    assert recent_plans() == ()


def test_the_list_is_bounded(tmp_path):
    for n in range(MOST + 5):
        remember_plan(plan(tmp_path / f"p{n}"), str(n))
    assert len(recent_plans()) == MOST


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '[{"folder": 3, "title": "x"}]', '{"a": 1}', "[1]"])
def test_a_damaged_list_counts_as_empty_and_is_mended(text, own_folder, tmp_path):
    own_folder.mkdir(parents=True)
    (own_folder / "recent.json").write_text(text)
    assert recent_plans() == ()
    remember_plan(plan(tmp_path / "a"), "a")
    assert [row.title for row in recent_plans()] == ["a"]
