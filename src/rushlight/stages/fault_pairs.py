"""Two faults at once: looked for when no single one explains what was seen."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import Fault, fault_table
from rushlight.stages.fault_known import Bank, Case, KnownFaults, without_current
from rushlight.stages.fault_seen import Meter, Seen
from rushlight.stages.fault_shows import drop_v

Array = NDArray[np.float64]

MOST_PAIRS = 400
"""So many pairs are solved: those whose changes, added up, come nearest to what was seen."""

LOOK_WEIGHT = 100.0
"""A lamp in the wrong state counts as much as so many times the meter's error."""

MOST_OFF = 1000.0


def paired(bench: KnownFaults, seen: Sequence[Seen], meter: Meter) -> Bank:
    """The pairs of single faults that could explain what was seen, solved.

    Notes
    -----
    Pairs are ranked by the sum of what each fault alone changes; the best MOST_PAIRS are then solved as they are.
    Two cold joints, or two faults of one element, are not paired.
    """
    cases = [k for k, case in enumerate(bench.bank.cases) if case.fault.kind != "none" and not case.fault.blown]
    off = _off_together(bench, cases, seen, meter)
    left, right = np.triu_indices(len(cases), 1)
    order = np.argsort(off[left, right], kind="stable")
    found: list[tuple[int, int]] = []
    for k in order.tolist():
        one, two = (bench.bank.cases[cases[at]].fault for at in (left[k], right[k]))
        if not {one.element, one.other} & {two.element, two.other} - {""} and _joinable(one, two):
            found.append((cases[left[k]], cases[right[k]]))
        if len(found) == MOST_PAIRS:
            break
    return _bank(bench, found)


def _joinable(one: Fault, two: Fault) -> bool:
    return (one.kind, two.kind) != ("poor joint", "poor joint") and "weak supply" not in (one.kind, two.kind)


def _off_together(bench: KnownFaults, cases: list[int], seen: Sequence[Seen], meter: Meter) -> Array:
    """How far each two faults together, their changes added, are from what was seen."""
    off = np.zeros((len(cases), len(cases)))
    rows = np.array([[bench.bank.cases[k].low, bench.bank.cases[k].high] for k in cases])
    for row in seen:
        state = bench.table.states.index(row.probe.state)
        if row.probe.kind == "look":
            off += LOOK_WEIGHT * _look_off(bench, rows, row, state)
        elif row.probe.kind in ("supply", "resistor"):
            off += _value_off(bench, rows, row, meter)
    return off


def _look_off(bench: KnownFaults, rows: NDArray[np.int64], row: Seen, state: int) -> Array:
    """Lamps of which the two faults together would show the wrong thing: changes of light added."""
    names = bench.bank.emitters
    seen_dark = np.array([name in row.dark or name in row.dim for name in names])
    lit, (least, plain) = bench.bank.on[:, state], bench.bank.shown_a
    was, now = bench.bank.light_a[0, :, state], bench.bank.light_a[rows[:, 1], :, state]
    wrong = _union_off(lit & (now < 0.5 * was), seen_dark & lit)
    if row.lit is not None:
        gained = (was < least) & (now >= plain)
        wrong += _union_off(gained, np.array([name in row.lit for name in names]))
    return wrong


def _union_off(shows: NDArray[np.bool_], seen: NDArray[np.bool_]) -> Array:
    """For each two rows the number of places where one or the other differs from what was seen."""
    each = shows.astype(float)
    sign = np.where(seen, -1.0, 1.0)
    alone = each @ sign
    return np.asarray(alone[:, None] + alone[None, :] - (each * sign) @ each.T + seen.sum())


def _value_off(bench: KnownFaults, rows: NDArray[np.int64], row: Seen, meter: Meter) -> Array:
    table, state = bench.table, bench.table.states.index(row.probe.state)
    if row.probe.kind == "supply":
        values = 1000 * table.supply_a[:, state]
    else:
        values = drop_v(bench, bench.bank, row.probe.plus, state)[0]
    change = values - values[0]
    low, high = np.sort(change[rows], axis=1).T
    least = np.maximum(values[0] + low[:, None] + low[None, :], 0.0)  # two losses of the same current are one
    most = np.maximum(values[0] + high[:, None] + high[None, :], 0.0)
    miss = np.maximum(np.maximum(bench.spread[0] * least - row.value, row.value - bench.spread[1] * most), 0.0)
    return np.asarray(np.minimum(miss / meter.bound(row.value, row.probe.kind), MOST_OFF), dtype=float)


def _bank(bench: KnownFaults, pairs: Sequence[tuple[int, int]]) -> Bank:
    """The pairs solved; one with a cold joint has two rows."""
    faults, cases = [Fault("none", "")], []
    for pair in pairs:
        one, two = (bench.bank.cases[k] for k in pair)
        ends = dict.fromkeys(
            _two(bench.table.faults[a], bench.table.faults[b])
            for a, b in ((one.low, two.low), (one.high, two.high))
        )
        cases.append(Case(_two(one.fault, two.fault), len(faults), len(faults) + len(ends) - 1))
        faults += ends
    kept = bench.table.node_v is not None
    table = without_current(fault_table(bench.network, bench.columns, faults=faults, voltages=kept), bench.fuse_a)
    return Bank(table, tuple(cases), bench.design)


def _two(one: Fault, two: Fault) -> Fault:
    joint = next((fault.ohm for fault in (one, two) if fault.kind == "poor joint"), (0.0, 0.0))
    return Fault("two", one.element, other=two.element, parts=(one, two), ohm=joint)
