"""What a meter would read with one thing wrong: every single fault of a network, solved as columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import (
    BRIDGED_REGULATOR,
    OPEN,
    REVERSED,
    SHORTED,
    TURNED_REGULATOR,
    Columns,
    Network,
)
from rushlight.electric.network import OperatingPoint, operating_point
from rushlight.electric.network_shape import Shape, shape_of
from rushlight.electric.rewired import (
    BREAK_OHM,
    BRIDGE_OHM,
    REWIRED_KINDS,
    Fault,
    Prepared,
    prepared,
    rewiring,
)
from rushlight.electric.single_fault import edges_of, faulted, solved_beside, tangent
from rushlight.errors import OutOfRange, UnknownName

__all__ = [
    "FAULT_KINDS", "Fault", "FaultTable", "Suspect", "fault_table", "joint_faults", "single_faults", "suspects",
]

Array = NDArray[np.float64]

FAULT_KINDS = ("none", "open", "short", "reversed", "wrong resistor", "stuck", "poor joint", "weak supply",
               "regulator bridged", "regulator reversed",
               *REWIRED_KINDS, "two")

OF_REGULATOR = {"regulator bridged": BRIDGED_REGULATOR, "regulator reversed": TURNED_REGULATOR}
"""What can be wrong with a string's constant-current regulator beside a break, and the string's state then."""

WRONG_FACTORS = (0.1, 10.0)
"""A multiplier band misread by one (common practice)."""

POOR_JOINT_OHM = (3.0, 10.0, 30.0, 100.0, 300.0, 1000.0)
"""What a cold joint adds (common practice, no source: from a few ohm, which nobody sees, to thousands)."""

LIT_A = 1e-5
"""A lamp that carries less than this looks dark beside lit ones."""

FAULTS_AT_ONCE = 200

BESIDE_FROM = 450
"""Smaller networks are solved whole in less time than it takes to look which junctions bend."""

QUIET_A = LIT_A / 100
"""What carries less than this in a state makes no difference there that shows, whatever its resistance."""

SERIES_KINDS = ("open", "poor joint", "wrong resistor")
"""Faults that put something in the way of a current: they change no other by more than that current."""

REWIRED_AT_ONCE = 25
"""So many rewired faults share one network: more fill it with idle joints, fewer cost a set-up each."""

STOP_A = 1e-8
"""Current error to stop at: far below what a meter shows."""


@dataclass(frozen=True, slots=True)
class FaultTable:
    """Predicted readings; the first fault is 'none'.

    supply_a (faults, states): current out of the first source; string_a (faults, strings, states); node_v (faults,
    nodes, states) only where it was asked for, as it takes much room; diodes: how many each string has.
    """

    faults: tuple[Fault, ...]
    states: tuple[str, ...]
    strings: tuple[str, ...]
    supply_a: Array
    string_a: Array
    node_v: Array | None = None
    diodes: tuple[int, ...] = ()

    def light_a(self) -> Array:
        """Currents of the strings that make light [A]: what passes an only LED whose legs touch makes none."""
        lit, place = self.string_a.copy(), {name: k for k, name in enumerate(self.strings)}
        for row, fault in enumerate(self.faults):
            for part in (fault, *fault.parts):
                at = place.get(part.element) if part.kind == "short" else None
                if at is not None and self.diodes[at] == 1:
                    lit[row, at] = 0.0
        return lit

    def dark(self, fault: int) -> tuple[tuple[str, ...], ...]:
        """For each state the strings that are lit in the sound loom and dark with this fault."""
        lost = (self.string_a[0] >= LIT_A) & (self.light_a()[fault] < LIT_A)
        return tuple(
            tuple(name for name, off in zip(self.strings, lost[:, k], strict=True) if off)
            for k in range(len(self.states))
        )


@dataclass(frozen=True, slots=True)
class Suspect:
    """A fault that fits the readings; misfit is the largest deviation over the meter's error bound."""

    fault: Fault
    misfit: float


def single_faults(network: Network, *, wrong_factors: Sequence[float] = WRONG_FACTORS) -> tuple[Fault, ...]:
    """Every single fault of a network that the table can foretell, 'none' first.

    Parameters
    ----------
    network : Network
        The sound network.
    wrong_factors : sequence of float
        Factors by which a resistor may be wrong [-], above zero.
    Returns
    -------
    tuple of Fault
        Open: every element but sources. Short and wrong value: resistors. Short (one diode bridged), reversed and,
        with a resistor in them, wrong value: strings. Stuck closed: switches. Bridged and reversed
        regulator in place of wrong value: strings on one.
    Raises
    ------
    OutOfRange
        If a factor is not above zero.
    """
    if any(factor <= 0 for factor in wrong_factors):
        raise OutOfRange("wrong_factors", tuple(wrong_factors), "factors above zero")
    return (Fault("none", ""), *_every(network, wrong_factors))


