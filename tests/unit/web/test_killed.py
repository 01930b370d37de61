"""Nothing acknowledged is lost when the server is killed, and nothing is half-written."""

from __future__ import annotations

import random

import pytest

from killing import PROGRAM, SAVING_ALONE, TEXT, kill_once

MOST_STEPS = 400


@pytest.fixture
def killed(tmp_path):
    """Kills it so many times on one plan after the other; how many edits were acknowledged in all."""
    def run(times, words, seed):
        rng, acknowledged = random.Random(seed), 0
        for number in range(times):
            folder = tmp_path / f"boat {number // MOST_STEPS}"
            if not folder.exists():
                folder.mkdir()
                (folder / "plan.yaml").write_text(TEXT, encoding="utf-8")
            acknowledged += kill_once(folder, rng, words)
            left = [path.name for path in folder.iterdir() if path.name.endswith(".new")]
            assert len(left) <= 1, left
        return acknowledged
    return run


def test_killed_six_times(killed):
    """Twice the program as it is, four times without the process that works designs out; a thousand in prove."""
    assert killed(2, PROGRAM, 1) + killed(4, SAVING_ALONE, 2) > 6


@pytest.mark.slow
@pytest.mark.parametrize("seed", [3, 4, 5, 6])
def test_killed_a_thousand_times(killed, seed):
    """In four parts, so that two processors share them."""
    assert killed(250, SAVING_ALONE, seed) > 250
