"""The whole test without a meter: every look that a single fault gives, the faults that give it, what is left."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import Fault
from rushlight.model.design_loom import Emitter
from rushlight.stages.fault_known import PRIORS, Bank, KnownFaults, identity
from rushlight.stages.fault_looks import Flags, Looks, besides, looks_of
from rushlight.stages.fault_next import alike
from rushlight.stages.fault_seen import Look, Probe

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
    marks, told = marks_of(looks), _told(known)
    rows, hidden = [], tuple[Fault, ...]()
    for head in marks.heads():
        fits = marks.fits(head)
        if marks.sure[head].any():
            rows.append(_row(told, tuple(zip(states, (one.one(head) for one in looks), strict=True)), fits))
        else:
            hidden = tuple(one for one in told.some(fits) if one.kind != "none")
    return EyeTest(tuple(sorted(rows, key=_looked_for)), hidden)


def _looked_for(row: EyeRow) -> tuple[int, int, list[str], list[list[str]]]:
    seen = [sorted({*look.dark, *look.dim, *look.lit}) for _, look in row.looks]
    names = sorted({name for one in seen for name in one})
    return KINDS.index(row.kind), len(names), names, seen


# --- which cases may look alike -----------------------------------------------------------------------------------


@dataclass(frozen=True)  # no slots: what is counted is counted once and kept
class Marks:
    """What is to be seen in every state, as marks: lamp by lamp dark, dim, lit; each of shape (cases, marks).

    `sure` is what everybody sees, `perhaps` what somebody may see; `taken` is what takes in a sure mark of another
    case: who sees a lamp dark does not call it dim too.
    """

    sure: Flags
    perhaps: Flags
    taken: Flags

    def heads(self) -> list[int]:
        """The first case of each look, ordered by their marks."""
        first: dict[bytes, int] = {}
        for case, row in enumerate(np.packbits(self.sure, axis=1)):
            first.setdefault(row.tobytes(), case)
        return [first[key] for key in sorted(first)]

    def fits(self, head: int) -> list[int]:
        """Cases that may look as one does: all that it shows they may show, and what they surely show it shows.

        Only those that may show its rarest mark are compared.
        """
        shown = np.flatnonzero(self.sure[head])
        some = self._cases_of[shown[self._rarity[shown].argmin()]] if len(shown) else np.arange(len(self.sure))
        sure, perhaps, taken = self._packed
        some = some[~(sure[head] & ~perhaps[some]).any(axis=1)]
        found: list[int] = some[~(sure[some] & ~taken[head]).any(axis=1)].tolist()
        return found

    @cached_property
    def _rarity(self) -> NDArray[np.int64]:
        """How many cases may show each mark."""
        return np.asarray(self.perhaps.sum(axis=0, dtype=np.int64))

    @cached_property
    def _cases_of(self) -> list[NDArray[np.int64]]:
        """By mark the cases that may show it, in order."""
        case, mark = np.nonzero(self.perhaps)
        return np.split(case[np.argsort(mark, kind="stable")], np.cumsum(self._rarity)[:-1])

    @cached_property
    def _packed(self) -> tuple[NDArray[np.uint8], NDArray[np.uint8], NDArray[np.uint8]]:
        """All three, eight marks a byte."""
        sure, perhaps, taken = (np.packbits(flags, axis=1) for flags in (self.sure, self.perhaps, self.taken))
        return sure, perhaps, taken


def marks_of(looks: Sequence[Looks]) -> Marks:
    """The marks of looks in several states."""
    def side_by_side(of: Callable[[Looks], tuple[Flags, Flags, Flags]]) -> Flags:
        return np.concatenate([flags for one in looks for flags in of(one)], axis=1)

    return Marks(
        side_by_side(lambda one: (one.dark, one.dim, one.lit)),
        side_by_side(lambda one: (one.dark | one.faint, one.perhaps | one.faint, one.perhaps_lit)),
        side_by_side(lambda one: (one.dark, one.dim | one.dark, one.lit)),
    )


# --- how the faults are told --------------------------------------------------------------------------------------


@dataclass(frozen=True)  # no slots: what is looked up is made once and kept
class _Told:
    """The faults as they are told, each once: `of` is the fault of each case, `order` how usual each fault is."""

    known: KnownFaults
    faults: tuple[Fault, ...]
    of: tuple[int, ...]

    def some(self, cases: Iterable[int]) -> tuple[Fault, ...]:
        """Those of some cases, the most usual first."""
        return tuple(self.faults[k] for k in self._numbers(cases))

    def places(self, cases: Iterable[int]) -> tuple[str, ...]:
        """Where those of some cases are, each place once, that of the most usual first."""
        return tuple(dict.fromkeys(self._places[k] for k in self._numbers(cases) if self.faults[k].kind != "none"))

    def place_count(self, cases: Iterable[int]) -> int:
        """At how many places those of some cases are."""
        return len({self._place_of_case[k] for k in cases} - {""})

    def _numbers(self, cases: Iterable[int]) -> list[int]:
        return sorted({self.of[k]: None for k in cases}, key=self._order.__getitem__)

    def branch(self, cases: Iterable[int]) -> str:
        """The lamp along whose own way every fault lies; empty where there is none, or more than one."""
        own = [self._own_of[self._places[k]] for k in {self.of[k] for k in cases}]
        shared = frozenset.intersection(*own) if own else frozenset[str]()
        return min(shared) if len(shared) == 1 else ""

    @cached_property
    def _order(self) -> list[int]:
        return [PRIORS.index(fault.kind) for fault in self.faults]

    @cached_property
    def _places(self) -> list[str]:
        """By fault where it is; empty for none."""
        return [place_of(fault) if fault.kind != "none" else "" for fault in self.faults]

    @cached_property
    def _place_of_case(self) -> list[str]:
        return [self._places[k] for k in self.of]

    @cached_property
    def _own_of(self) -> dict[str, frozenset[str]]:
        """By place the lamps whose own way it lies along."""
        loom = self.known.design.loom
        lamps = frozenset(row.name for row in loom.emitters)
        ends = {f"lead {lead.name}": lamps & {lead.start.rstrip("+-"), lead.end.rstrip("+-")} for lead in loom.leads}
        return {place: ends.get(place, lamps & {place}) for place in self._places}

    @cached_property
    def likes(self) -> Likes:
        """Which lamps can be compared."""
        return Likes(self.known.design.loom.emitters)


def _told(known: KnownFaults) -> _Told:
    numbers: dict[Fault, int] = {}
    of = tuple(numbers.setdefault(replace(identity(case.fault), blown=False), len(numbers))
               for case in known.bank.cases)
    return _Told(known, tuple(numbers), of)


def _row(told: _Told, seen: tuple[tuple[str, Look], ...], fits: list[int]) -> EyeRow:
    row = EyeRow(seen, told.some(fits), told.places(fits), told.branch(fits))
    return row if row.enough != "no" else _compared(told, row, fits)


def place_of(fault: Fault) -> str:
    """Where a fault is, as the loom names it: an LED with its resistor, a lead, a part in the bay; of a mix-up both."""
    names = [name.removeprefix("dimmer ").removeprefix("node ").split(" / ")[0]
             for name in (fault.element, fault.other) if name]
    return " and ".join(names)


# --- two lamps beside each other ----------------------------------------------------------------------------------


def _compared(told: _Told, row: EyeRow, fits: list[int]) -> EyeRow:
    """The row with the comparison that leaves the fewest places on average."""
    best: tuple[float, Probe, dict[int, list[int]]] | None = None
    bank, listed = told.known.bank, np.array(fits)
    probes = list(islice(_pairs(told, row, fits), MOST_COMPARED))
    for probe, ends in zip(probes, besides(bank, bank, probes, cases=fits), strict=True):
        by = {value: listed[(ends[:, 0] <= value) & (value <= ends[:, 1])].tolist() for value in (-1, 0, 1)}
        by = {value: cases for value, cases in by.items() if cases}
        if len(by) < BEST_PARTS:
            continue
        left = sum(len(cases) * told.place_count(cases) for cases in by.values()) / sum(map(len, by.values()))
        if left < len(row.places) and (best is None or left < best[0]):
            best = (left, probe, by)
    if best is None:
        return row
    parts = tuple((value, told.places(cases)) for value, cases in best[2].items())
    return replace(row, compare=best[1], parts=parts)


def _pairs(told: _Told, row: EyeRow, fits: list[int]) -> Iterator[Probe]:
    """Lamps that look dim, else those that some of the faults dim and others do not, each beside its like."""
    bank = told.known.bank
    rows = np.unique(bank.rows[:, fits])
    for number, (state, look) in enumerate(row.looks):
        lit = np.flatnonzero(bank.on[:, number]).tolist()
        on = {bank.emitters[k]: k for k in lit if bank.emitters[k] not in look.dark}
        spread = _spreads(bank, rows, number)
        doubt = [name for name in on if name in look.dim] or [name for name, k in on.items() if spread[k] > 0]
        for name in sorted(doubt, key=lambda one: -spread[on[one]]):
            like = told.likes.first(name, on)
            if like:
                yield Probe("beside", state, name, like)


def _spreads(bank: Bank, rows: NDArray[np.int64], state: int) -> NDArray[np.float64]:
    """Between which shares of its light each emitter is in some rows: the greatest less the least."""
    usual = np.where(bank.on[:, state], bank.light_a[0, :, state], np.inf)
    light_a = bank.light_a[rows, :, state]
    return np.asarray(light_a.max(axis=0) / usual - light_a.min(axis=0) / usual)


class Likes:
    """Which emitters are meant to look alike, each group worked out when it is first asked for."""

    def __init__(self, emitters: Sequence[Emitter]) -> None:
        self._emitters = {row.name: row for row in emitters}
        self._found: dict[tuple[str, str, float], tuple[str, ...]] = {}

    def first(self, name: str, among: Container[str]) -> str:
        """The first of some emitters, in their order, that is alike another; empty where none is."""
        own = self._emitters[name]
        key = (own.kind, own.part_row, own.aim_current_a)
        if key not in self._found:
            self._found[key] = tuple(row.name for row in self._emitters.values() if alike(own, row))
        return next((other for other in self._found[key] if other != name and other in among), "")
