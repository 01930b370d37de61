"""Where is the fault? What was seen and read at the bench against every single fault of the loom as it is built."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import Fault
from rushlight.errors import UnknownName
from rushlight.stages.fault_choice import Ends, best_first, survival
from rushlight.stages.fault_known import (
    PRIORS,
    Bank,
    KnownFaults,
    built_network,
    identity,
    known_faults,
    ranged,
)
from rushlight.stages.fault_looks import Looks, looks_of
from rushlight.stages.fault_next import probes_for
from rushlight.stages.fault_pairs import paired
from rushlight.stages.fault_seen import BETWEEN, SUPPLY_OFF, Look, Meter, Probe, Seen, Suspects, Verdict
from rushlight.stages.fault_shows import (
    BEHIND_FUSE,
    Few,
    foretold,
    loose,
    metered,
    shown,
    shown_by_currents,
    shown_looks,
    solved_again,
)

__all__ = [
    "PRIORS", "KnownFaults", "Look", "Meter", "Probe", "Seen", "Suspects", "Verdict", "built_network", "foretold",
    "known_faults", "places", "verdict",
]

Array = NDArray[np.float64]

WITH_SUPPLY = ("look", "supply", "volts")
"""What is proposed unless more is asked for."""

FEW = 250
"""So many suspects are solved anew with their voltages, and told apart."""


def verdict(
    bench: KnownFaults, seen: Sequence[Seen], *, meter: Meter | None = None, reach: str = "all",
    ways: Collection[str] = WITH_SUPPLY, gone: Collection[Fault] = (),
) -> Verdict:
    """Faults that fit what was seen, and what to look at or measure next.

    Parameters
    ----------
    bench : KnownFaults
        From `known_faults`.
    seen : sequence of Seen
        What was found so far.
    meter : Meter, optional
        The meter's error bound.
    reach : str
        'all' while splices can be reached, 'bay' when the model is closed.
    ways : collection of str
        Kinds of probe that may be proposed, of fault_seen.KINDS.
    gone : collection of Fault
        Faults that are known not to be there, by `identity`: what was mended.
    Returns
    -------
    Verdict
        A fault whose reading the bound allows is never left out. Where no single fault fits, pairs of the most
        plausible ones.
    Raises
    ------
    UnknownName
        If a state or a place is not one of the loom's.
    Source
    ------
    Interval reasoning on the maker's error bound; the next probe and the one after leave the fewest on average.
    """
    meter = meter or Meter()
    _known(bench, seen)
    seen = [_meant(bench, row) for row in seen]
    bank = bench.bank
    fits = _left(bank, _fitting(bench, bank, seen, meter), gone)
    if not fits:
        bank = paired(bench, seen, meter)
        fits = _left(bank, _fitting(bench, bank, seen, meter), gone)
    if not fits:
        return Verdict((), None, ())
    named = _ordered(bank, fits)
    first = dict(list(named.items())[:FEW])
    further = tuple(_told(bank, numbers) for numbers in list(named.values())[FEW:])
    few = solved_again(bench, bank, [k for numbers in first.values() for k in numbers])
    probes = [probe for probe in probes_for(bench, reach, seen, few) if probe.kind in ways]
    ahead = _Ahead(bench, few, meter, [len(numbers) for numbers in first.values()])
    found = _grouped(ahead, probes)
    suspects = tuple(_suspects(bank, fits, group, list(first.values())) for group in found.groups)
    told = [_told(bank, numbers) for numbers in named.values()]
    hidden = tuple(fault for fault in told if fault.kind == "poor joint" and told[0].kind == "none")
    return Verdict(suspects, found.probe, found.outcomes, further, hidden, found.left)


def _known(bench: KnownFaults, seen: Sequence[Seen]) -> None:
    for row in seen:
        if row.probe.state not in bench.table.states:
            raise UnknownName("state", row.probe.state, bench.table.states)
        for place in (row.probe.plus, row.probe.back):
            if row.probe.kind in BETWEEN and place not in places(bench):
                raise UnknownName("place", place, places(bench))


def _meant(bench: KnownFaults, row: Seen) -> Seen:
    """A look without what is as it should be: lamps told dark that are off in that state, or lit that are on."""
    if row.probe.kind != "look":
        return row
    lit = bench.bank.on[:, bench.table.states.index(row.probe.state)]
    on = frozenset(bench.bank.emitters[k] for k in np.flatnonzero(lit).tolist())
    return replace(row, dark=row.dark & on, dim=row.dim & on, lit=None if row.lit is None else row.lit - on)


def places(bench: KnownFaults) -> tuple[str, ...]:
    """Where probes may be held: splices, emitters with + or -, terminals in the bay."""
    named = (name.removeprefix("node ") for name in bench.network.nodes
             if name.startswith("node ") or name.endswith(("+", "-")))
    return (*named, BEHIND_FUSE)


# --- what fits ----------------------------------------------------------------------------------------------------


def _fitting(bench: KnownFaults, bank: Bank, seen: Sequence[Seen], meter: Meter) -> dict[int, float]:
    """Misfit of each case that every finding allows; voltages last, as they cost a solve."""
    worst = np.zeros(len(bank.cases))
    for row in sorted(seen, key=lambda one: one.probe.kind in BETWEEN):
        if row.probe.kind == "look":
            looks = looks_of(bench.bank, bank, bank.table.states.index(row.probe.state))
            worst[~looks.allows(row)] = np.inf
            continue
        possible = np.flatnonzero(worst <= 1)
        if row.probe.kind in BETWEEN:
            expected = metered(bench, solved_again(bench, bank, possible.tolist()), row.probe).reshape(-1, 2)
        else:
            expected = shown_by_currents(bench, bank, row.probe)[possible]
        worst[possible] = np.maximum(worst[possible], _misfit(expected.T, row, bench.spread, meter))
    return {k: float(worst[k]) for k in np.flatnonzero(worst <= 1.0).tolist()}


def _left(bank: Bank, fits: dict[int, float], gone: Collection[Fault]) -> dict[int, float]:
    """What fits without the faults that are known not to be there."""
    out = {replace(identity(fault), blown=False) for fault in gone}
    return {k: misfit for k, misfit in fits.items()
            if not out & {replace(identity(one), blown=False) for one in bank.cases[k].fault.singles}}


def _misfit(expected: Array, row: Seen, spread: tuple[float, float], meter: Meter) -> Array:
    """How far a reading lies outside what each fault predicts (least and most), over the meter's bound."""
    low, high = spread
    if row.probe.kind == "volts":  # half of it: what a diode's voltage gives, its resistor takes
        low, high = (1 + low) / 2, (1 + high) / 2
    if row.probe.kind in ("beside", *SUPPLY_OFF):
        low, high = 1.0, 1.0
    ends = np.concatenate([low * expected, high * expected])
    off = np.maximum(np.maximum(ends.min(axis=0) - row.value, row.value - ends.max(axis=0)), 0.0)
    return np.asarray(off / meter.bound(row.value, row.probe.kind), dtype=float)


