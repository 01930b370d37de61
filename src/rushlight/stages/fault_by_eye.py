"""The whole test without a meter: every look that a single fault gives, the faults that give it, what is left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import Fault
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.stages.fault_known import PRIORS, Bank, KnownFaults, identity
from rushlight.stages.fault_looks import SURELY_LIT_A, Looks, beside, looks_of
from rushlight.stages.fault_next import alike
from rushlight.stages.fault_seen import Look, Probe, Seen

MOST_COMPARED = 12
"""So many pairs of lamps are thought of where looks leave several places."""

KINDS = ("one", "dark", "dim", "lit")
"""What is seen: one lamp dark and all else as usual, several dark, some dim, some lit that should be dark."""

BEST_PARTS = 2
"""A comparison is told where what it shows leaves at least so many sets of faults."""


@dataclass(frozen=True, slots=True)
class EyeRow:
    """What is seen in every state, and what fits it.

    looks: state and what is sure to be seen in it. faults: every fault that may look so, the most usual first.
    places: where they are, each once. branch: the one lamp along whose own LED, resistor and leads they all lie, or ''.
    compare: two lamps whose brightness beside each other parts the faults, None where that tells nothing.
    parts: for each answer (-1 dimmer, 0 alike, 1 brighter) the places that then fit.
    """

    looks: tuple[tuple[str, Look], ...]
    faults: tuple[Fault, ...]
    places: tuple[str, ...]
    branch: str
    compare: Probe | None = None
    parts: tuple[tuple[int, tuple[str, ...]], ...] = ()

    @property
    def enough(self) -> str:
        """'place' where one place is left, 'lamp' where one lamp's own way is, 'no' where more than that."""
        return "place" if len(self.places) == 1 else "lamp" if self.branch else "no"

    @property
    def kind(self) -> str:
        """Of KINDS what is seen; 'one' where it is then along that lamp's own way, 'dim' where some are dark too."""
        if any(look.lit for _, look in self.looks):
            return "lit"
        if any(look.dim for _, look in self.looks):
            return "dim"
        dark = set().union(*(look.dark for _, look in self.looks))
        return "one" if dark == {self.branch} else "dark"


@dataclass(frozen=True, slots=True)
class EyeTest:
    """Every look of the known faults, and the faults that may look as if nothing were wrong.

    Rows stand as they are looked for: by kind, those with few lamps first, then by the lamps' names.
    """

    rows: tuple[EyeRow, ...]
    hidden: tuple[Fault, ...]


def eye_test(known: KnownFaults) -> EyeTest:
    """All that can be told by looking alone, in every state.

    Parameters
    ----------
    known : KnownFaults
        From `known_faults`.
    Returns
    -------
    EyeTest
        A fault stands in each row whose look it may give: one person calls dim what another does not.
    Source
    ------
    What is dark, dim and lit with each fault: `stages.fault_looks`.
    """
    bank, states = known.bank, known.table.states
    looks = [looks_of(bank, bank, number) for number in range(len(states))]
    sure = np.concatenate([np.concatenate([one.dark, one.dim, one.lit], axis=1) for one in looks], axis=1)
    _, heads = np.unique(sure, axis=0, return_index=True)
    rows, hidden = [], tuple[Fault, ...]()
    for head in heads.tolist():
        fits = _fits(known, looks, head)
        found = _faults(bank, fits)
        if sure[head].any():
            rows.append(_row(known, tuple(zip(states, (one.one(head) for one in looks), strict=True)), fits, found))
        else:
            hidden = tuple(one for one in found if one.kind != "none")
    return EyeTest(tuple(sorted(rows, key=_looked_for)), hidden)


def _looked_for(row: EyeRow) -> tuple[int, int, list[str], list[list[str]]]:
    seen = [sorted({*look.dark, *look.dim, *look.lit}) for _, look in row.looks]
    names = sorted({name for one in seen for name in one})
    return KINDS.index(row.kind), len(names), names, seen


def _fits(known: KnownFaults, looks: list[Looks], head: int) -> list[int]:
    """Cases that may look as one does."""
    may = np.ones(len(known.bank.cases), bool)
    for state, one in zip(known.table.states, looks, strict=True):
        look = one.one(head)
        may &= one.allows(Seen(Probe("look", state), dark=look.dark, dim=look.dim, lit=look.lit))
    return [int(k) for k in np.flatnonzero(may)]


