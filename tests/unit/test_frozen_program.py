"""The program that is double-clicked, before it is frozen; `start.py freeze` makes it and proves it."""

from __future__ import annotations

import importlib.util
import os
import sys
from pathlib import Path

import pytest

TOOLS = Path(__file__).parents[2] / "tools"


@pytest.fixture
def program():
    spec = importlib.util.spec_from_file_location("frozen_program", TOOLS / "frozen_program.py")
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


@pytest.mark.parametrize(("typed", "run"), [([], ["open", "--leave-after", "15"]), (["check", "x"], ["check", "x"])])
def test_without_words_it_opens_the_app(program, monkeypatch, typed, run):
    asked = []
    monkeypatch.setattr("rushlight.cli.main", lambda words: asked.append(words) or 7)
    monkeypatch.setattr(sys, "argv", ["rushlight", *typed])
    assert program.main() == 7
    assert asked == [run]


def test_the_browser_does_not_load_our_libraries(program, monkeypatch):
    monkeypatch.setenv("LD_LIBRARY_PATH", "/folder/_internal")
    monkeypatch.setenv("LD_LIBRARY_PATH_ORIG", "/before")
    program._own_libraries_for_us_alone()
    assert os.environ["LD_LIBRARY_PATH"] == "/before"
    program._own_libraries_for_us_alone()
    assert "LD_LIBRARY_PATH" not in os.environ


def test_locks_hold_exact_versions_and_no_addresses():
    for path in TOOLS.parent.glob("requirements*.lock"):
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
        assert all("==" in line and "/" not in line for line in lines), path.name
