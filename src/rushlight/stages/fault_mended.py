"""It was mended and is still wrong: the mend is a fact, and what it may have changed counts no longer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.fault import Fault
from rushlight.stages.fault_known import KnownFaults, identity
from rushlight.stages.fault_log import Evidence
from rushlight.stages.fault_names import MENDED
from rushlight.stages.fault_seen import BETWEEN, Meter, Probe, Seen
from rushlight.stages.fault_shows import Few, shown, shown_looks, solved_again

NO_MATTER = 0.05
"""A fault that moves a reading by less than this share of the meter's bound is taken not to matter to it."""


@dataclass(frozen=True, slots=True)
class Rest:
    """What is left after mends: the rows with those that no longer count, what was mended, whether looked since."""

    rows: tuple[Evidence, ...]
    mended: tuple[Fault, ...]
    since: bool

    @property
    def seen(self) -> list[Seen]:
        """What counts."""
        return [row.seen for row in self.rows if row.seen]

    @property
    def gone(self) -> tuple[Fault, ...]:
        """What is known not to be: the mended faults, and, while nobody looked since, that nothing is wrong."""
        return self.mended if self.since else (*self.mended, Fault("none", ""))


def mend_name(fault: Fault) -> str:
    """What the mend of a fault is called in the log: its kind and the parts of the loom that it names."""
    return MENDED + " and ".join(", ".join(word for word in (one.kind, one.element, one.other, one.at) if word)
                                 for one in fault.singles)


def after_mends(bench: KnownFaults, rows: Sequence[Evidence], meter: Meter) -> Rest:
    """What still counts after the mends among some rows.

    Parameters
    ----------
    bench : KnownFaults
        The loom with its faults.
    rows : sequence of Evidence
        The log's, mends among them.
    meter : Meter
        The meter's error bound.
    Returns
    -------
    Rest
        What was found before a mend counts on only where the mended fault makes no difference to it: it was then true
        with the fault and is true without it, whether or not the fault was really there. A mend that
        names no fault of the loom as it is now does not count.
    """
    kept, mended, since = list(rows), [], True
    for number, row in enumerate(rows):
        if not row.mended:
            continue
        faults = _mended(bench, row)
        if not faults:
            kept[number] = replace(row, mended="", why="names nothing of the loom as it is now")
            continue
        before = [k for k, other in enumerate(kept) if other.seen and _is_before(rows, k, number)]
        for k in before:
            seen = kept[k].seen
            if seen and any(_matters(bench, fault, seen, meter) for fault in faults):
                kept[k] = replace(kept[k], seen=None, why="found before the mend, which may have changed it")
        mended += faults
        since = any(other.seen and not _is_before(rows, k, number) for k, other in enumerate(kept))
    return Rest(tuple(kept), tuple(mended), since)


def _is_before(rows: Sequence[Evidence], one: int, mend: int) -> bool:
    """By the time where both have one, else by the order of the log."""
    when, then = rows[one].when, rows[mend].when
    return when <= then if when and then else one < mend


def _mended(bench: KnownFaults, row: Evidence) -> list[Fault]:
    """The single faults that a mend names, if the loom has them; of a resistor every wrong value."""
    known: dict[str, set[Fault]] = {}
    for case in bench.bank.cases:
        if case.fault.kind != "none":
            known.setdefault(mend_name(case.fault), set()).add(without_fuse(case.fault))
    names = [MENDED + name for name in row.mended.removeprefix(MENDED).split(" and ")]
    if row.mended in known:
        names = [row.mended]
    if not all(name in known for name in names):
        return []
    return [fault for name in names for fault in known[name]]


def _matters(bench: KnownFaults, fault: Fault, seen: Seen, meter: Meter) -> bool:
    """Whether a fault could make a difference to what was found, the fuse whole or blown.

    Voltages, ohms and lamps beside each other always: a second fault may have hidden what the mended one does there.
    """
    if seen.probe.kind in (*BETWEEN, "beside"):
        return True
    cases = [k for k, case in enumerate(bench.bank.cases) if without_fuse(case.fault) == fault]
    sound = next(k for k, case in enumerate(bench.bank.cases) if case.fault.kind == "none")
    return _differs(bench, solved_again(bench, bench.bank, [sound, *cases]), seen.probe, meter)


def without_fuse(fault: Fault) -> Fault:
    """The fault by what it is, whatever its resistance and whether it blew the fuse."""
    return replace(identity(fault), blown=False)


def _differs(bench: KnownFaults, few: Few, probe: Probe, meter: Meter) -> bool:
    """Whether any case but the first shows something else than the first."""
    if probe.kind == "look":
        looks = shown_looks(bench, few, probe)
        return any(looks.one(k) != looks.one(0) for k in range(1, len(few.bank.cases)))
    ends = shown(bench, few, probe)
    room = NO_MATTER * meter.bounds(ends[:1], probe.kind)
    return bool(np.any(np.abs(ends[1:] - ends[:1]) > room))