def _every(network: Network, wrong_factors: Sequence[float]) -> Iterator[Fault]:
    for element in network.elements:
        if element.kind != "source":
            yield Fault("open", element.name)
        if element.kind in ("resistor", "string"):
            yield Fault("short", element.name)
        if element.kind == "string":
            yield Fault("reversed", element.name)
        if element.kind == "switch":
            yield Fault("stuck", element.name)
        if element.regulator is not None:
            yield from (Fault(kind, element.name) for kind in OF_REGULATOR)
        elif element.kind == "resistor" or (element.kind == "string" and element.ohm > 0):
            yield from (Fault("wrong resistor", element.name, factor) for factor in wrong_factors)


def joint_faults(network: Network, adds_ohm: Sequence[float] = POOR_JOINT_OHM) -> tuple[Fault, ...]:
    """A joint with each of these resistances too much in every wire: what a cold joint or a few whole strands do."""
    if any(ohm <= 0 for ohm in adds_ohm):
        raise OutOfRange("adds_ohm", tuple(adds_ohm), "resistances above zero")
    wires = [element for element in network.elements if element.kind == "wire"]
    return tuple(Fault("poor joint", wire.name, (wire.ohm + ohm) / wire.ohm, ohm=(ohm, ohm))
                 for wire in wires for ohm in adds_ohm)


def fault_table(
    network: Network, columns: Columns, *, faults: Sequence[Fault] | None = None, voltages: bool = False
) -> FaultTable:
    """Readings of a network with each fault in each column.

    Parameters
    ----------
    network : Network
        The sound network.
    columns : Columns
        States to read in (and one supply age).
    faults : sequence of Fault, optional
        The first must be 'none'; every single fault when left out.
    voltages : bool
        Whether the table holds node voltages too.
    Returns
    -------
    FaultTable
        Supply current [A] and string currents [A].
    Raises
    ------
    OutOfRange
        If there is no source, or the first fault is not 'none'.
    Notes
    -----
    A fault that changes what joins what is one more column too: each pair of nodes that it joins gets a joint of
    BREAK_OHM, which the fault's own columns close. An open and a reversed string read alike.

    Where no voltages are asked for, faults that do the same to one chain are solved once, and what is in the way of
    less than QUIET_A is not solved: the sound currents stand.
    Source
    ------
    `operating_point`.
    """
    listed = tuple(faults) if faults is not None else single_faults(network)
    if not network.named("source") or not listed or listed[0].kind != "none":
        raise OutOfRange("faults", listed[:1], "a network with a source, and 'none' as the first fault")
    shape = shape_of(network)
    usual = _Usual.of(network, operating_point(network, columns, shape=shape, stop_a=STOP_A))
    groups = [[k] for k in range(len(listed))] if voltages else _alike(network, shape, listed)
    heads = [listed[numbers[0]] for numbers in groups]
    filled = _Filled.usual(network, usual, len(heads), voltages=voltages)
    open_ = np.ones((len(heads), columns.count), bool)
    if not voltages:
        open_ &= ~np.array([usual.quiet(fault) for fault in heads])
        if len(network.elements) >= BESIDE_FROM:
            _fill_beside(filled, (network, shape), columns, heads, at=(open_, usual))
    for numbers, case in _batches((network, shape), columns, heads, among=np.flatnonzero(open_.any(axis=1)).tolist()):
        _fill(filled, case, [heads[k] for k in numbers], at=(np.array(numbers), open_[numbers]), usual=usual)
    diodes = tuple(len(element.laws) for element in network.elements if element.kind == "string")
    of = np.empty(len(listed), np.int64)
    for head, numbers in enumerate(groups):
        of[numbers] = head
    return FaultTable(listed, columns.names, network.named("string"), filled.supply_a[of], filled.string_a[of],
                      filled.node_v, diodes)


@dataclass(frozen=True, slots=True)
class _Usual:
    """The sound network: by state its supply current, the currents of all elements by name, voltages to start from."""

    supply_a: Array
    string_a: Array
    element_a: dict[str, Array]
    start_v: Array

    @classmethod
    def of(cls, network: Network, sound: OperatingPoint) -> _Usual:
        rows = {element.name: row for element, row in zip(network.elements, sound.element_a, strict=True)}
        return cls(rows[network.named("source")[0]], sound.element_a[network.rows("string")], rows,
                   np.nan_to_num(sound.node_v))

    def quiet(self, fault: Fault) -> NDArray[np.bool_]:
        """By state whether a fault is in the way of next to nothing."""
        if fault.kind in SERIES_KINDS and fault.element in self.element_a:
            return np.asarray(np.abs(self.element_a[fault.element]) < QUIET_A)
        return np.full(len(self.supply_a), fault.kind == "none")


