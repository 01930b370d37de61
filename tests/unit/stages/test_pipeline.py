"""The whole pipeline on the demos: laws of nature (in designed.py), determinism, what the plan asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

import rushlight
from designed import PACKAGED, designed
from rushlight.files.plan_yaml import read_plan
from rushlight.model.design import Design

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture(scope="module", params=["tug", "lighthouse", "lantern"])
def made(request: pytest.FixtureRequest) -> Design:
    """A demo, designed."""
    return designed(read_plan(DEMOS / request.param, PACKAGED).plan)


def test_every_state_lights_what_it_should(made: Design) -> None:
    for state in made.power.states:
        assert not state.lit_wrongly and not state.dark_wrongly
        circuits = {circuit.name for circuit in made.circuits if state.state in circuit.states}
        wanted = {emitter.name for emitter in made.loom.emitters if emitter.circuit in circuits}
        assert {row.emitter for row in state.lit} == wanted


def test_the_switch_is_proved(made: Design) -> None:
    assert made.power.switch is not None and made.power.switch.proved


def test_same_plan_same_design(made: Design) -> None:
    assert designed(made.plan) == made


def test_no_led_gets_more_than_was_aimed(made: Design) -> None:
    aims = {emitter.name: emitter.aim_current_a for emitter in made.loom.emitters if emitter.kind != "strip"}
    for state in made.power.states:
        for row in state.lit:
            if row.emitter in aims:
                assert row.current_a.typical <= aims[row.emitter] * 1.02  # rounding up of the resistor keeps it under


def test_shopping_covers_the_loom(made: Design) -> None:
    bought = {line.name: line.needed + line.spare for line in made.shopping.lines if line.group == "LEDs"}
    for name in {emitter.part_row for emitter in made.loom.emitters if emitter.kind != "strip"}:
        count = sum(emitter.part_row == name for emitter in made.loom.emitters)
        assert bought[name] >= count + 2
