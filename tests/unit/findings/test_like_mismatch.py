"""Lamps that should look alike, state by state."""

from __future__ import annotations

from pathlib import Path

import pytest

import rushlight
from designed import designed
from rushlight.findings import find
from rushlight.findings.light.like_mismatch import _worst
from rushlight.stages import switching

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


def test_the_tug_has_no_lamp_that_steps_and_none_unlike_its_like() -> None:
    design = designed(TUG.read_text(encoding="utf-8"))
    assert not [row for row in find(design) if row.key in ("light.like-mismatch", "light.state-step")]
    switch = design.power.switch
    assert switch is not None and switch.proved and switch.mixed == () and 0 < switch.diodes < 8
    lit = {state.state: {row.emitter: row.current_a.typical for row in state.lit} for state in design.power.states}
    three = [lit["long tow"][f"masthead {k}"] for k in (1, 2, 3)]
    assert max(three) < 1.1 * min(three)


def test_a_steering_diode_that_dims_one_of_two_in_some_states_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The tug with the fewest diodes on one pole, as it would come out if the step were not looked at, to a critical eye."""
    monkeypatch.setattr(switching, "diode_steps", lambda *_: None)
    critical = "\npractice: [{habit: equal, value: 1.3, to: 1.3}]\n"
    design = designed(TUG.read_text(encoding="utf-8") + critical)
    found = [row for row in find(design) if row.key == "light.like-mismatch"]
    assert found and all("in 'towing'" in row.says or "in 'long tow'" in row.says for row in found)
    assert all("steering diode" in row.cure for row in found)
    assert design.power.switch is not None and "A" in design.power.switch.mixed
