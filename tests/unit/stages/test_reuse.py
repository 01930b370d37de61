"""A stage is computed again only when what it read has changed; the answer is the same either way."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import PACKAGED, planned
from plans import SUPPLY_AA, board
from rushlight.files.own_values import own_values
from rushlight.model.design import Design
from rushlight.model.plan import Plan
from rushlight.stages.pipeline import NEEDS, STAGES, design
from rushlight.stages.reads import READS, parts_read, without_words

LAMPS = """
{name: lantern, part: board, at_mm: [20, 80], size_mm: 300, colour: white, states: [night], source: {kind: led}, note: old, evidence: [{kind: guess, certainty: 0.5, count: 1-2}]}
{name: stern, part: board, at_mm: [150, 70], size_mm: 300, colour: red, states: [day, night], source: {kind: led}, brightness: {intensity_mcd: 20}}
"""
ROWS = "{name: ports, part: board, along_mm: [[20, 60], [80, 60]], count: 5, colour: warm white, size_mm: 50, states: [night], source: {kind: fibre}}"
TEXT = board(LAMPS, ROWS)

EDITS = {
    "note": ("note: old", "note: new"),
    "certainty": ("certainty: 0.5", "certainty: 0.9"),
    "count": ("count: 1-2", "count: 1-3"),
    "brightness": ("intensity_mcd: 20", "intensity_mcd: 40"),
    "place": ("[150, 70]", "[150, 75]"),
    "colour": ("colour: red", "colour: green"),
    "states": ("states: [day, night], source", "states: [day], source"),
    "rhythm": ("states: [day, night], source", "states: [day, night], rhythm: flicker, source"),
    "wall": ("relief: {flat: true}", "relief: {flat: true}\n    wall_mm: 3"),
    "scale": ('scale: "1:100"', 'scale: "1:90"'),
    "bay": ("access: open", "access: screwed hatch"),
    "limit": ("limit_a: 1", "limit_a: 2"),
    "minutes": ("{name: day}", "{name: day, minutes: 30}"),
    "pin": ("lamps:\n", "pinned: [{of: stern, choice: resistor_ohm, value: '910'}]\nlamps:\n"),
    "practice": ("lamps:\n", "practice: [{habit: wire_spare, value: 0.5}]\nlamps:\n"),
    "supply": (board("").splitlines()[-1], SUPPLY_AA.strip()),
}


@pytest.fixture(scope="module")
def before() -> Design:
    return made(planned(TEXT))[0]


def made(plan: Plan, previous: Design | None = None) -> tuple[Design, list[str]]:
    """A design, and the stages that ran."""
    ran: list[str] = []
    return design(plan, own_values(PACKAGED, plan), previous=previous, progress=ran.append), ran


def edited(name: str) -> Plan:
    old, new = EDITS[name]
    assert old in TEXT
    return planned(TEXT.replace(old, new, 1))


def test_a_first_design_runs_every_stage() -> None:
    assert made(planned(TEXT))[1] == list(STAGES)


def test_nothing_runs_when_nothing_changed(before: Design) -> None:
    again, ran = made(planned(TEXT), before)
    assert ran == [] and again == before


@pytest.mark.parametrize("name", ["note", "certainty"])
def test_words_run_no_stage(before: Design, name: str) -> None:
    after, ran = made(edited(name), before)
    assert ran == []
    assert after.plan != before.plan and replace(after, plan=before.plan) == before


def test_a_brightness_leaves_places_and_circuits_alone(before: Design) -> None:
    _, ran = made(edited("brightness"), before)
    assert ran[0] == "aim" and not {"lamps", "sources", "circuits"} & set(ran)


def test_a_place_runs_the_loom_but_not_what_it_left_as_it_was(before: Design) -> None:
    after, ran = made(edited("place"), before)
    assert ran[:3] == ["lamps", "sources", "circuits"] and "loom" in ran
    assert after.lamps != before.lamps and after.circuits == before.circuits


def test_a_count_in_the_evidence_leaves_the_power_alone(before: Design) -> None:
    """The stages that are given the lamps run, find the same, and what hangs on them stays."""
    after, ran = made(edited("count"), before)
    assert "lamps" in ran and "power" not in ran
    assert after.power is before.power


def test_minutes_of_a_state_run_the_power_and_nothing_before_it(before: Design) -> None:
    assert made(edited("minutes"), before)[1][0] == "power"


def test_another_drawer_runs_everything(before: Design) -> None:
    assert made(edited("practice"), before)[1] == list(STAGES)


@pytest.mark.parametrize("name", EDITS)
def test_the_answer_is_the_same_as_without_a_previous_design(before: Design, name: str) -> None:
    plan = edited(name)
    assert made(plan, before)[0] == made(plan)[0]


def test_a_stage_that_reads_what_it_does_not_list_is_told_so() -> None:
    handed = parts_read(planned(TEXT))["heat"]
    for read in (lambda: list(handed.lamps), lambda: bool(handed.lamps), lambda: handed.controller.idle_ma):  # type: ignore[union-attr]
        with pytest.raises(AttributeError, match=r"stage 'heat' reads the plan's \w+: add it to READS"):
            read()


def test_brightness_is_handed_to_the_aim_and_to_the_light_that_is_held_against_it_alone() -> None:
    handed = parts_read(planned(TEXT))
    for stage in ("aim", "light"):
        assert handed[stage].lamps[1].brightness.intensity_mcd == 20
    with pytest.raises(AttributeError, match="stage 'sources' reads the plan's brightness"):
        handed["sources"].lamps[1].brightness.intensity_mcd  # noqa: B018


def test_counts_of_evidence_stay_when_words_go() -> None:
    bare = without_words(planned(TEXT))
    assert bare.lamps[0].note == "" and bare.lamps[0].evidence[0].count == (1, 2)
    assert bare.lamps[1].brightness.intensity_mcd == 20


def test_every_stage_has_its_rows() -> None:
    assert tuple(READS) == tuple(NEEDS) == STAGES