def _faults(bank: Bank, cases: Iterable[int]) -> tuple[Fault, ...]:
    named = dict.fromkeys(_named(bank.cases[k].fault) for k in cases)
    return tuple(sorted(named, key=lambda fault: PRIORS.index(fault.kind)))


@lru_cache(maxsize=65536)
def _named(fault: Fault) -> Fault:
    """A fault as it is told. Kept, because a large loom's faults are asked for again in every row and comparison."""
    return replace(identity(fault), blown=False)


def _row(known: KnownFaults, seen: tuple[tuple[str, Look], ...], fits: list[int], faults: tuple[Fault, ...]) -> EyeRow:
    design = known.design
    row = EyeRow(seen, faults, _places(faults), _branch(design, faults))
    return row if row.enough != "no" else _compared(known, row, fits)


def _places(faults: Iterable[Fault]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(place_of(fault) for fault in faults if fault.kind != "none"))


def place_of(fault: Fault) -> str:
    """Where a fault is, as the loom names it: an LED with its resistor, a lead, a part in the bay; of a mix-up both."""
    names = [name.removeprefix("dimmer ").removeprefix("node ").split(" / ")[0]
             for name in (fault.element, fault.other) if name]
    return " and ".join(names)


def _branch(design: Design, faults: tuple[Fault, ...]) -> str:
    """The lamp along whose own way every fault lies; empty where there is none, or more than one."""
    emitters = {row.name for row in design.loom.emitters}
    ends = {f"lead {lead.name}": {lead.start.rstrip("+-"), lead.end.rstrip("+-")} & emitters
            for lead in design.loom.leads}
    own = [ends.get(place, {place} & emitters) for place in (place_of(fault) for fault in faults)]
    shared = set.intersection(*own) if own else set()
    return min(shared) if len(shared) == 1 else ""


# --- two lamps beside each other ----------------------------------------------------------------------------------


def _compared(known: KnownFaults, row: EyeRow, fits: list[int]) -> EyeRow:
    """The row with the comparison that leaves the fewest places on average."""
    best: tuple[float, Probe, dict[int, list[int]]] | None = None
    for probe in _pairs(known, row, fits):
        ends = beside(known.bank, known.bank, probe)[fits]
        by = {value: [k for k, (low, high) in zip(fits, ends, strict=True) if low <= value <= high]
              for value in (-1, 0, 1)}
        by = {value: cases for value, cases in by.items() if cases}
        left = (sum(len(cases) * len(_places(_faults(known.bank, cases))) for cases in by.values())
                / sum(map(len, by.values())))
        if len(by) >= BEST_PARTS and left < len(row.places) and (best is None or left < best[0]):
            best = (left, probe, by)
    if best is None:
        return row
    parts = tuple((value, _places(_faults(known.bank, cases))) for value, cases in best[2].items())
    return replace(row, compare=best[1], parts=parts)


def _pairs(known: KnownFaults, row: EyeRow, fits: list[int]) -> list[Probe]:
    """Lamps that look dim, else those that some of the faults dim and others do not, each beside its like."""
    found: list[Probe] = []
    amps = known.bank.amps
    for number, (state, look) in enumerate(row.looks):
        usual = amps[0, :, number]
        on = [name for name, now in zip(known.bank.emitters, usual.tolist(), strict=True)
              if now >= SURELY_LIT_A and name not in look.dark]
        share = _shares(known.bank, fits, number)
        spread = np.ptp(share, axis=0)
        doubt = [name for name in on if name in look.dim] or [
            name for name in on if spread[known.bank.emitters.index(name)] > 0]
        lit = [emitter for emitter in known.design.loom.emitters if emitter.name in on]
        for name in sorted(doubt, key=lambda one: -spread[known.bank.emitters.index(one)]):
            like = _like(known.design.loom.emitter(name), lit)
            found += [Probe("beside", state, name, like)] if like else []
    return found[:MOST_COMPARED]


def _shares(bank: Bank, fits: list[int], state: int) -> NDArray[np.float64]:
    usual = np.maximum(bank.amps[0, :, state], SURELY_LIT_A)
    return np.asarray(bank.amps[bank.rows[:, fits].T.ravel(), :, state] / usual)


def _like(one: Emitter, lit: Iterable[Emitter]) -> str:
    return next((row.name for row in lit if row is not one and alike(one, row)), "")
