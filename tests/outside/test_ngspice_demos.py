"""ngspice (Debian package, release 39 or later): the whole network of each demo, in every state, as it is built.

Each LED at the junction temperature that the design tells. Default tolerances of the program; every lamp above 1 uA within 1e-5, the rest within 1e-8 A.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import rushlight
from designed import PACKAGED, designed
from outside.looms import spice_nodes
from outside.tools import needed_program
from plans import board
from rushlight.electric.elements import columns_of
from rushlight.electric.led import current_at_voltage
from rushlight.files.plan_yaml import read_plan
from rushlight.model.design import Design
from rushlight.model.plan_bench import Controller
from rushlight.stages.network import loom_network
from rushlight.stages.rhythms import made_rhythms, with_makers
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import switching

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.mark.parametrize("name", ["tug", "lighthouse", "lantern"])
def test_the_demo_agrees_with_ngspice(name: str, tmp_path: Path) -> None:
    agrees(designed(read_plan(DEMOS / name, PACKAGED).plan), tmp_path)


def test_the_tug_stepped_by_a_button_agrees_with_ngspice(tmp_path: Path) -> None:
    """Every circuit behind a driver of its own, in every state."""
    plan = replace(read_plan(DEMOS / "tug", PACKAGED).plan, controller=Controller(states_by="button", most_v=6))
    made = designed(plan)
    assert made.power.switch is not None and made.power.switch.stepped_by == "button" and made.power.switch.proved
    assert not any(state.lit_wrongly or state.dark_wrongly for state in made.power.states)
    agrees(made, tmp_path)


def test_leds_in_series_agree_with_ngspice(tmp_path: Path) -> None:
    lamps = "\n".join(
        f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: day}}" for k in range(7)
    )
    made = designed(board(lamps, more='pinned: [{of: A, choice: leds_in_series, value: "3"}]\n'))
    assert [len(string.emitters) for string in made.loom.strings] == [2, 3, 2]
    agrees(made, tmp_path)


def agrees(made: Design, tmp_path: Path, options: str = "itl1=500") -> None:
    rhythms = made_rhythms(made.plan, made.circuits, made.loom)
    plain = switching(made.plan, made.drawer, made.circuits, loom=made.loom)
    found = with_makers(plan=made.plan, found=plain, made=rhythms, ages=supply_ages(made.plan, made.drawer))
    values = {row.emitter: row.value_ohm for row in made.power.resistors}
    age = supply_ages(made.plan, made.drawer)[1]
    fuse = next((row for row in made.drawer.fuses if row.name == made.power.supply.fuse), None)
    program = needed_program("ngspice", "ngspice")
    worst_lit, worst_dark, lit = 0.0, 0.0, 0
    for state in made.power.states:
        junctions = {current.emitter: current.junction_c.typical for current in state.lit}
        network = loom_network(made.drawer, made.loom, found=found, age=age, fuse_ohm=fuse.inner_ohm if fuse else 0.0,
                               resistors=values, junction_c=junctions)
        columns = columns_of(network, {state.state: found.closed[state.state]})
        theirs_v = spice_nodes(network, columns, program=program, folder=tmp_path, options=options)
        row = {node: k for k, node in enumerate(network.nodes)}
        strings = [element for element in network.elements if element.kind == "string" and element.ohm > 0]
        ours = {current.emitter: current.current_a.typical for current in state.lit}
        for element in strings:
            emitter = element.name.rsplit(" / ", 1)[0]
            across = theirs_v[row[element.node_a], 0] - theirs_v[row[element.node_b], 0]
            theirs = string_current(element, float(across))
            mine = ours.get(emitter, 0.0)
            if theirs > 1e-6:
                lit += 1
                worst_lit = max(worst_lit, abs(mine - theirs) / theirs)
            else:
                worst_dark = max(worst_dark, abs(theirs - mine))
    assert lit >= len(made.loom.emitters)
    assert worst_lit < 1e-5  # source: ngspice in the same run
    assert worst_dark < 1e-6


def string_current(element, across_v: float) -> float:
    """Current of diodes and a resistor in series at a voltage, by halving: independent of the solver's own law."""
    low, high = 0.0, max(across_v / element.ohm, 0.0)
    for _ in range(200):
        middle = (low + high) / 2
        drop = middle * element.ohm + sum(_drop(law, middle) for law in element.laws)
        low, high = (middle, high) if drop < across_v else (low, middle)
    return (low + high) / 2


def _drop(law, current_a: float) -> float:
    thermal_v = 1.380649e-23 * 300.15 / 1.602176634e-19
    return law.ideality * thermal_v * np.log1p(current_a / law.saturation_a) + current_a * law.series_ohm


def test_the_halving_agrees_with_the_law() -> None:
    from rushlight.electric.led import law_spread

    law = law_spread("red").typical
    amps = float(current_at_voltage(law, 2.0))
    assert _drop(law, amps) == pytest.approx(2.0, abs=1e-6)
