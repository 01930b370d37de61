"""It was mended and is still wrong, by a seed: two faults of which one is mended, and mends that were not needed."""

from __future__ import annotations

import random
from dataclasses import dataclass

from rushlight.electric.fault import Fault
from rushlight.stages.fault_finding import KnownFaults, Probe, Verdict, verdict
from rushlight.stages.fault_known import identity
from rushlight.stages.fault_log import Evidence
from rushlight.stages.fault_mended import after_mends, mend_name, without_fuse
from rushlight.stages.fault_seen import KINDS
from seeded_faults import PROPOSED, Truth, bench, exact_fault, holds, named_faults


@dataclass(frozen=True)
class Counts:
    """Cases in which the rest shows after a mend; in how many it was named, and which were excluded."""

    showing: int
    named: int
    lost: tuple[Fault, ...]


@dataclass
class Work:
    """One loom at the bench with its log."""

    whole: KnownFaults
    chance: random.Random
    rows: tuple[Evidence, ...] = ()

    def searched(self, truth: Truth) -> Verdict:
        """Supply currents and looks in every state, then three proposed measurements at most."""
        for kind in ("supply", "look"):
            for state in self.whole.table.states:
                self.note(truth, Probe(kind, state))
        found = self.judged(truth)
        for _ in range(PROPOSED):
            if found.next_probe is None or found.sound:
                break
            self.note(truth, found.next_probe)
            found = self.judged(truth)
        return found

    def note(self, truth: Truth, probe: Probe) -> None:
        seen = truth.shown(probe, self.chance)
        before = tuple(row for row in self.rows if row.seen is None or row.seen.probe != probe)  # the later counts
        self.rows = (*before, Evidence("", "", seen.value, seen))

    def mend(self, fault: Fault) -> None:
        self.rows = (*self.rows, Evidence("", mend_name(fault), 1.0, None, mended=mend_name(fault)))

    def judged(self, truth: Truth) -> Verdict:
        meter = truth.reader.bounds
        rest = after_mends(self.whole, self.rows, meter)
        return verdict(self.whole, rest.seen, meter=meter, ways=KINDS, gone=rest.gone)


def one_of_two_mended(name: str, count: int, seed: int) -> Counts:
    """Two faults; one of them that the search lists, else the one that shows more, is mended; the other is looked for."""
    whole, chance = bench(name), random.Random(seed)
    results = []
    for _ in range(count):
        one, two = (exact_fault(whole, fault, chance) for fault in two_apart(name, chance))
        work = Work(whole, chance)
        found = work.searched(Truth.of(whole, Fault("two", one.element, other=two.element, parts=(one, two))))
        first, rest = (two, one) if holds(found, two) and not holds(found, one) else (one, two)
        work.mend(first)
        results.append((rest, work.searched(Truth.of(whole, rest))))
    return counted(results)


def mended_in_vain(name: str, count: int, seed: int) -> Counts:
    """One fault; another one that fits at first is mended though nothing was wrong there."""
    whole, chance = bench(name), random.Random(seed)
    results = []
    for _ in range(count):
        fault = exact_fault(whole, chance.choice(named_faults(name)), chance)
        truth, work = Truth.of(whole, fault), Work(whole, chance)
        for state in whole.table.states:
            work.note(truth, Probe("look", state))
        listed = [one for group in work.judged(truth).suspects for one in group.faults]
        others = [one for one in listed if one.kind not in ("none", "two") and not same(one, fault)]
        if others:
            work.mend(others[0])
            results.append((fault, work.searched(truth)))
    return counted(results)


def two_apart(name: str, chance: random.Random) -> tuple[Fault, Fault]:
    """Two faults of different elements, neither of which blows the fuse."""
    known = [fault for fault in named_faults(name) if not fault.blown]
    while True:
        one, two = chance.choice(known), chance.choice(known)
        if not {one.element, one.other} & {two.element, two.other} - {""}:
            return one, two


def same(one: Fault, two: Fault) -> bool:
    """Whether a mend of the one is a mend of the other; of a resistor every wrong value is."""
    return mend_name(without_fuse(identity(one))) == mend_name(without_fuse(identity(two)))


def counted(results: list[tuple[Fault, Verdict]]) -> Counts:
    showing = [(fault, found) for fault, found in results if not found.sound]
    named = sum(len(found.suspects) == 1 and not found.further and holds(found, fault) for fault, found in showing)
    return Counts(len(showing), named, tuple(fault for fault, found in results if not holds(found, fault)))
