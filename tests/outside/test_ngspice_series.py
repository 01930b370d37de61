"""ngspice (Debian package, release 39 or later): made-up models on cells whose LEDs the rule puts in series.

The whole network of each, in every state, with typical LEDs on the nominal supply; and with LEDs all of high or all of
low voltage on the flat supply, their own laws in the deck in place of the program's shift of the typical one.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from designed import designed
from outside.looms import spice_nodes
from outside.test_ngspice_demos import agrees, string_current
from outside.tools import needed_program
from plans import board
from rushlight.electric.elements import columns_of
from rushlight.electric.led import law_spread
from rushlight.model.design import Design
from rushlight.stages.network import loom_network
from rushlight.stages.rhythms import made_rhythms, with_makers
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import switching

SEEDS = tuple(range(8))

LEAK = "itl1=2000 gmin=1e-11"
"""Nodes between the LEDs of a dark string float: with less leakage than this ngspice finds no operating point."""


@cache
def made_up(seed: int) -> Design:
    """A board with 8 to 20 LEDs of two colours in two states on 6 to 10 cells.

    Every other one has LEDs with a rhythm of a flasher, and is to run for long.
    """
    rng = np.random.default_rng(seed)
    lamps = []
    for k in range(int(rng.integers(8, 21))):
        colour = "red" if rng.random() < 0.75 else "yellow"
        state = "day" if k % 4 else "[day, night]"
        rhythm = ", rhythm: Iso 2s" if seed % 2 and k % 4 == 1 else ""
        x, y = float(rng.uniform(8, 112)), float(rng.uniform(8, 92))
        lamps.append(f"{{name: l{k}, part: board, at_mm: [{x:.1f}, {y:.1f}], colour: {colour}, model_mm: 3, "
                     f"states: {state}{rhythm}, source: {{kind: led}}}}")
    supply = f"supply: {{kind: cells, cell: AA, in_series: {int(rng.integers(6, 11))}, bay: bay, "
    supply += f"run_h: {200 if seed % 2 else 4}}}\n"
    return designed(board("\n".join(lamps), supply=supply, more="rhythms: [{rhythm: Iso 2s, by: flasher}]\n"))


def test_the_rule_strings_most_of_these_models() -> None:
    """Else the checks below would prove nothing of strings; pinned."""
    strung = [seed for seed in SEEDS if made_up(seed).loom.strings]
    assert len(strung) >= 5
    rhythms = {(row.name, row.rhythm) for seed in strung for row in made_up(seed).circuits
               if row.name in {one.circuit for one in made_up(seed).loom.strings}}
    assert {rhythm for _, rhythm in rhythms} == {"steady", "Iso 2s"}
    assert any(len({row.circuit for row in made_up(seed).loom.strings}) > 1 for seed in strung)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_loom_with_strings_of_the_rule_agrees_with_ngspice(seed: int, tmp_path: Path) -> None:
    agrees(made_up(seed), tmp_path, LEAK)


@pytest.mark.parametrize("seed", SEEDS[:4])
@pytest.mark.parametrize("side", ["low", "high"])
def test_the_worst_case_on_the_flat_supply_agrees_with_ngspice(seed: int, side: str, tmp_path: Path) -> None:
    made = made_up(seed)
    rhythms = made_rhythms(made.plan, made.circuits, made.loom)
    ages = supply_ages(made.plan, made.drawer)
    found = with_makers(plan=made.plan, made=rhythms, nominal_v=ages[1].emf_v,
                        found=switching(made.plan, made.drawer, made.circuits, loom=made.loom))
    assert made.power.supply is not None
    fuse = next((row for row in made.drawer.fuses if row.name == made.power.supply.fuse), None)
    network = loom_network(made.drawer, made.loom, found=found, age=ages[2], fuse_ohm=fuse.inner_ohm if fuse else 0.0,
                           resistors={row.emitter: row.value_ohm for row in made.power.resistors})
    keys = {f"{one.name} / 1": made.drawer.led(one.part_row).law for one in made.loom.emitters}
    network = replace(network, elements=tuple(
        replace(element, laws=(getattr(law_spread(keys[element.name]), side),)) if element.name in keys else element
        for element in network.elements
    ))
    theirs_v = spice_nodes(network, columns_of(network, found.closed), folder=tmp_path, options=LEAK,
                           program=needed_program("ngspice", "ngspice"))
    row = {node: k for k, node in enumerate(network.nodes)}
    compared = 0
    for number, state in enumerate(made.power.states):
        ours = {one.emitter: one.flat_spread_a for one in state.lit}
        for element in network.elements:
            emitter = element.name.rsplit(" / ", 1)[0]
            if element.name in keys and emitter in ours and not made.loom.beyond(emitter):
                last = made.loom.string_of(emitter)
                across = theirs_v[row[element.node_a], number] - theirs_v[row[element.node_b], number]
                theirs = string_current(element, float(across))
                mine = ours[emitter].high if side == "low" else ours[emitter].low
                # source: ngspice in the same run; a shift stands for the other law of the same LED
                assert mine == pytest.approx(theirs, rel=0.03), (emitter, last)
                compared += 1
    assert compared
