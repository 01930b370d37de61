"""Faults put into the demos' looms by a seed, read with a meter that is off as its maker allows, and looked for.

Two meters: a plain one, whose bound is one for all readings of a kind, and the drawn one, read as its display shows in
the range that the proposal tells.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

import rushlight
from designed import PACKAGED, designed
from rushlight.electric.fault import Fault, FaultTable, fault_table
from rushlight.files.plan_yaml import read_plan
from rushlight.model.design import Design
from rushlight.sheets.meter_use import DialSetting, dial_settings
from rushlight.sheets.probe_use import Shown, probe_use
from rushlight.stages.fault_finding import KnownFaults, Meter, Probe, Seen, Verdict, known_faults, verdict
from rushlight.stages.fault_known import Bank, Case, identity, without_current
from rushlight.stages.fault_log import dial_meter
from rushlight.stages.fault_probe import OL
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


class PlainMeter:
    """A meter whose bound is one for all readings of a kind, and that shows every digit."""

    bounds = METER

    def read(self, probe: Probe, value: float, outcomes: Sequence[Shown], chance: random.Random) -> float:
        """What it shows, off by nearly its bound at most; `outcomes` are foretold for the likely faults."""
        return value + chance.uniform(-0.95, 0.95) * METER.bound(value, probe.kind)


class DrawnMeter:
    """The meter as we draw it: the range that the proposal tells, whole digits of it, OL beyond it; turned down when told."""

    def __init__(self, design: Design) -> None:
        self.bounds = dial_meter(design)

    def read(self, probe: Probe, value: float, outcomes: Sequence[Shown], chance: random.Random) -> float:
        """What is noted: any number of digits that the maker's bound allows; where it shows OL the next range."""
        if probe.kind in ("look", "beside"):
            return value
        use = probe_use(probe, outcomes)
        assert use is not None
        higher = sorted((row for row in dial_settings() if row.group == use.setting.group
                         and row.full_scale >= use.setting.full_scale), key=lambda row: row.full_scale)
        fits = [row for row in higher if abs(value) < row.full_scale]
        if probe.kind in ("ohms", "diode") and fits[:1] != higher[:1]:
            return OL
        low = use.lower
        return on_display(low if low and abs(value) < 0.9 * low.full_scale else fits[0], value, chance)


def on_display(setting: DialSetting, value: float, chance: random.Random) -> float:
    """One of the numbers that the display may show for a value within 1 % and 2 digits."""
    digit = 10.0**-setting.decimals / setting.per_unit
    room = 0.01 * abs(value) + 2 * digit
    counts = chance.randint(math.ceil((value - 0.95 * room) / digit), math.floor((value + 0.95 * room) / digit))
    most = round(setting.full_scale / digit) - 1
    return round(float(np.clip(counts, -most, most)) * digit, 9)


@dataclass(frozen=True)
class Truth:
    """One loom with one fault in it, as somebody would find it."""

    whole: KnownFaults
    bank: Bank
    reader: PlainMeter | DrawnMeter = PlainMeter()  # it holds nothing that changes

    @classmethod
    def of(cls, whole: KnownFaults, fault: Fault, *, drawn: bool = False) -> Truth:
        faults = [Fault("none", ""), fault]
        table: FaultTable = fault_table(whole.network, whole.columns, faults=faults, voltages=True)
        reader = DrawnMeter(whole.design) if drawn else PlainMeter()
        return cls(whole, Bank(without_current(table, whole.fuse_a), (Case(fault, 1, 1),), whole.design), reader)

    def shown(self, probe: Probe, chance: random.Random, outcomes: Sequence[Shown] = ()) -> Seen:
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
        return Seen(probe, self.reader.read(probe, value, outcomes or [self.sound(probe)], chance))

    def sound(self, probe: Probe) -> Shown:
        """What the sound loom would show: before anything is proposed the gate's range is set."""
        low, high = shown(self.whole, solved_again(self.whole, self.whole.bank, [0]), probe)[0].tolist()
        return low, high


def some(names: frozenset[str], chance: random.Random) -> frozenset[str]:
    return frozenset(name for name in sorted(names) if chance.random() < 0.5)


def searched(whole: KnownFaults, truth: Truth, chance: random.Random, proposed: int = PROPOSED) -> Verdict:
    """Supply currents and looks in every state, then what the tool proposes, three times at most."""
    states, meter = whole.table.states, truth.reader.bounds
    seen = [truth.shown(Probe(kind, state), chance) for kind in ("supply", "look") for state in states]
    found = verdict(whole, seen, meter=meter, ways=KINDS)
    for _ in range(proposed):
        if found.next_probe is None or found.sound:
            break
        seen.append(truth.shown(found.next_probe, chance, [value for value, _ in found.outcomes]))
        found = verdict(whole, seen, meter=meter, ways=KINDS)
    return found


def holds(found: Verdict, fault: Fault) -> bool:
    """Whether a fault is among the suspects."""
    every = [*found.further, *(one for group in found.suspects for one in group.faults)]
    return identity(fault) in [identity(one) for one in every]


def counted(name: str, count: int, seed: int, *, drawn: bool = False) -> tuple[int, int, list[Fault]]:
    """How many of the seeded faults were named, how many showed at all, and those that were excluded."""
    whole, chance = bench(name), random.Random(seed)
    named, showing, lost = 0, 0, []
    for _ in range(count):
        fault = exact_fault(whole, chance.choice(named_faults(name)), chance)
        found = searched(whole, Truth.of(whole, fault, drawn=drawn), chance)
        if not holds(found, fault):
            lost.append(fault)
        if not found.sound:
            showing += 1
            named += len(found.suspects) == 1 and not found.further
    return named, showing, lost
