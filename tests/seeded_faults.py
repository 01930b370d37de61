"""Faults put into the demos' looms by a seed, read with a meter that is off as its maker allows, and looked for."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import rushlight
from designed import PACKAGED, designed
from rushlight.electric.fault import Fault, FaultTable, fault_table
from rushlight.files.plan_yaml import read_plan
from rushlight.stages.fault_finding import KnownFaults, Meter, Probe, Seen, Verdict, known_faults, verdict
from rushlight.stages.fault_known import Bank, Case, identity, without_current
from rushlight.stages.fault_seen import KINDS
from rushlight.stages.fault_shows import shown, shown_looks, solved_again

DEMOS = Path(rushlight.__file__).parent / "demos"
METER = Meter()
PROPOSED = 3


@cache
def bench(name: str) -> KnownFaults:
    return known_faults(designed(read_plan(DEMOS / name, PACKAGED).plan), exact=True)


@cache
def named_faults(name: str) -> tuple[Fault, ...]:
    """Every fault once, whatever the resistance of its cold joint; the sound loom is none."""
    return tuple(dict.fromkeys(identity(case.fault) for case in bench(name).bank.cases))[1:]


def exact_fault(whole: KnownFaults, fault: Fault, chance: random.Random) -> Fault:
    """The fault with one resistance of its cold joint, any in the range."""
    if fault.parts:
        return replace(fault, parts=tuple(exact_fault(whole, one, chance) for one in fault.parts))
    if fault.kind != "poor joint":
        return fault
    wire = next(element for element in whole.network.elements if element.name == fault.element)
    ohm = math.exp(chance.uniform(math.log(3.0), math.log(1000.0)))
    return Fault("poor joint", fault.element, (wire.ohm + ohm) / wire.ohm, ohm=(ohm, ohm))


@dataclass(frozen=True)
class Truth:
    """One loom with one fault in it, as somebody would find it."""

    whole: KnownFaults
    bank: Bank

    @classmethod
    def of(cls, whole: KnownFaults, fault: Fault) -> Truth:
        faults = [Fault("none", ""), fault]
        table: FaultTable = fault_table(whole.network, whole.columns, faults=faults, voltages=True)
        return cls(whole, Bank(without_current(table, whole.fuse_a), (Case(fault, 1, 1),)))

    def shown(self, probe: Probe, chance: random.Random) -> Seen:
        """What somebody sees or reads: the meter off by up to its bound, dim and faint lamps told or not."""
        few = solved_again(self.whole, self.bank, [0])
        if probe.kind == "look":
            found = shown_looks(self.whole, few, probe).one(0)
            return Seen(probe, dark=found.dark | some(found.faint, chance),
                        dim=found.dim | some(found.perhaps - found.dim, chance),
                        lit=found.lit | some(found.perhaps_lit - found.lit, chance))
        low, high = shown(self.whole, few, probe)[0].tolist()
        if probe.kind == "beside":
            return Seen(probe, float(chance.randint(round(low), round(high))))
        value = chance.uniform(low, high)
        return Seen(probe, value + chance.uniform(-0.95, 0.95) * METER.bound(value, probe.kind))


def some(names: frozenset[str], chance: random.Random) -> frozenset[str]:
    return frozenset(name for name in sorted(names) if chance.random() < 0.5)


def searched(whole: KnownFaults, truth: Truth, chance: random.Random, proposed: int = PROPOSED) -> Verdict:
    """Supply currents and looks in every state, then what the tool proposes, three times at most."""
    states = whole.table.states
    seen = [truth.shown(Probe(kind, state), chance) for kind in ("supply", "look") for state in states]
    found = verdict(whole, seen, meter=METER, ways=KINDS)
    for _ in range(proposed):
        if found.next_probe is None or found.sound:
            break
        seen.append(truth.shown(found.next_probe, chance))
        found = verdict(whole, seen, meter=METER, ways=KINDS)
    return found


def holds(found: Verdict, fault: Fault) -> bool:
    """Whether a fault is among the suspects."""
    every = [*found.further, *(one for group in found.suspects for one in group.faults)]
    return identity(fault) in [identity(one) for one in every]


def counted(name: str, count: int, seed: int) -> tuple[int, int, list[Fault]]:
    """How many of the seeded faults were named, how many showed at all, and those that were excluded."""
    whole, chance = bench(name), random.Random(seed)
    named, showing, lost = 0, 0, []
    for _ in range(count):
        fault = exact_fault(whole, chance.choice(named_faults(name)), chance)
        found = searched(whole, Truth.of(whole, fault), chance)
        if not holds(found, fault):
            lost.append(fault)
        if not found.sound:
            showing += 1
            named += len(found.suspects) == 1 and not found.further
    return named, showing, lost
