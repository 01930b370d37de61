"""ngspice (Debian package, release 39 or later) as the bench: a loom soldered wrongly, read with a 10 megohm meter.

Each fault is written into the elements here, without the engine's own ways; ngspice says what flows, the voltmeter is a
resistor of 10 megohm between the probes, the ohmmeter 0.3 V behind 1 kohm with the supply taken off. From these readings,
off by up to the maker's bound (1 % and 2 digits), the true fault must never be excluded.
"""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from outside.looms import spice_nodes
from outside.tools import needed_program
from rushlight.electric.elements import Element, Network, columns_of, resistor, source, string
from rushlight.electric.fault import Fault
from rushlight.stages.fault_finding import KnownFaults, Probe, Seen, verdict
from rushlight.stages.fault_seen import KINDS
from rushlight.stages.fault_shows import node_of
from seeded_faults import METER, bench, exact_fault, holds, named_faults

OPEN_OHM, METER_OHM, OL_OHM = 1e12, 1e7, 1e7
DARK_A, DIM_SHARE = 1e-5, 0.5


def soldered(network: Network, fault: Fault) -> list[Element]:
    """The loom's elements with the fault; each string as its resistor and its LEDs."""
    ends = moved(network, fault)
    found: list[Element] = []
    for element in network.elements:
        one = replace(element, node_a=ends.get((element.name, 0), element.node_a),
                      node_b=ends.get((element.name, 1), element.node_b))
        kind = fault.kind if fault.element == element.name else ""
        found += lamp(one, kind, fault.factor) if one.kind == "string" else [joint(one, kind, fault)]
    if fault.kind == "bridged":
        found.append(resistor("solder", fault.element, fault.other, ohm=1e-3))
    return found


def moved(network: Network, fault: Fault) -> dict[tuple[str, int], str]:
    """New ends of leads on wrong places."""
    wires = {element.name: (element.node_a, element.node_b) for element in network.elements}
    if fault.kind == "wrong splice":
        return {(fault.element, wires[fault.element].index(fault.at)): fault.other}
    if fault.kind == "swapped":
        near = 1 if fault.at == wires[fault.element][1] else 0
        return {(fault.element, near): wires[fault.other][0], (fault.other, 0): wires[fault.element][near]}
    return {}


def lamp(element: Element, kind: str, factor: float) -> list[Element]:
    a, b = (element.node_b, element.node_a) if kind == "reversed" else (element.node_a, element.node_b)
    ohm = {"open": OPEN_OHM, "wrong resistor": element.ohm * factor}.get(kind, element.ohm)
    middle = f"inside {element.name}"
    first = resistor(f"r {element.name}", a, middle, ohm=max(ohm, 1e-4))
    if kind == "short":
        return [first, resistor(element.name, middle, b, ohm=1e-3)]
    return [first, string(element.name, middle, b, laws=element.laws)]


def joint(element: Element, kind: str, fault: Fault) -> Element:
    if element.kind == "source" and kind == "weak supply":
        return replace(element, emf_v=element.emf_v * fault.factor)
    if (kind == "open" and element.kind != "switch") or (fault.blown and element.name == "fuse"):
        return replace(element, ohm=OPEN_OHM)
    worse = kind in ("poor joint", "wrong resistor")
    return replace(element, ohm=1e-3 if kind == "short" else element.ohm * (fault.factor if worse else 1.0))


