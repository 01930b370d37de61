"""Other supplies, worked out whole: what is told of one is what the design of the plan with it has."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

import rushlight
from designed import PACKAGED, designed, planned
from plans import board
from rushlight.files.own_values import own_values
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan, read_plan
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.model.finding import Grade
from rushlight.stages.pipeline import design, powered
from rushlight.stages.supply_choice import weight_g
from rushlight.stages.supply_offers import offers
from rushlight.stages.supply_trial import SupplyTrial, tried_supply
from rushlight.stages.supply_trials import MOST_TRIED, SuppliesTried, supplies_tried, take_supply
from rushlight.stages.supply_units import holder_price_eur, unit_of
from rushlight.working_plan import changed

DEMOS = Path(rushlight.__file__).parent / "demos"
BLUE = "{name: beacon, part: board, at_mm: [20, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"
RED = "{name: lamp, part: board, at_mm: [20, 50], colour: red, model_mm: 3, states: [day, night], brightness: {intensity_mcd: 100}}"
REDS = "{name: reds, part: board, along_mm: [[20, 60], [110, 60]], count: 6, colour: red, model_mm: 3, states: day, brightness: {intensity_mcd: 200}, source: {kind: led}}"
AA3 = "supply: {kind: cells, cell: AA, in_series: 3, bay: bay, run_h: 4}\nevening: [{state: day, minutes: 120}]\n"


@cache
def lantern() -> Design:
    return designed(read_plan(DEMOS / "lantern", PACKAGED).plan)


@cache
def beacon() -> Design:
    return designed(board(BLUE, supply=AA3))


@cache
def row_of_red() -> Design:
    large = "{name: large, rect_mm: [120, 52, 75, 46], depth_mm: 40, access: open}"
    return designed(board("", REDS, supply=AA3.replace("bay: bay", "bay: large")).replace("bays: [", f"bays: [{large}, "))


@cache
def told(name: str) -> SuppliesTried:
    return supplies_tried(MADE[name]())


MADE = {"lantern": lantern, "beacon": beacon, "row": row_of_red}


def taken(made: Design, trial: SupplyTrial) -> Design:
    """The plan with the edit made, written down, read again and designed from nothing."""
    plan = changed(made.plan, take_supply(made, trial).changes)
    read = parse_plan(dump_plan(plan), "plan.yaml", PACKAGED)
    return design(read, own_values(PACKAGED, read))


# --- the promise --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", MADE)
def test_what_is_told_is_what_the_design_then_says(name: str) -> None:
    made, rows = MADE[name](), told(name).rows
    assert len(rows) > 3
    for row in rows[1:]:
        now = taken(made, row)
        assert now.power == row.power
        assert now.power.supply is not None
        assert row.name == now.power.supply.name
        assert row.run_h == min((state.run_time_h for state in now.power.states if state.lit), key=lambda h: h.typical)
        assert row.evening_h == (now.power.evening.ends_h if now.power.evening else None)
        assert row.wall_c == max((space.wall_c.typical for space in now.heat.spaces), default=None)


def test_price_and_weight_are_those_of_the_drawer() -> None:
    for row in told("lantern").rows:
        if row.supply.kind == "cells":
            part, count = PACKAGED.cell(row.supply.cell), row.supply.in_series * row.supply.in_parallel
            assert row.price_eur == pytest.approx(count * part.price_eur + holder_price_eur())
            assert row.weight_g == pytest.approx(count * weight_g(part))
        else:
            assert row.price_eur == unit_of(row.supply).price_eur and row.weight_g is None


@pytest.mark.parametrize("name", MADE)
def test_what_does_brings_no_finding_that_was_not_there(name: str) -> None:
    made = MADE[name]()
    before = {row.key for row in find(made)}
    short = {"electric.run-time", "electric.evening-short", "electric.bank-sleeps", "electric.supply-bay"}
    for row in told(name).rows[1:]:
        after = find(taken(made, row))
        if row.does:
            worse = [f for f in after if f.key not in before and (f.grade >= Grade.WILL_FAIL or f.key in short)
                     and not (f.key == "electric.run-time" and f.grade < Grade.DOUBTFUL)]
            assert not worse, (row.name, [f.says for f in worse])
        else:
            assert [f for f in after if f.key.startswith("electric.") and f.grade >= Grade.DOUBTFUL], row.name


def test_the_present_one_stands_among_them_first_and_unchanged() -> None:
    for name, make in MADE.items():
        own = told(name).rows[0]
        assert own.own and own.supply == make().plan.supply and own.power is make().power and own.changes == ()
        assert sum(row.own for row in told(name).rows) == 1


def test_the_lightest_and_the_cheapest_do_and_nothing_that_does_is_less() -> None:
    for name in MADE:
        found = told(name)
        does = [row for row in found.rows if row.does]
        assert found.cheapest in does and found.cheapest.price_eur == min(row.price_eur for row in does)
        inside = [row.weight_g for row in does if row.weight_g is not None]
        assert found.lightest is not None and found.lightest.weight_g == min(inside)


def test_the_loom_is_laid_once_and_nothing_else_than_asked_is_worked_out() -> None:
    stages: list[str] = []
    made = beacon()
    tried_supply(made, replace(made.plan.supply, kind="usb adapter"), progress=stages.append)
    assert stages == ["sources", "aim", "strings", "power"]


def test_powered_has_the_values_of_the_whole_design() -> None:
    plan = replace(lantern().plan, supply=replace(lantern().plan.supply, kind="adapter", adapter_v=12.0))
    whole, part = design(plan, lantern().drawer), powered(plan, lantern().drawer, previous=lantern())
    assert (part.power, part.strung.loom, part.aimed.sources) == (whole.power, whole.loom, whole.sources)
    assert (part.strung.trades, part.first_loom, part.circuits) == (whole.series, whole.first_loom, whole.circuits)


def test_never_more_than_six_and_the_same_twice() -> None:
    assert all(len(told(name).rows) <= 1 + MOST_TRIED for name in MADE)
    assert supplies_tried(beacon()) == told("beacon")


def test_a_plan_without_supply_or_lamps_has_none() -> None:
    assert supplies_tried(designed(board(RED, supply=""))).rows == ()
    assert supplies_tried(designed(board(supply=AA3))).rows == ()


def test_work_stops_where_progress_says_so() -> None:
    class Enough(Exception):
        pass

    def stop(stage: str) -> None:
        raise Enough

    with pytest.raises(Enough):
        supplies_tried(beacon(), progress=stop)


# --- why another is impossible ------------------------------------------------------------------------------------


def why(made: Design) -> dict[float, str]:
    return {row.class_v: row.why_not for row in offers(made).out}


def test_a_blue_led_has_too_little_from_one_or_two_aa() -> None:
    """A usual blue LED takes about 3 V (any data sheet; common practice, no source): two AA never reach it flat."""
    out = why(beacon())
    for volts in (1.5, 3.0):
        assert "blue LED of 'beacon'" in out[volts]
    red = why(designed(board(RED, supply=AA3)))
    assert 3.0 not in red and "red LED" in red[1.5]  # about 1.8 to 2 V


def strip_plan(more: str = "", *, supply: str) -> str:
    text = board("", supply=supply)
    text = text.replace("    relief:", "    openings: [{name: pane, rect_mm: [20, 30, 60, 10], diffusers: [{sheet: opal diffusing film, gap_mm: 1}]}]\n    relief:")
    return text + f"strips: [{{name: hall, part: board, openings: [pane], along_mm: [[20, 35], [80, 35]], gap_mm: 12, states: day, colour: warm white{more}}}]\n"


def test_a_strip_of_twelve_volts_is_out_on_five() -> None:
    held = designed(strip_plan(', strip: "12 V warm white 3528, 60 a metre"', supply="supply: {kind: adapter, adapter_v: 12, bay: bay}\n"))
    out = why(held)
    assert "made for 12 V and would be dim or dark" in out[5.0]
    free = designed(strip_plan(supply="supply: {kind: adapter, adapter_v: 12, bay: bay}\n"))
    other = next(row for row in supplies_tried(free).rows if row.supply.kind == "usb adapter")
    assert other.does and any(says.startswith("strip '5 V") for says in other.changes)


def test_a_power_bank_that_would_sleep_says_so() -> None:
    """Public measurements of power banks: many switch off under some 100 mA (power_bank.csv)."""
    bank = next(row for row in told("beacon").rows if row.supply.kind == "usb power bank")
    assert not bank.does and "asleep" in bank.bars[0]


def test_a_controller_bears_no_twelve_volts() -> None:
    made = designed(board(RED.replace("states: [day, night]", 'states: day, rhythm: "Fl 4s"'), supply=AA3,
                          more='rhythms: [{rhythm: "Fl 4s", by: controller}]\n'))
    assert "the controller and its drivers bear 5.5 V at most" in why(made)[12.0]


def test_what_does_not_go_into_the_bay_or_last_says_so() -> None:
    small = board(RED, supply=AA3).replace("[120, 0, 60, 48], depth_mm: 20", "[120, 0, 12, 12], depth_mm: 5")
    assert "goes into the bay" in why(designed(small))[4.5]
    long = why(designed(board(RED, supply=AA3.replace("run_h: 4", "run_h: 9000"))))
    assert "none lasts 9" in long[4.5]


# --- what changes -------------------------------------------------------------------------------------------------


def test_more_volts_bring_strings_and_other_resistors() -> None:
    made = row_of_red()
    nine = tried_supply(made, replace(made.plan.supply, in_series=6))
    assert any("in series" in says for says in nine.changes)
    assert nine.power.states[0].mean_a < 0.7 * made.power.states[0].mean_a
    assert nine.run_h.typical > 1.4 * made.power.states[0].run_time_h.typical


def test_heavier_cells_are_tried_where_the_lightest_does_not_last() -> None:
    """With its own loom a set may last less than the present currents promised: then the next heavier takes its place."""
    made = row_of_red()
    rows = supplies_tried(replace(made, plan=replace(made.plan, supply=replace(made.plan.supply, run_h=20.0)))).rows
    for at, row in enumerate(rows[:-1]):
        if row.weight_g is not None and not row.own and not row.lasts and not row.bars:
            assert rows[at + 1].weight_g is None or rows[at + 1].weight_g > row.weight_g


def test_a_finished_unit_stays_outside_and_cells_come_out_again() -> None:
    shut = designed(board(RED, supply=AA3).replace("access: open", "access: screwed hatch"))
    usb = next(row for row in supplies_tried(shut).rows if row.supply.kind == "usb adapter")
    assert usb.weight_g is None and usb.fits is None
    edit = take_supply(shut, usb)
    assert "from outside" in edit.says
    plan = changed(shut.plan, edit.changes)
    assert plan.parts[0].bays[0].access == "plug outside" and plan.supply.kind == "usb adapter"
    plugged = designed(plan)
    cells = next(row for row in supplies_tried(plugged).rows if row.supply.kind == "cells" and row.does)
    assert changed(plan, take_supply(plugged, cells).changes).parts[0].bays[0].access == "screwed hatch"


def test_lithium_is_one_cell_alone_and_primary_cells_never_lie_side_by_side() -> None:
    for name in MADE:
        for row in (*told(name).rows[1:], *told(name).out):
            if row.supply.kind == "cells":
                part = PACKAGED.cell(row.supply.cell)
                assert not part.coin
                assert row.supply.in_parallel == 1 or part.rechargeable
                assert not part.chemistry.startswith("lithium") or row.supply.in_series * row.supply.in_parallel == 1


def test_the_edit_takes_only_what_differs() -> None:
    made = lantern()
    row = next(row for row in told("lantern").rows if row.supply.cell == "N")
    (change,) = take_supply(made, row).changes
    assert dict(change.values) == {"cell": "N"}
    assert planned(dump_plan(changed(made.plan, [change]))).supply == replace(row.supply, note=made.plan.supply.note)
