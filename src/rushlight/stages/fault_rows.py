"""What every fault would show in every state, as rows of a table."""

from __future__ import annotations

from collections.abc import Iterator

from rushlight.electric.fault import Fault
from rushlight.stages.fault_finding import KnownFaults, Probe
from rushlight.stages.fault_known import identity, ranged
from rushlight.stages.fault_looks import looks_of
from rushlight.stages.fault_shows import shown_by_currents
from rushlight.stages.fault_words import fault_words


def fault_rows(whole: KnownFaults) -> Iterator[list[str]]:
    """A head, then a row for each fault: its words, in each state the current of the supply and what looks wrong."""
    states = whole.table.states
    kinds = ("supply from mA", "supply to mA", "dark", "dim", "lit though it should be dark")
    yield ["fault", *(f"{state}: {kind}" for state in states for kind in kinds)]
    currents = [shown_by_currents(whole, whole.bank, Probe("supply", state)) for state in states]
    looks = [looks_of(whole.bank, whole.bank, number) for number in range(len(states))]
    groups: dict[Fault, list[int]] = {}
    for k, case in enumerate(whole.bank.cases):
        groups.setdefault(identity(case.fault), []).append(k)
    for numbers in groups.values():
        fault = ranged(whole.bank.cases[numbers[0]].fault, [whole.bank.cases[k].fault.ohm for k in numbers])
        row = [fault_words(whole.design, fault)]
        for amps, look in zip(currents, looks, strict=True):
            ends = amps[numbers]
            seen = look.one(numbers[0])
            for k in numbers[1:]:
                seen = seen.merged(look.one(k))
            row += [f"{ends.min():.1f}", f"{ends.max():.1f}",
                    *("; ".join(sorted(names)) for names in (seen.dark, seen.dim, seen.lit))]
        yield row
