"""Findings on what the plan wishes and the build does not do: rhythms, held choices, versions, likes, shared openings."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from finding_cases import CASES, design_of, edited
from rushlight.findings import FINDINGS
from rushlight.model.design import Design
from rushlight.model.finding import Finding

RULES = {rule.key: rule for rule in FINDINGS}
PRE_WIRED = "pre-wired 3 mm warm white for 9-12 V"


def made(base: str, *edits: dict[str, Any]) -> Design:
    plan = yaml.safe_load((CASES / "bases" / f"{base}.yaml").read_text(encoding="utf-8"))
    return design_of(edited(plan, list(edits)))


def found(key: str, design: Design) -> tuple[Finding, ...]:
    return RULES[key].find(design)


def lamp(name: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "part": "board", "at_mm": [120, 50], "colour": "red", "size_mm": 30, "states": ["on"],
            "evidence": [{"kind": "guess"}], **more}


def pin(of: str, choice: str, value: str) -> dict[str, Any]:
    return {"pinned": [{"of": of, "choice": choice, "value": value}]}


# --- rhythms --------------------------------------------------------------------------------------------------------


def test_the_current_told_is_the_most_that_the_solved_circuit_draws() -> None:
    design = made("one-lamp", {"lamps/flame/rhythm": "flash 60/min"}, {"lamps/+": lamp("twin", rhythm="flash 60/min")})
    amps = sum(row.current_a.high for row in design.power.states[0].lit)
    (finding,) = found("electric.nothing-flashes", design)
    assert f"A (flash 60/min, 2 lamps, up to {1000 * amps:.2g} mA)" in finding.says  # derived: both LEDs of the network


def test_a_lamp_that_is_not_wired_asks_for_no_flasher() -> None:
    unplaced = {"lamps": [{"name": "loose", "colour": "red", "states": ["on"], "rhythm": "Fl 4s"}]}
    assert not found("electric.nothing-flashes", made("one-lamp", unplaced))


def test_a_flasher_is_told_without_a_supply_and_without_a_bay() -> None:
    design = made("one-lamp", {"lamps/flame/rhythm": "Fl 4s"}, {"supply": None}, {"parts/board/bays": None})
    (finding,) = found("electric.nothing-flashes", design)
    assert "no current" in finding.says and "the bay of the supply" in finding.cure


# --- held choices ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("base", "held", "tells"), [
    ("strip", pin("glow", "current_ma", "40"), False),
    ("strip", pin("A", "current_ma", "40"), False),
    ("strip", pin("glow: window", "current_ma", "40"), True),
    ("strip", pin("glow", "led", "3 mm red, diffused"), True),
    ("one-lamp", pin("flame", "led", "3 mm red, diffused"), False),
    ("one-lamp", pin("flame", "resistor_ohm", "330"), False),
    ("one-lamp", pin("flame", "fibres_per_led", "3"), True),
    ("one-lamp", pin("flame", "illuminator_part", "board"), True),
    ("room", pin("parlour", "current_ma", "5"), False),
])
def test_a_held_choice_is_judged_by_what_makes_the_lamp(base: str, held: dict[str, Any], tells: bool) -> None:
    assert bool(found("plan.pin-without-effect", made(base, held))) is tells


@pytest.mark.parametrize(("of", "choice", "value"), [("glow", "current_ma", "25"), ("A", "current_ma", "25")])
def test_what_is_called_usable_for_a_strip_does_change_it(of: str, choice: str, value: str) -> None:
    plain, held = made("strip"), made("strip", pin(of, choice, value))
    assert plain.loom != held.loom


def test_a_choice_held_for_a_lamp_that_is_left_out_is_told() -> None:
    design = made("one-lamp", {"lamps/+": lamp("gone", worth="left out")}, pin("gone", "current_ma", "5"))
    (finding,) = found("plan.pin-without-effect", design)
    assert "not built" in finding.says and "'flame'" in finding.cure


def test_a_pre_wired_led_takes_neither_current_nor_resistor() -> None:
    own = {"lamps/flame/source": {"kind": "led", "led": PRE_WIRED}}
    for choice, value in (("current_ma", "5"), ("resistor_ohm", "330")):
        (finding,) = found("plan.pin-without-effect", made("one-lamp", own, pin("flame", choice, value)))
        assert "pre-wired" in finding.says


# --- openings, likes, versions ----------------------------------------------------------------------------------------


def behind(name: str) -> dict[str, Any]:
    return {"name": name, "part": "wall", "openings": ["window"], "along_mm": [[30, 40], [130, 40]], "gap_mm": 25,
            "colour": "warm white", "states": ["on"], "evidence": [{"kind": "guess"}]}


def test_two_strips_behind_one_opening_are_told() -> None:
    (finding,) = found("plan.opening-lit-twice", made("strip", {"strips/+": behind("second")}))
    assert "'glow' and 'second'" in finding.says


def test_two_lamps_in_one_room_are_told() -> None:
    second = {"name": "hearth", "part": "wall", "at_mm": [64, 26], "opening": "window", "source": {"kind": "room"},
              "colour": "orange", "states": ["on"], "evidence": [{"kind": "guess"}]}
    (finding,) = found("plan.opening-lit-twice", made("room", {"lamps/+": second}))
    assert "'parlour' and 'hearth'" in finding.says


def test_a_like_that_is_left_out_is_said_to_be_left_out() -> None:
    other = {"lamps/+": lamp("other", brightness={"like": "flame"})}
    (finding,) = found("plan.like-not-built", made("one-lamp", other, {"lamps/flame/worth": "left out"}))
    assert "'flame', which is left out" in finding.says
    assert not found("plan.like-not-built", made("one-lamp", other))


def test_no_version_chosen_is_told_once_for_all_lamps_that_some_versions_have() -> None:
    versions = {"versions": [{"name": "early"}, {"name": "late"}], "lamps/flame/versions": ["late"]}
    both = made("one-lamp", versions, {"lamps/+": lamp("other", versions=["early"])}, {"lamps/+": lamp("third")})
    (finding,) = found("plan.version-unset", both)
    assert "'flame' and 'other' belong" in finding.says
    assert not found("plan.version-unset", made("one-lamp", versions, {"version": "late"}))


# --- widths -----------------------------------------------------------------------------------------------------------


def test_a_lamp_far_wider_than_any_part_gets_a_dome_alone() -> None:
    (finding,) = found("light.lamp-wider-than-source", made("one-lamp", {"lamps/flame/size_mm": 300}))
    assert "dome" in finding.cure and "take the" not in finding.cure  # 30 mm at scale: no LED is so wide


def test_a_wide_lamp_of_thin_fibre_is_told_the_fibre_that_is_wide_enough() -> None:
    thin = {"lamps/flame/size_mm": 15, "lamps/flame/source": {"kind": "fibre", "fibre_mm": 0.5}}
    (finding,) = found("light.lamp-wider-than-source", made("one-lamp", thin))
    assert finding.number == pytest.approx(3, rel=0.05)  # derived: 1.5 mm over 0.5 mm of fibre, less its cladding
    assert "take 1.5 mm fibre" in finding.cure
