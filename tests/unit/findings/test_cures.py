"""Every cure that one edit brings: the finding goes, nothing worse comes, and the plan still reads."""

from __future__ import annotations

import json

import pytest

from finding_cases import case_keys, design_of, edited, read_case, spoiled
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan
from rushlight.findings import FINDINGS, find
from rushlight.findings.cures import CURES, cure_of
from rushlight.model.change import Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.stages.pipeline import design
from rushlight.working_plan import changed

NOT_CURED_THERE = {
    "plan.count-disputed", "plan.rule-unknown", "electric.lithium-bay", "electric.fuse-missing", "heat.fibre-too-warm",
}
"""Kinds whose case cannot be cured by one edit; each has a test of its own below."""


ROOM = {
    "electric.drift": [{"parts/board/bays/0/depth_mm": 40}],
    "electric.parallel-differ": [{"parts/board/bays/0/depth_mm": 40}],
    "electric.regulator-drops-out": [{"parts/board/bays/0/depth_mm": 40}],
    "electric.run-time": [{"parts/board/bays/0/rect_mm": [5, 5, 120, 80]}, {"parts/board/bays/0/depth_mm": 40},
                          {"lamps/flame/at_mm": [170, 50]}],
    "electric.evening-dims": [{"parts/board/bays/0/rect_mm": [5, 5, 120, 80]}, {"parts/board/bays/0/depth_mm": 40},
                              {"lamps/flame/at_mm": [170, 50]}],
    "electric.evening-short": [{"parts/board/bays/0/rect_mm": [5, 5, 120, 80]}, {"parts/board/bays/0/depth_mm": 40},
                               {"lamps/flame/at_mm": [170, 50]}],
}
"""A bay that more or larger cells go into: the case's own is too small for them."""


def cured(plan_design: Design, edit: Edit) -> Design:
    """The design after an edit, its plan written down and read again."""
    drawer = read_drawer(None)
    plan = changed(plan_design.plan, edit.changes)
    read = parse_plan(dump_plan(plan), "plan.yaml", drawer)
    return design(read, own_values(drawer, read))


def nothing_worse(before: tuple[Finding, ...], after: tuple[Finding, ...], was: Finding) -> list[str]:
    """Findings that an edit brought and that weigh more than the one that it cured."""
    known = {(row.key, row.grade) for row in before}
    return [f"{row.key}: {row.says}" for row in after if (row.key, row.grade) not in known and row.grade > was.grade]


@pytest.mark.parametrize("key", case_keys())
def test_no_offer_breaks_the_case_and_its_own_cures_it(key: str) -> None:
    case = read_case(key)
    made = spoiled(design_of(case.trips), case.spoils)
    before = find(made)
    _every_offer_can_be_made(made, before)
    if key in set(CURES) - NOT_CURED_THERE:
        if key in ROOM:
            made = spoiled(design_of(edited(case.trips, ROOM[key])), case.spoils)
            before = find(made)
        _cured_by_its_own(key, made, before)


def test_every_cure_has_a_case() -> None:
    assert set(CURES) <= set(case_keys())


def _every_offer_can_be_made(made: Design, found: tuple[Finding, ...]) -> None:
    """Whatever else a case trips: every offer can be made, goes through JSON, and leaves a plan that reads."""
    for finding in found:
        edit = cure_of(made, finding)
        if edit is not None:
            _well_said(edit)
            changed(made.plan, edit.changes)


def _cured_by_its_own(key: str, made: Design, before: tuple[Finding, ...]) -> None:
    finding = next(row for row in before if row.key == key)
    edit = cure_of(made, finding)
    assert edit is not None, f"{key} offers nothing for its own case"
    _well_said(edit)
    after = find(cured(made, edit))
    assert (key, finding.item) not in {(row.key, row.item) for row in after}, f"{edit.says} leaves it"
    assert not nothing_worse(before, after, finding), edit.says


def _well_said(edit: Edit) -> None:
    assert edit.says[0] == edit.says[0].upper() and edit.says.endswith(".") and "  " not in edit.says, edit.says
    assert "None" not in edit.says and "nan" not in edit.says.split(), edit.says
    assert edit.changes
    for change in edit.changes:
        assert json.loads(json.dumps(dict(change.values))) == dict(change.values)


def test_only_known_kinds_have_a_cure() -> None:
    assert set(CURES) <= {rule.key for rule in FINDINGS}


def one(key: str, plan: object) -> tuple[Design, Finding]:
    made = design_of(plan)
    return made, next(row for row in find(made) if row.key == key)


def test_a_count_that_all_evidence_shows_is_taken() -> None:
    case = read_case("plan.count-disputed")
    made, finding = one("plan.count-disputed", edited(case.inside, [{"rows/portlights/count": 5}]))
    edit = cure_of(made, finding)
    assert edit is not None and edit.says == "Build 4 of 'portlights' instead of 5, as the evidence shows."
    assert "plan.count-disputed" not in {row.key for row in find(cured(made, edit))}
    disputed, open_one = one("plan.count-disputed", case.trips)
    assert cure_of(disputed, open_one) is None  # 3 or 4: only another look at the pictures tells