def _ordered(bank: Bank, fits: dict[int, float]) -> dict[Fault, list[int]]:
    """Possible faults, the usual kinds first, each with its cases."""
    order = sorted(fits, key=lambda k: (_prior(bank, k), fits[k], k))
    named: dict[Fault, list[int]] = {}
    for k in order:
        named.setdefault(identity(bank.cases[k].fault), []).append(k)
    return named


def _prior(bank: Bank, case: int) -> tuple[int, ...]:
    return tuple(sorted((PRIORS.index(one.kind) for one in bank.cases[case].fault.singles), reverse=True))


# --- what next ----------------------------------------------------------------------------------------------------


Outcomes = tuple[tuple[tuple[float, float] | Look, int], ...]


@dataclass(frozen=True, slots=True)
class _Ahead:
    """A few faults, each with so many of their cases, and the meter that is to tell them apart."""

    bench: KnownFaults
    few: Few
    meter: Meter
    sizes: Sequence[int]

    @property
    def first(self) -> NDArray[np.int64]:
        """Number of each fault's first case."""
        return np.cumsum([0, *self.sizes[:-1]])

    def shown(self, probe: Probe) -> Ends | Looks:
        """What a probe shows in each case, and how far a reading may lie outside, as LEDs spread and the meter errs."""
        if probe.kind == "look":
            return shown_looks(self.bench, self.few, probe)
        ends = shown(self.bench, self.few, probe)
        low, high = self.bench.spread
        share = {"supply": 0.5, "volts": 0.25, "resistor": 0.5}.get(probe.kind, 0.0) * (high - low)
        return Ends(ends, share * np.abs(ends) + self.meter.bounds(ends, probe.kind),
                    loose(self.bench, self.few, probe))

    def apart(self, found: Ends | Looks) -> NDArray[np.bool_]:
        """For each two of the faults whether the probe is sure to tell one from the other, in all their cases."""
        both = np.logical_and.reduceat(np.logical_and.reduceat(found.apart(), self.first, axis=0), self.first, axis=1)
        np.fill_diagonal(both, False)
        return np.asarray(both)

    def cases(self, fault: int) -> list[int]:
        """Numbers of a fault's cases."""
        return list(range(self.first[fault], self.first[fault] + self.sizes[fault]))


