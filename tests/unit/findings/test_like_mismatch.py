"""Lamps that should look alike, state by state."""

from __future__ import annotations

from pathlib import Path

import pytest

import rushlight
from designed import designed
from rushlight.findings import find
from rushlight.findings.light.like_mismatch import _worst

TUG = Path(rushlight.__file__).parent / "demos" / "tug" / "plan.yaml"


def test_the_state_in_which_two_differ_most_counts() -> None:
    worst = _worst({"towing": 24.0, "long tow": 16.0}, {"under way": 24.0, "towing": 15.0, "long tow": 15.0}, 1.0)
    assert worst is not None
    assert (worst.state, worst.got) == ("towing", pytest.approx(1.6)) and worst.steered


def test_two_that_are_never_lit_together_are_compared_at_their_brightest() -> None:
    worst = _worst({"day": 5.0, "dusk": 4.9}, {"night": 10.0}, 0.5)
    assert worst is not None
    assert (worst.state, worst.got, worst.steered) == ("", pytest.approx(1.0), False)


def test_one_that_is_never_lit_has_no_like() -> None:
    assert _worst({}, {"night": 10.0}, 1.0) is None
    assert _worst({"night": 3.0}, {}, 1.0) is None


def test_a_steering_diode_that_dims_one_of_two_in_a_state_is_told() -> None:
    found = [row for row in find(designed(TUG.read_text(encoding="utf-8"))) if row.key == "light.like-mismatch"]
    assert found and all("in 'towing'" in row.says or "in 'long tow'" in row.says for row in found)
    assert all("steering diode" in row.cure for row in found)