def test_a_rule_that_is_nearly_spelled_is_read() -> None:
    case = read_case("plan.rule-unknown")
    made, finding = one("plan.rule-unknown", edited(case.trips, [{"states/0/rule": "at anchr"}]))
    edit = cure_of(made, finding)
    assert edit is not None and "'at anchor'" in edit.says
    assert "plan.rule-unknown" not in {row.key for row in find(cured(made, edit))}


def test_a_sealed_lithium_bay_gets_a_hatch_and_a_tight_one_nothing() -> None:
    case = read_case("electric.lithium-bay")
    made, finding = one("electric.lithium-bay", edited(case.inside, [{"parts/board/bays/0/access": "sealed"}]))
    edit = cure_of(made, finding)
    assert edit is not None and "electric.lithium-bay" not in {row.key for row in find(cured(made, edit))}
    tight, small = one("electric.lithium-bay", case.trips)
    assert cure_of(tight, small) is None or "electric.lithium-bay" not in {
        row.key for row in find(cured(tight, cure_of(tight, small)))}  # type: ignore[arg-type]


def test_a_fuse_that_the_drawer_lacks_is_named_where_the_wire_bears_it() -> None:
    case = read_case("electric.fuse-missing")
    made, finding = one("electric.fuse-missing", edited(case.trips, [{"strips/glow/along_mm": [[30, 26], [1530, 26]]}]))
    edit = cure_of(made, finding)
    assert edit is not None and edit.says.startswith("Put a fuse of ")
    after = cured(made, edit)
    assert after.power.supply.fuse_a == edit.changes[0].values["fuse_a"]
    assert not {row.key for row in find(after)} & {"electric.fuse-missing", "electric.fuse-blows"}
    heavy, far_too_much = one("electric.fuse-missing", case.trips)
    assert cure_of(heavy, far_too_much) is None  # 5.5 A and no wire of the loom that bears it


def test_an_led_too_hot_for_its_bundle_gets_less_current() -> None:
    base = edited(read_case("heat.fibre-too-warm").inside, [{"rows/portlights/brightness": {"intensity_mcd": 2000}}])
    row = design_of(base).loom.emitters[0].part_row
    hot = [{"table": "leds", "row": row, "column": "r_th_ja_k_per_w", "value": 2000}]
    made, finding = one("heat.fibre-too-warm", edited(base, [{"drawer": hot}]))
    edit = cure_of(made, finding)
    assert edit is not None and "mA" in edit.says
    assert "heat.fibre-too-warm" not in {row.key for row in find(cured(made, edit))}


def test_a_hot_regulator_becomes_two_of_half_the_current_and_a_strip_keeps_its_voltage() -> None:
    made, finding = one("heat.regulator-too-hot", read_case("heat.regulator-too-hot").trips)
    edit = cure_of(made, finding)
    assert edit is not None and "linear regulator 10 mA" in edit.says
    assert {row.count for row in cured(made, edit).power.regulators} == {2}


def test_fewer_volts_for_a_hot_resistor_keep_the_light() -> None:
    made, finding = one("heat.resistor-over-rating", read_case("heat.resistor-over-rating").trips)
    edit = cure_of(made, finding)
    assert edit is not None and "adapter of" in edit.says
    after = cured(made, edit)
    assert after.power.states[0].lit[0].current_a.typical > 0.9 * made.power.states[0].lit[0].current_a.typical
    pinned = edited(read_case("heat.resistor-over-rating").trips, [
        {"pinned": [{"of": "A", "choice": "current_ma", "value": "25"}]}, {"supply/adapter_v": 24}])
    held, hot = one("heat.resistor-over-rating", pinned)
    assert cure_of(held, hot) is not None


def test_what_only_the_modeller_can_tell_is_not_offered() -> None:
    for key in ("plan.lamp-without-evidence", "plan.version-unset", "plan.mark-colour", "loom.hinge-unknown"):
        assert key not in CURES


def test_a_long_strip_is_not_dimmed_by_a_resistor_that_burns_more_than_any_bears() -> None:
    """1.1 V at 0.58 A and, on a fresh supply with LEDs of low voltage, half as much again: over 1 W (derived: P = I^2 R)."""
    trips = read_case("electric.driver-over-current").trips
    trips = {**trips, "strips": [row for row in trips["strips"] if row["name"] in ("glow", "glare")]}
    long = [{"parts/wall/outline_mm": [[0, 0], [2500, 0], [2500, 60], [0, 60]]},
            {f"strips/{name}/along_mm": [[0, y], [2400, y]] for name, y in (("glow", 26), ("glare", 40))}]
    made = design_of(edited(trips, long))
    over = [row for row in find(made) if row.key == "electric.driver-over-current"]
    assert over
    assert all(cure_of(made, row) is None for row in over)