def _alike(network: Network, shape: Shape, listed: Sequence[Fault]) -> list[list[int]]:
    """Numbers of faults that do the same to one chain: wires in series, broken, or with the same resistance more."""
    chain = {network.elements[member].name: int(number)
             for member, number in zip(shape.chains.members, shape.chains.chain_of, strict=True)}
    ohm = {element.name: element.ohm for element in network.elements if element.kind == "wire"}
    found: dict[object, list[int]] = {}
    for number, fault in enumerate(listed):
        key: object = number
        if fault.kind in ("open", "poor joint") and fault.element in ohm and fault.element in chain:
            more = ohm[fault.element] * (fault.factor - 1.0) if fault.kind == "poor joint" else BREAK_OHM
            key = (fault.kind, chain[fault.element], f"{more:.9g}")
        found.setdefault(key, []).append(number)
    return list(found.values())


def _batches(
    sound: tuple[Network, Shape], columns: Columns, listed: Sequence[Fault], *, among: Iterable[int]
) -> Iterator[tuple[list[int], tuple[Prepared, Shape]]]:
    """Numbers of faults with the network that they share: the sound one, or one made ready for their joints."""
    network, shape = sound
    rewired = {k: bool(rewiring(network, listed[k]).joined) for k in among}
    plain = [k for k, changed in rewired.items() if not changed]
    case = (Prepared(network, columns, {}), shape)
    for at in range(0, len(plain), FAULTS_AT_ONCE):
        yield plain[at : at + FAULTS_AT_ONCE], case
    others = [k for k, changed in rewired.items() if changed]
    for at in range(0, len(others), REWIRED_AT_ONCE):
        numbers = others[at : at + REWIRED_AT_ONCE]
        ready = prepared(network, columns, [listed[k] for k in numbers])
        yield numbers, (ready, shape_of(ready.network))


@dataclass(frozen=True, slots=True)
class _Filled:
    """The arrays of a table while it is worked out."""

    supply_a: Array
    string_a: Array
    node_v: Array | None

    @classmethod
    def usual(cls, network: Network, usual: _Usual, faults: int, *, voltages: bool) -> _Filled:
        """As if no fault changed anything."""
        nodes = (faults, len(network.nodes), len(usual.supply_a))
        return cls(np.tile(usual.supply_a, (faults, 1)), np.tile(usual.string_a, (faults, 1, 1)),
                   np.zeros(nodes) if voltages else None)


def _fill_beside(
    filled: _Filled, sound: tuple[Network, Shape], columns: Columns, heads: Sequence[Fault],
    *, at: tuple[NDArray[np.bool_], _Usual],
) -> None:
    """Solve what single faults change at one edge, beside the sound network, and take it from what is still open."""
    (network, shape), (open_, usual) = sound, at
    edge_of = dict(zip((element.name for element in network.elements), edges_of(shape).tolist(), strict=True))
    edges = np.array([-1 if fault.parts or fault.kind in REWIRED_KINDS else edge_of.get(fault.element, -1)
                      for fault in heads], np.int64)
    first = shape.sources == network.rows("source")[0]
    for state in range(columns.count):
        one, rows = columns.part(state, state + 1), np.flatnonzero((edges >= 0) & open_[:, state])
        tangents = tangent(shape, one, usual.start_v[:, state : state + 1])
        if tangents is None:
            continue
        for some in (rows[k : k + FAULTS_AT_ONCE] for k in range(0, len(rows), FAULTS_AT_ONCE)):
            wide = _with_faults(Prepared(network, one, {}), [heads[k] for k in some.tolist()])
            given = faulted(tangents, wide, edges[some])
            if given is not None:
                source_a, string_a, solved = solved_beside(tangents, given, STOP_A)
                here = some[solved]
                filled.supply_a[here, state] = source_a[solved][:, first].sum(axis=1)
                filled.string_a[here, :, state] = string_a[solved]
                open_[here, state] = False


def _fill(
    filled: _Filled, case: tuple[Prepared, Shape], part: Sequence[Fault],
    *, at: tuple[NDArray[np.int64], NDArray[np.bool_]], usual: _Usual,
) -> None:
    """Solve the whole network with some faults, in the states that are still open."""
    (ready, shape), (rows, open_) = case, at
    fault, state = np.nonzero(open_)
    point = operating_point(ready.network, _with_faults(ready, part).some(np.flatnonzero(open_)), shape=shape,
                            start_v=usual.start_v[:, state], far=True, stop_a=STOP_A)
    supply = next(k for k, element in enumerate(ready.network.elements) if element.kind == "source")
    filled.supply_a[rows[fault], state] = point.element_a[supply]
    filled.string_a[rows[fault], :, state] = point.element_a[shape.strings].T
    if filled.node_v is not None:
        filled.node_v[rows[fault], :, state] = point.node_v.T


