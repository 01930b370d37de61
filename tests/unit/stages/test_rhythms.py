"""What makes each rhythm, in the network, the order and the list of what to buy."""

from __future__ import annotations

import pytest

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.model.design import Design
from rushlight.stages.rhythms import channels, idle_a, made_rhythms, unmade, value

TWO = """{name: a, part: board, at_mm: [30, 80], colour: red, model_mm: 3, states: day, rhythm: Fl R 4s}
{name: b, part: board, at_mm: [60, 80], colour: red, model_mm: 3, states: [day, night], rhythm: Fl R 4s}
{name: c, part: board, at_mm: [90, 80], colour: red, model_mm: 3, states: day}"""


def made(more: str = "") -> Design:
    return designed(board(TWO, supply=SUPPLY_AA, more=more))


def of(design: Design):  # type: ignore[no-untyped-def]
    return made_rhythms(design.plan, design.circuits, design.loom)


def test_a_rhythm_without_a_maker_is_made_by_nothing() -> None:
    design = made()
    assert [row.by for row in of(design)] == [None, None]
    assert len(unmade(of(design))) == 2 and channels(of(design)) == ()


def test_channels_take_the_pins_in_order_and_run_out() -> None:
    design = made("rhythms: [{rhythm: Fl R 4s, by: controller}]\ncontroller: {pins: [9]}\n")
    assert [row.pin for row in of(design)] == [9, None]
    assert [row.pin for row in channels(of(design))] == [9]
    assert unmade(of(design)) == ()


def test_straying_rhythms_lie_evenly_about_their_own_period() -> None:
    design = made("rhythms: [{rhythm: Fl R 4s, by: controller, drift_share: 2 %}]\n")
    assert [row.stretch for row in of(design)] == pytest.approx([0.99, 1.01])
    assert [row.rhythm.period_s for row in channels(of(design))] == pytest.approx([3.96, 4.04])


def test_the_board_draws_in_every_state_and_the_lamps_stay_as_they_are() -> None:
    plain, driven = made(), made("rhythms: [{rhythm: Fl R 4s, by: controller}]\ncontroller: {idle_ma: 20}\n")
    for before, after in zip(plain.power.states, driven.power.states, strict=True):
        lamps = sum(row.current_a.typical for row in after.lit)
        assert after.supply_a.typical == pytest.approx(lamps + 0.020, rel=0.02)  # Kirchhoff; the board is a resistor
        assert after.mean_a > before.mean_a + 0.019
        assert after.run_time_h.typical < before.run_time_h.typical
    assert idle_a(driven.plan, of(driven)) == 0.020
    for old, new in zip(plain.power.states[0].lit, driven.power.states[0].lit, strict=True):
        assert new.current_a.typical == pytest.approx(old.current_a.typical, rel=0.11)  # one step of E24 at most


def test_a_flasher_draws_and_drops_as_its_row_says() -> None:
    design = made("rhythms: [{rhythm: Fl R 4s, by: flasher}]\n")
    assert idle_a(design.plan, of(design)) == pytest.approx(2 * value("flasher_idle_ma") / 1000)
    assert not [step for step in design.order.steps if step.key == "controller"]


def test_leds_that_time_themselves_change_no_current() -> None:
    plain, timed = made(), made("rhythms: [{rhythm: Fl R 4s, by: self-timed led}]\n")
    assert [row.supply_a for row in plain.power.states] == [row.supply_a for row in timed.power.states]
    lines = [line.name for line in timed.shopping.lines if "times itself" in line.name]
    assert len(lines) == 2


def test_the_program_is_loaded_before_the_bench_test_and_the_bay() -> None:
    design = made("rhythms: [{rhythm: Fl R 4s, by: controller}]\n")
    number = {step.key: step.number for step in design.order.steps}
    assert number["test_parts"] < number["controller"] < number["bench_test"] < number["bay_fit"]
    step = next(step for step in design.order.steps if step.key == "controller")
    assert "pin 0 lights circuit A: Fl R 4s" in step.details
    names = [line.name for line in design.shopping.lines]
    assert "small controller board that runs MicroPython" in names and "driver for one channel, in the plus" in names


def test_the_book_holds_both_programs() -> None:
    from rushlight.findings import find
    from rushlight.sheets import draw
    from rushlight.sheets.exports import exports

    design = made("rhythms: [{rhythm: Fl R 4s, by: controller}]\n")
    files = {row.path: row.text for row in exports(draw(design, find(design)))}
    assert "('A', 0, True, ((65535, 500), (0, 3500),))," in files["program/main.py"]
    assert "('A', 0)," in files["program/pin_test.py"]