class Bench:
    """One wrong loom, as ngspice has it."""

    def __init__(self, whole: KnownFaults, fault: Fault, folder: Path) -> None:
        self.whole, self.fault, self.folder = whole, fault, folder
        self.elements = soldered(whole.network, fault)
        self.sound = self.amps(soldered(whole.network, Fault("none", "")), sound=True)
        self.now = self.amps(self.elements, light=True)

    def closed(self, *, sound: bool = False) -> dict[str, set[str]]:
        found = {state: set(on) for state, on in self.whole.closed.items()}
        for on in found.values():
            if self.fault.kind == "stuck" and not sound:
                on.add(self.fault.element)
            if self.fault.kind == "open" and not sound:
                on.discard(self.fault.element)
        return found

    def volts(self, elements: list[Element], *, sound: bool = False) -> tuple[Network, np.ndarray]:
        network = Network.of(elements)
        columns = columns_of(network, self.closed(sound=sound))
        program = needed_program("ngspice", "ngspice")
        return network, spice_nodes(network, columns, program=program, folder=self.folder, options="itl1=500")

    def amps(self, elements: list[Element], *, sound: bool = False, light: bool = False) -> dict[str, np.ndarray]:
        """Current of each lamp's brightest branch, or what of it makes light, and of the supply, for each state."""
        network, volts = self.volts(elements, sound=sound)
        row = {name: k for k, name in enumerate(network.nodes)}
        found = {}
        for element in network.elements:
            drop = volts[row[element.node_a]] - volts[row[element.node_b]]
            if element.name.startswith("r ") and " / " in element.name:
                touching = light and self.fault == Fault("short", element.name[2:])  # its legs: no light from it
                owner, amps = element.name[2:].rsplit(" / ", 1)[0], 0.0 * drop if touching else drop / element.ohm
                found[owner] = np.maximum(found.get(owner, amps), amps)
            if element.kind == "source":
                found["supply"] = (element.emf_v - drop) / element.ohm
        return found

    def fuse_goes(self) -> bool:
        """Whether some state draws more than the fuse bears, so that this loom cannot stay as it is."""
        return float(self.now["supply"].max()) > self.whole.fuse_a

    def shown(self, probe: Probe, chance: random.Random) -> Seen:
        state = list(self.whole.closed).index(probe.state)
        if probe.kind == "look":
            return self.look(probe, state)
        if probe.kind == "beside":
            share = [max(self.now[name][state] / self.sound[name][state], 0.003) for name in (probe.plus, probe.back)]
            ratio = share[0] / share[1]
            return Seen(probe, -1.0 if ratio < DIM_SHARE else 1.0 if ratio > 1 / DIM_SHARE else 0.0)
        value = self.measured(probe, state)
        return Seen(probe, value + chance.uniform(-0.95, 0.95) * METER.bound(value, probe.kind))

    def look(self, probe: Probe, state: int) -> Seen:
        lamps = {name: (self.sound[name][state], self.now[name][state]) for name in self.sound if name != "supply"}
        on = {name: pair for name, pair in lamps.items() if pair[0] > 3e-5}
        best = max((now / usual for usual, now in on.values()), default=0.0)
        dark = frozenset(name for name, (_, now) in on.items() if now < DARK_A)
        dim = frozenset(name for name, (usual, now) in on.items() if now / usual < DIM_SHARE * best) - dark
        lit = frozenset(name for name, (usual, now) in lamps.items() if usual < 3e-6 and now >= DARK_A)
        return Seen(probe, dark=dark, dim=dim, lit=lit)

    def measured(self, probe: Probe, state: int) -> float:
        if probe.kind == "supply":
            return float(1000 * self.now["supply"][state])
        ends = [node_of(self.whole, place) for place in (probe.plus, probe.back)]
        elements = [*self.elements, resistor("meter", *ends, ohm=METER_OHM)]
        if probe.kind == "ohms":
            off = [replace(one, emf_v=0.0, ohm=1e9) if one.kind == "source" else one for one in self.elements]
            elements = [*off, source("meter", *ends, emf_v=0.3, inner_ohm=1000.0)]
        if probe.kind == "diode":  # 1 mA at most, 3 V at most
            off = [replace(one, emf_v=0.0, ohm=1e9) if one.kind == "source" else one for one in self.elements]
            elements = [*off, source("meter", *ends, emf_v=3.0, inner_ohm=3000.0)]
        network, volts = self.volts(elements)
        shown = volts[network.nodes.index(ends[0]), state] - volts[network.nodes.index(ends[1]), state]
        if probe.kind == "volts":
            return float(shown)
        if probe.kind == "diode":
            return float(shown) if shown < 2.8 else OL_OHM
        through = max((0.3 - shown) / 1000.0, 1e-12)
        return float(min(shown / through, OL_OHM))


MORE = [pytest.param(name, seed, marks=pytest.mark.slow) for name in ("lighthouse", "tug") for seed in range(40)]
SOME = [*(("lantern", seed) for seed in range(20)), ("lighthouse", 104), ("lighthouse", 118), ("lighthouse", 128)]


@pytest.mark.parametrize(("name", "seed"), [*SOME, *MORE])
def test_a_fault_soldered_in_ngspice_is_never_excluded(name: str, seed: int, tmp_path: Path) -> None:
    whole, chance = bench(name), random.Random(seed % 100)
    while True:
        fault = exact_fault(whole, chance.choice(named_faults(name)), chance)
        wrong = Bench(whole, fault, tmp_path)
        if not wrong.fuse_goes():
            break
    seen = [wrong.shown(Probe(kind, state), chance) for kind in ("supply", "look") for state in whole.closed]
    for _ in range(4):
        found = verdict(whole, seen, meter=METER, ways=KINDS)
        assert holds(found, fault), (fault, seen)
        if found.next_probe is None or found.sound:
            return
        seen.append(wrong.shown(found.next_probe, chance))
    assert holds(verdict(whole, seen, meter=METER, ways=KINDS), fault), (fault, seen)