def _with_faults(ready: Prepared, faults: Sequence[Fault]) -> Columns:
    """The columns once for each fault, the fault varying slowest."""
    network, columns, times = ready.network, ready.columns, len(faults)
    count = columns.count

    def widened(value: NDArray[Any]) -> NDArray[Any]:
        return np.tile(value if value.shape[1] == count else np.repeat(value, count, axis=1), (1, times))

    wide = replace(
        columns, names=tuple(f"{k} | {name}" for k in range(times) for name in columns.names),
        closed=widened(columns.closed), emf_v=widened(columns.emf_v), inner_ohm=widened(columns.inner_ohm),
        ohm_factor=widened(columns.ohm_factor), shift_v=widened(columns.shift_v),
        string_state=widened(columns.string_state),
        limit_factor=None if columns.limit_factor is None else widened(columns.limit_factor),
    )
    row = {e.name: k for k, e in enumerate(network.elements)}
    place = {name: k for kind in ("string", "switch", "source") for k, name in enumerate(network.named(kind))}
    for k, fault in enumerate(faults):
        block = slice(k * count, (k + 1) * count)
        for one in fault.singles:
            if one.kind in REWIRED_KINDS:
                _rewire(wide, ready, one, block, row=row)
            else:
                _mark(wide, one, block, at=(row, place), network=network)
    return wide


def _rewire(wide: Columns, ready: Prepared, fault: Fault, block: slice, *, row: dict[str, int]) -> None:
    change = rewiring(ready.network, fault)
    for name in change.cut:
        wide.ohm_factor[row[name], block] = BREAK_OHM / ready.network.elements[row[name]].ohm
    for a, b, ohm in change.joined:
        wide.ohm_factor[ready.row_of[a, b], block] = ohm / BREAK_OHM


def _mark(
    wide: Columns, fault: Fault, block: slice, *, at: tuple[dict[str, int], dict[str, int]], network: Network
) -> None:
    """Write one fault into its own block of freshly made columns."""
    row, place = at
    if fault.kind == "none":
        return
    if fault.element not in row:
        raise UnknownName("element", fault.element, row)
    element = network.elements[row[fault.element]]
    whole_ohm = element.ohm + sum(law.series_ohm for law in element.laws)
    if element.kind == "string" and fault.kind == "wrong resistor":
        wide.ohm_factor[row[fault.element], block] *= 1.0 + element.ohm * (fault.factor - 1.0) / whole_ohm
    elif element.kind == "string":
        if fault.kind == "short":  # what bridges an LED bridges its own resistance too
            left_ohm = max(whole_ohm - element.laws[0].series_ohm, BRIDGE_OHM)
            wide.ohm_factor[row[fault.element], block] *= left_ohm / whole_ohm
        state = {"open": OPEN, "short": SHORTED, "reversed": REVERSED, **OF_REGULATOR}[fault.kind]
        wide.string_state[place[fault.element], block] = state
    elif fault.kind == "stuck":
        wide.closed[place[fault.element], block] = True
    elif fault.kind == "weak supply":
        wide.emf_v[place[fault.element], block] *= fault.factor
    else:
        factor = {"open": BREAK_OHM / element.ohm, "short": BRIDGE_OHM / element.ohm}.get(fault.kind, fault.factor)
        wide.ohm_factor[row[fault.element], block] *= factor


def suspects(
    table: FaultTable, readings_a: Sequence[float], *, relative_error: float = 0.01, error_a: float = 2e-4
) -> tuple[Suspect, ...]:
    """Faults that fit a meter's readings of the supply current, best first.

    Parameters
    ----------
    table : FaultTable
        Predicted readings.
    readings_a : sequence of float
        The meter's reading in each of the table's states [A]; nan where none was taken.
    relative_error, error_a : float
        The meter's error bound: share of the reading [-] and fixed part [A].
    Returns
    -------
    tuple of Suspect
        Every fault whose prediction lies within the bound in all states read. A fault is never left out
        whose reading the bound allows; several usually remain, and another measurement must choose.
    Raises
    ------
    OutOfRange
        If there is not one reading for each state, or the bound is negative.
    Source
    ------
    Interval reasoning on the maker's error bound.
    """
    reading = np.asarray(readings_a, float)
    if reading.shape != (len(table.states),):
        raise OutOfRange("readings_a", reading.shape, f"one for each of the {len(table.states)} states")
    if relative_error < 0 or error_a <= 0:
        raise OutOfRange("error", (relative_error, error_a), "0 or more, and above 0 A")
    bound = relative_error * np.abs(reading) + error_a
    off = np.nan_to_num(np.abs(table.supply_a - reading) / bound, nan=0.0).max(axis=1)
    order = np.argsort(off, kind="stable")
    return tuple(Suspect(table.faults[k], float(off[k])) for k in order.tolist() if off[k] <= 1.0)
