"""ngspice (Debian package, release 39 or later) as the bench of looms with a controller: each fault soldered, gates read.

A small loom whose circuits hang on drivers of a controller that steps the states, and one whose rhythm a controller
makes behind the switch. Every single fault is written into the elements here, without the engine's own ways; the supply's
current in each state and the volts across each resistor must lie within what is foretold of that fault, or the fuse
must be foretold to go.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from designed import designed
from outside.test_ngspice_fault_finding import Bench, soldered
from plans import SUPPLY_AA, board
from rushlight.electric.fault import Fault
from rushlight.stages.fault_finding import KnownFaults, Probe, known_faults
from rushlight.stages.fault_known import identity
from rushlight.stages.fault_shows import shown_by_currents
from seeded_faults import METER, exact_fault

LAMPS = """
{name: bow, part: board, at_mm: [20, 70], colour: red, model_mm: 3, states: [day, night]}
{name: top, part: board, at_mm: [60, 70], colour: white, model_mm: 3, states: night, rhythm: Fl W 4s}
{name: stern, part: board, at_mm: [90, 70], colour: green, model_mm: 3, states: day}
"""
KINDS = ("open", "short", "reversed", "wrong resistor", "poor joint", "weak supply", "stuck", "bridged", "swapped",
         "wrong splice")
MORE = {
    "drivers": "controller: {states_by: button, most_v: 6}\n", "rhythm": "rhythms: [{rhythm: Fl W 4s, by: controller}]\n",
}
SLACK = 1e-3
"""Both solvers' own errors beside the meter's."""


@cache
def bench(name: str) -> KnownFaults:
    return known_faults(designed(board(LAMPS, supply=SUPPLY_AA, more=MORE[name])), exact=True)


class Soldered(Bench):
    """A wrong loom in ngspice, its currents alone."""

    def __init__(self, whole: KnownFaults, fault: Fault, folder: Path) -> None:
        self.whole, self.fault, self.folder = whole, fault, folder
        self.elements = soldered(whole.network, fault)
        self.now = self.amps(self.elements)


def cases_of(whole: KnownFaults, fault: Fault) -> list[int]:
    """Numbers of the cases that hold the fault; of a cold joint those whose range has its resistance."""
    return [k for k, case in enumerate(whole.bank.cases) if identity(case.fault) == identity(fault)
            and case.fault.ohm[0] <= fault.ohm[0] <= case.fault.ohm[1] + 1e-9]


def probes(whole: KnownFaults) -> list[Probe]:
    found = [Probe("supply", state) for state in whole.table.states]
    return found + [Probe("resistor", state, row.emitter) for state in whole.table.states
                    for row in whole.design.power.resistors]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", MORE)
def test_every_fault_of_a_loom_with_a_controller_reads_as_foretold(name: str, kind: str, tmp_path: Path) -> None:
    whole, chance = bench(name), random.Random(4)
    faults = dict.fromkeys(identity(case.fault) for case in whole.bank.cases
                           if case.fault.kind == kind and not case.fault.blown)
    foretold = {probe: shown_by_currents(whole, whole.bank, probe) for probe in probes(whole)}
    assert faults
    for fault in (exact_fault(whole, one, chance) for one in faults):
        wrong = Soldered(whole, fault, tmp_path)
        if wrong.fuse_goes():
            assert cases_of(whole, replace(fault, blown=True)), fault
            continue
        for probe, ends in foretold.items():
            read = value(wrong, probe)
            low, high = ends[cases_of(whole, fault)].T
            room = METER.bound(read, probe.kind) * 0.1 + SLACK
            assert low.min() - room <= read <= high.max() + room, (fault, probe, read, low, high)


def value(wrong: Soldered, probe: Probe) -> float:
    """What the meter shows: the supply's milliampere, or the volts across a resistor as it is fitted."""
    state = list(wrong.whole.closed).index(probe.state)
    if probe.kind == "supply":
        return 1000 * float(wrong.now["supply"][state])
    fitted = wrong.whole.design.power.resistor(probe.plus)
    assert fitted is not None
    other = wrong.fault.factor if wrong.fault.kind == "wrong resistor" and probe.plus in wrong.fault.element else 1.0
    return float(wrong.now[probe.plus][state]) * fitted.value_ohm * other
