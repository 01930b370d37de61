"""Order of work, gates, shopping."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.model.design import Design
from rushlight.stages.shopping import ohm_text, spare_count
from rushlight.tables import rows

LED = "{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 3, states: day}"
ROW = "{name: r, part: board, along_mm: [[20, 85], [110, 85]], count: 9, colour: warm white, model_mm: 0.5, states: day}"


@pytest.fixture(scope="module")
def both() -> Design:
    return designed(board(LED, ROW, supply=SUPPLY_AA))


def numbers(made: Design) -> dict[str, int]:
    return {step.key: step.number for step in made.order.steps}


def test_every_constraint_between_steps_that_are_needed_is_kept(both: Design) -> None:
    place = numbers(both)
    for row in rows("build_precedence"):  # source: build_precedence.csv, common practice
        if row["before"] in place and row["after"] in place:
            assert place[row["before"]] < place[row["after"]], row


@pytest.mark.parametrize(("before", "after"), [
    ("tube_on", "solder"), ("solder", "shrink"), ("soak", "close"), ("photo", "close"), ("paint", "trim"), ("bench_test", "fit_led"),
])
def test_what_cannot_be_undone_comes_after_its_test(both: Design, before: str, after: str) -> None:
    place = numbers(both)
    assert place[before] < place[after]  # source: common practice


def test_a_step_that_is_left_out_hands_on_what_it_needs() -> None:
    place = numbers(designed(board(LED)))  # one part: no slack test stands between the test of all states and the closing
    assert "slack_test" not in place
    assert place["fit_test"] < place["wired_dry_fit"] < place["soak"] < place["close"]  # source: build_precedence.csv
    assert place["fit_led"] < place["route"] < place["close"]


def test_steps_that_this_build_does_not_need_are_left_out() -> None:
    keys = set(numbers(designed(board(LED))))
    assert not keys & {"cut_fibre", "feed_fibre", "glue_fibre", "diffuser", "slack_test", "tint_clear"}
    assert {"cut_wire", "bench_test", "soak", "close"} <= keys


def test_a_wait_ends_a_sitting(both: Design) -> None:
    by_number = {step.number: step for step in both.order.steps}
    for step in both.order.steps:
        for earlier in step.after:
            if by_number[earlier].wait_h >= 3:
                assert step.sitting > by_number[earlier].sitting
    assert [step.sitting for step in both.order.steps] == sorted(step.sitting for step in both.order.steps)


def test_a_gate_predicts_the_supply_current(both: Design) -> None:
    step = next(step for step in both.order.steps if step.key == "fit_test")
    reading = next(row for row in step.readings if row.state == "day" and row.unit == "mA")
    state = both.power.states[0]
    assert reading.reading.low < state.supply_a.low * 1000 < state.supply_a.high * 1000 < reading.reading.high
    fresh = sum(row.fresh_a for row in state.lit)  # derived: typical LEDs on fresh cells
    assert reading.reading.typical == pytest.approx(fresh * 1000)


def test_an_led_is_known_by_its_forward_voltage(both: Design) -> None:
    step = next(step for step in both.order.steps if step.key == "test_parts")
    red = next(row for row in step.readings if "red" in row.name)
    assert 1.5 < red.reading.typical < 2.0  # source: AlGaInP red at 1 mA, public data sheets: 1.6 to 1.9 V


def test_the_loom_without_lamps_is_open(both: Design) -> None:
    step = next(step for step in both.order.steps if step.key == "bench_test")
    assert math.isinf(next(row for row in step.readings if row.name == "no short").reading.high)


def test_cautions_stand_at_their_step_and_only_where_they_apply(both: Design) -> None:
    cautions = {step.key: set(step.cautions) for step in both.order.steps}
    assert {"solder_fume", "solder_burn"} <= cautions["solder"]
    assert "heat_gun" in cautions["shrink"]
    assert "mains" not in cautions["bay_fit"] and "button_cell" not in cautions["bay_fit"]
    assert "mains" in {key for step in designed(board(LED)).order.steps for key in step.cautions}


def test_white_leds_come_with_a_word_about_static(both: Design) -> None:
    told = {step.key for step in both.order.steps if any("static" in detail for detail in step.details)}
    assert told == {"test_parts", "solder", "fit_led"}  # source: practice_rules.csv, static
    red = designed(board(LED))
    assert not any("static" in detail for step in red.order.steps for detail in step.details)


def test_what_hides_something_is_photographed(both: Design) -> None:
    assert all(step.photograph for step in both.order.steps if step.key in ("fit_led", "feed_fibre", "route", "close"))


def test_spares_are_a_tenth_and_two_at_least(both: Design) -> None:
    assert [spare_count(both.drawer, count) for count in (1, 20, 45)] == [2, 2, 5]  # source: habit spare_leds


def test_packs_cover_need_and_spares_and_costs_add_up(both: Design) -> None:
    for line in both.shopping.lines:
        assert line.packs * line.pack >= line.needed + line.spare - 1e-9
    assert both.shopping.total_eur.typical == pytest.approx(sum(line.cost_eur.typical for line in both.shopping.lines))


def test_lengths_bought_are_lengths_cut(both: Design) -> None:
    wire = sum(line.needed for line in both.shopping.lines if line.group == "wire")
    assert wire == pytest.approx(sum(lead.cut_mm for lead in both.loom.leads) / 1000)
    fibre = sum(line.needed for line in both.shopping.lines if line.group == "fibre")
    assert fibre == pytest.approx(sum(tail.cut_mm for tail in both.loom.tails) / 1000)


def test_resistances_are_said_as_the_trade_says_them() -> None:
    assert (ohm_text(470), ohm_text(4700)) == ("470 ohm", "4.7 kohm")


def test_each_circuit_that_flashes_takes_a_flasher() -> None:
    flame = "{name: %s, part: board, at_mm: [%d, 60], colour: red, model_mm: 3, states: day, rhythm: %s}"
    lamps = "\n".join(flame % row for row in (("a", 20, "Fl R 4s"), ("b", 40, "flicker"), ("c", 60, "F R"), ("d", 80, "Fl R 4s")))
    lines = [line for line in designed(board(lamps)).shopping.lines if "flasher" in line.name]
    assert [line.name[-9:] for line in lines] == ["circuit A", "circuit B"]  # derived: two rhythms; F is a fixed light
    assert [(line.group, line.needed, line.note) for line in lines] == [
        ("switch", 1, "makes Fl R 4s"), ("switch", 1, "makes flicker")]


@pytest.mark.parametrize("kind", ["fixed", "pivoting"])
def test_a_part_without_lamps_or_coats_still_waits_for_the_leak_gate(kind: str) -> None:
    """Leads lie on a dark part too: what its missing coat of reflector would have waited for, they wait for."""
    designed(f"""
rushlight: 1
subject: {{title: yard, scale: 100}}
states: [{{name: night}}]
parts:
  - {{name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {{flat: true}},
     bays: [{{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}}]}}
  - {{name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {{flat: true}}}}
crossings: [{{name: c, kind: {kind}, ends: [{{part: yard, at_mm: [100, 32]}}, {{part: wall, at_mm: [30, 1]}}]}}]
supply: {{kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}}
lamps:
  - {{name: flood, part: wall, at_mm: [30, 18], colour: white, size_mm: 200, states: [night]}}
""")
