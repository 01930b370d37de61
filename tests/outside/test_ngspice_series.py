"""ngspice (Debian package, release 39 or later): made-up models on cells whose LEDs the rule puts in series.

The whole network of each, in every state, with typical LEDs on the nominal supply; and with LEDs all of high or all of
low voltage on the flat supply, their own laws in the deck in place of the program's shift of the typical one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
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
    compared = 0
    for number, rows in enumerate(by_spice(made, 2, side, tmp_path).lamps):
        ours = {one.emitter: one.flat_spread_a for one in made.power.states[number].lit}
        for emitter, (_, theirs) in rows.items():
            if emitter in ours and not made.loom.beyond(emitter):
                mine = ours[emitter].high if side == "low" else ours[emitter].low
                # source: ngspice in the same run; a shift stands for the other law of the same LED
                assert mine == pytest.approx(theirs, rel=0.03), (emitter, made.loom.string_of(emitter))
                compared += 1
    assert compared


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_what_turns_to_heat_at_the_ends_agrees_with_ngspice(seed: int, tmp_path: Path) -> None:
    """Most on fresh cells, least on flat ones; LEDs of high voltage burn more in a string though they draw less."""
    made = made_up(seed)
    for age, end, worst in ((0, "high", max), (2, "low", min)):
        sides = [by_spice(made, age, side, tmp_path) for side in ("low", "high")]
        for number, state in enumerate(made.power.states):
            ends = {one.emitter: getattr(one.power_w, end) for one in state.lit}
            for one in state.lit:
                theirs = worst(math.prod(side.lamps[number][one.emitter]) for side in sides)
                # source: ngspice in the same run, U I between the terminals, the mean over a rhythm
                assert ends[one.emitter] == pytest.approx(theirs * one.on_share, rel=0.04), one.emitter
            given = worst(side.given_w[number] for side in sides)
            if all(one.on_share == 1 for one in state.lit):  # all that the cells give turns to heat
                assert sum(ends.values()) + getattr(state.feed_w, end) == pytest.approx(given, rel=0.04)


@dataclass(frozen=True)
class BySpice:
    """For each state the volts and amperes of each emitter, and what the cells give with their own loss [W]."""

    lamps: tuple[dict[str, tuple[float, float]], ...]
    given_w: tuple[float, ...]


def by_spice(made: Design, at_age: int, side: str, folder: Path) -> BySpice:
    """The loom as it is built, on the supply at one age, with LEDs all of low or high voltage by their own laws and
    resistors off by their tolerance to the same side."""
    off = {part.name: part.tolerance * (1 if side == "high" else -1) for part in made.drawer.resistors}
    rhythms = made_rhythms(made.plan, made.circuits, made.loom)
    ages = supply_ages(made.plan, made.drawer)
    found = with_makers(plan=made.plan, made=rhythms, ages=ages,
                        found=switching(made.plan, made.drawer, made.circuits, loom=made.loom))
    assert made.power.supply is not None
    fuse = next((row for row in made.drawer.fuses if row.name == made.power.supply.fuse), None)
    network = loom_network(made.drawer, made.loom, found=found, age=ages[at_age], fuse_ohm=fuse.inner_ohm if fuse else 0.0,
                           resistors={row.emitter: row.value_ohm * (1 + off[row.size]) for row in made.power.resistors})
    keys = {f"{one.name} / 1": made.drawer.led(one.part_row).law for one in made.loom.emitters}
    network = replace(network, elements=tuple(
        replace(element, laws=(getattr(law_spread(keys[element.name]), side),)) if element.name in keys else element
        for element in network.elements
    ))
    volts = spice_nodes(network, columns_of(network, found.closed), folder=folder, options=LEAK,
                        program=needed_program("ngspice", "ngspice"))
    row = {node: k for k, node in enumerate(network.nodes)}
    supply = next(element for element in network.elements if element.kind == "source")
    lamps, given = [], []
    for number in range(len(made.power.states)):
        across = {element.name.rsplit(" / ", 1)[0]: float(volts[row[element.node_a], number] - volts[row[element.node_b], number])
                  for element in network.elements if element.name in keys}
        of = {element.name.rsplit(" / ", 1)[0]: element for element in network.elements if element.name in keys}
        amps = {name: string_current(of[name], v) for name, v in across.items() if of[name].ohm > 0}
        for string in made.loom.strings:  # those beyond the first have no resistor to tell their current by
            amps.update(dict.fromkeys(string.emitters, max(amps.get(name, 0.0) for name in string.emitters)))
        lamps.append({name: (v, amps[name]) for name, v in across.items()})
        held = float(volts[row[supply.node_a], number] - volts[row[supply.node_b], number])
        given.append(ages[at_age].emf_v * (ages[at_age].emf_v - held) / ages[at_age].inner_ohm)
    return BySpice(tuple(lamps), tuple(given))
