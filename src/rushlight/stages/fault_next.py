"""What could be looked at, compared or measured next, the easiest first."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from rushlight.model.design_loom import Emitter
from rushlight.stages.fault_known import KnownFaults
from rushlight.stages.fault_looks import looks_of
from rushlight.stages.fault_probe import lets_through
from rushlight.stages.fault_seen import Probe, Seen
from rushlight.stages.fault_shows import BEHIND_FUSE, Few, node_of
from rushlight.stages.network import node

MOST_PROBES, LEAST_PROBES = 600, 100
MOST_LOOKED_AT = 25_000
"""Probes times suspects: while there are very many suspects a plain question does."""

NAMED_STATES = 12

MOST_BESIDE = 40

FEW_ACROSS, MOST_ACROSS = 40, 12
"""With so few suspects any two of so many places are thought of."""

BEFORE_FUSE = "supply+"
"""No place to measure at: with a fuse that has blown its volts tell of the cells alone, not of the loom."""

LIKE_SHARE = 1.2
"""LEDs of one kind whose aims differ by less than this factor can be compared by eye."""


def probes_for(bench: KnownFaults, reach: str, seen: Sequence[Seen], few: Few) -> list[Probe]:
    """Everything that could be looked at or measured and was not yet: looks first, as they need no meter."""
    states = bench.table.states[:NAMED_STATES]
    found = [Probe("look", state) for state in states]
    found += _beside(bench, few, states)
    found += [Probe("supply", state) for state in states]
    if any(fault.blown for fault in few.bank.table.faults):
        found += [Probe("ohms", state, BEHIND_FUSE, "bay R") for state in states]
        found += [Probe("ohms", states[0], plus, back) for plus, back in _in_bay(bench)]
        found += [Probe("diode", state, BEHIND_FUSE, "bay R") for state in states if _steered(bench, few)]
    pairs = [pair for pair in _pairs(bench) if pair[0].startswith("bay ") and pair[1] == "bay R"]
    if reach == "all":
        suspected = [one.element for fault in few.bank.table.faults for one in fault.singles]
        pairs = [*pairs, *_along(bench, suspected), *_at_legs(bench, few), *_pairs(bench), *_across(bench, few)]
    found += [Probe("volts", state, plus, back) for plus, back in dict.fromkeys(pairs) for state in states]
    done = {row.probe for row in seen}
    most = min(MOST_PROBES, max(LEAST_PROBES, MOST_LOOKED_AT // len(few.bank.cases)))
    return [probe for probe in found if probe not in done][:most]


def _along(bench: KnownFaults, suspected: Sequence[str]) -> list[tuple[str, str]]:
    """The two ends of each suspected lead: what a joint drops shows there; then from the bay to its far end."""
    ends = {element.name: (element.node_a, element.node_b) for element in bench.network.elements
            if element.kind == "wire" and element.name.startswith("lead ")}
    bays = {f"lead {lead.name}": f"bay {lead.circuit}" if lead.net == "plus" else "bay R"
            for lead in bench.design.loom.leads}
    names = [name for name in dict.fromkeys(suspected) if name in ends]
    found = [(a.removeprefix("node "), b.removeprefix("node ")) for a, b in (ends[name] for name in names)]
    far = [(bays[name], place) for name in names for place in (end.removeprefix("node ") for end in ends[name])]
    return found + [pair for pair in far if pair[0] != pair[1] and node_of(bench, pair[0]) in bench.network.nodes]


def _steered(bench: KnownFaults, few: Few) -> bool:
    """Whether steering diodes lie in the way of an ohmmeter, and the diode test finds no way but over lamps.

    What feeds a controller or makes a rhythm lets some of it through: nobody knows how much.
    """
    back, sound = node_of(bench, "bay R"), few.wirings[0]
    return bool(sound[0].steering) and not any(
        lets_through(wiring, node_of(bench, BEHIND_FUSE), back)[1] for wiring in sound)


def _across(bench: KnownFaults, few: Few) -> list[tuple[str, str]]:
    """Any two of the places that a few suspects touch: joints that are mixed up show in odd voltages."""
    if len(few.bank.cases) > FEW_ACROSS:
        return []
    wires = {element.name: (element.node_a, element.node_b) for element in bench.network.elements}
    singles = [one for case in few.bank.cases for one in case.fault.singles]
    touched = [end for one in singles for name in (one.element, one.other, one.at)
               for end in wires.get(name, (name,)) if end.startswith("node ") or end[-1:] in ("+", "-")]
    known = [end.removeprefix("node ") for end in dict.fromkeys(touched)
             if end in bench.network.nodes and end != BEFORE_FUSE]
    return list(combinations(known[:MOST_ACROSS], 2))


def _at_legs(bench: KnownFaults, few: Few) -> list[tuple[str, str]]:
    """The two sides of each suspected emitter."""
    names = [one.element.rsplit(" / ", 1)[0] for fault in few.bank.table.faults for one in fault.singles]
    nodes = set(bench.network.nodes)
    return [(f"{name}+", f"{name}-") for name in dict.fromkeys(names) if {f"{name}+", f"{name}-"} <= nodes]


def _in_bay(bench: KnownFaults) -> list[tuple[str, str]]:
    nodes = set(bench.network.nodes)
    feeds = [f"bay {row.name}" for row in bench.design.circuits if node(f"bay {row.name}") in nodes]
    return [(feed, "bay R") for feed in feeds]


def _pairs(bench: KnownFaults) -> list[tuple[str, str]]:
    """A plus place and a return place each: every circuit's feed, then splices, then emitters themselves."""
    nodes = set(bench.network.nodes)
    splices = [(row.name, "bay R") for row in bench.design.loom.splices if row.net == "plus"]
    returns = [("bay " + first, row.name) for row in bench.design.loom.splices if row.net != "plus"
               for first in [bench.design.circuits[0].name] if node(f"bay {first}") in nodes]
    ends = [(f"{row.name}+", f"{row.name}-") for row in bench.design.loom.emitters if f"{row.name}+" in nodes]
    listed = [*_in_bay(bench), *splices, *returns, *ends]
    return [pair for pair in listed if all(node_of(bench, place) in nodes for place in pair)]


def _beside(bench: KnownFaults, few: Few, states: Sequence[str]) -> list[Probe]:
    """Lamps that are dim with one of the suspects, each beside one of its like that is lit in the same state."""
    found: list[Probe] = []
    for number, state in enumerate(states):
        on = {bench.bank.emitters[k] for k in np.flatnonzero(bench.bank.on[:, number]).tolist()}
        lit = [row for row in bench.design.loom.emitters if row.name in on]
        looks = looks_of(bench.bank, few.bank, number)
        doubt = np.flatnonzero(np.any(looks.perhaps | looks.faint, axis=0))
        unsure = {looks.emitters[k] for k in doubt.tolist()}
        for one in [row for row in lit if row.name in unsure]:
            like = next((row for row in lit if row.name not in unsure and alike(one, row)), None)
            like = like or next((row for row in lit if row is not one and alike(one, row)), None)
            found += [Probe("beside", state, one.name, like.name)] if like else []
    return found[:MOST_BESIDE]


def alike(one: Emitter, two: Emitter) -> bool:
    """Whether two LEDs are meant to look alike: one kind, nearly one current."""
    low, high = sorted((one.aim_current_a, two.aim_current_a))
    return (one.kind, one.part_row) == (two.kind, two.part_row) and high <= LIKE_SHARE * low