@dataclass(frozen=True, slots=True)
class _Grouped:
    """Groups that nothing tells apart, the probe to begin with, what it shows for each, how many fit after it."""

    groups: list[list[int]]
    probe: Probe | None = None
    outcomes: Outcomes = ()
    left: float = 0.0


def _grouped(ahead: _Ahead, probes: Sequence[Probe]) -> _Grouped:
    found = [ahead.shown(probe) for probe in probes]
    apart = np.zeros((len(ahead.sizes), len(ahead.sizes)), bool)
    for one in found:
        apart |= ahead.apart(one)
    groups = _alike(apart)
    heads = [group[0] for group in groups]
    if len(heads) < 2 or not len(probes):
        return _Grouped(groups)
    cases, sizes = [k for head in heads for k in ahead.cases(head)], [ahead.sizes[head] for head in heads]
    left = np.array([survival(one.some(cases), probe, sizes) for one, probe in zip(found, probes, strict=True)])
    weight = np.array([len(group) for group in groups], dtype=float)
    best = best_first(left, weight)
    outcomes = tuple((_over(found[best], ahead.cases(head)), place) for place, head in enumerate(heads))
    return _Grouped(groups, probes[best], outcomes, float(left[best].sum(axis=1) @ weight / weight.sum()))


def _over(found: Ends | Looks, cases: list[int]) -> tuple[float, float] | Look:
    """What a probe shows over all cases of one fault."""
    return reduce(Look.merged, [found.one(k) for k in cases]) if isinstance(found, Looks) else found.one(cases)


def _alike(apart: NDArray[np.bool_]) -> list[list[int]]:
    """Suspects that nothing tells from the first of their group, each group in its order."""
    groups: list[list[int]] = []
    for k in range(len(apart)):
        for group in groups:
            if not apart[group[0], k]:
                group.append(k)
                break
        else:
            groups.append([k])
    return groups


def _suspects(bank: Bank, fits: dict[int, float], group: list[int], numbers: list[list[int]]) -> Suspects:
    return Suspects(tuple(_told(bank, numbers[k]) for k in group), min(fits[n] for k in group for n in numbers[k]))


def _told(bank: Bank, numbers: list[int]) -> Fault:
    """A fault with the whole range of its cold joint that fits."""
    return ranged(bank.cases[numbers[0]].fault, [bank.cases[k].fault.ohm for k in numbers])
