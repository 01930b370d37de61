"""What a probe shows with each of a few faults, least and most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import LIT_A, Fault, FaultTable, fault_table
from rushlight.electric.rewired import built_with, rewiring
from rushlight.errors import UnknownName
from rushlight.stages.fault_known import Bank, Case, KnownFaults, without_current
from rushlight.stages.fault_looks import Looks, beside, looks_of
from rushlight.stages.fault_probe import (
    APART_OHM,
    JOINED_OHM,
    OL,
    Wiring,
    between_v,
    diode_test_v,
    held_nodes,
    joined_places,
)
from rushlight.stages.fault_seen import Look, Probe
from rushlight.stages.network import node

Array = NDArray[np.float64]
Index = NDArray[np.int64]

CARRIES_A = LIT_A
"""Ten times what a meter of 10 megohm takes at 10 V."""

METER_OHM = 1e7
"""A digital voltmeter (common practice, no source)."""

SLACK_V = 0.3
"""LEDs of one kind may differ by so much where hardly any current flows (from memory)."""

BEHIND_FUSE = "bay +"


@dataclass(frozen=True, slots=True)
class Few:
    """Some cases with their voltages, and the nodes that are held in each state.

    node_v and held have shape (rows, nodes, states); rows are those of `bank`.
    """

    bank: Bank
    node_v: Array
    held: NDArray[np.bool_]
    wirings: tuple[tuple[Wiring, ...], ...]
    """For each row and state."""
    _levels: dict[tuple[int, int], tuple[dict[str, float], frozenset[str]]] = field(default_factory=dict)

    def levels(self, row: int, state: int) -> tuple[dict[str, float], frozenset[str]]:
        """Voltage of each node, and the nodes that are held, for a row and a state; kept."""
        if (row, state) not in self._levels:
            nodes = self.wirings[row][state].network.nodes
            level = dict(zip(nodes, self.node_v[row, :, state].tolist(), strict=True))
            held = frozenset(nodes[k] for k in np.flatnonzero(self.held[row, :, state]).tolist())
            self._levels[row, state] = (level, held)
        return self._levels[row, state]


def solved_again(bench: KnownFaults, bank: Bank, wanted: Sequence[int]) -> Few:
    """Some cases of a bank with their voltages."""
    rows = list(dict.fromkeys(row for k in wanted for row in (bank.cases[k].low, bank.cases[k].high)))
    faults = [Fault("none", ""), *(bank.table.faults[row] for row in rows)]
    table = _table(bench, bank, rows, faults)
    assert table.node_v is not None
    place = {row: k + 1 for k, row in enumerate(rows)}
    cases = tuple(Case(bank.cases[k].fault, place[bank.cases[k].low], place[bank.cases[k].high]) for k in wanted)
    wirings = _wirings(bench, faults)
    held = np.array([_held(table, row, one) for row, one in enumerate(wirings)])
    held |= (table.node_v == 0.0).all(axis=1)[:, None, :]  # the fuse has blown: all of it reads nought
    return Few(Bank(table, cases, bench.design), table.node_v, held, wirings)


def _table(bench: KnownFaults, bank: Bank, rows: list[int], faults: list[Fault]) -> FaultTable:
    """The sound loom and some rows of a bank with their voltages, taken from it where it keeps them."""
    kept, sound = bank.table, bench.table
    if kept.node_v is None or sound.node_v is None:
        return without_current(fault_table(bench.network, bench.columns, faults=faults, voltages=True), bench.fuse_a)
    return replace(
        kept, faults=tuple(faults), supply_a=np.concatenate([sound.supply_a[:1], kept.supply_a[rows]]),
        string_a=np.concatenate([sound.string_a[:1], kept.string_a[rows]]),
        node_v=np.concatenate([sound.node_v[:1], kept.node_v[rows]]),
    )


def _wirings(bench: KnownFaults, faults: Sequence[Fault]) -> tuple[tuple[Wiring, ...], ...]:
    """For each fault and state; the first fault is none."""
    closed = [bench.closed[state] for state in bench.table.states]
    sound = [Wiring(bench.network, shut, faults[0]) for shut in closed]
    built = [(fault, built_with(bench.network, fault)) for fault in faults[1:]]
    return (tuple(sound), *(tuple(Wiring(network, one.closed, fault, one) for one in sound)
                            for fault, network in built))


def _held(table: FaultTable, row: int, wirings: Sequence[Wiring]) -> NDArray[np.bool_]:
    """For each node and state of one row; strings that carry more than a meter takes hold what they join."""
    nodes = wirings[0].network.nodes
    if wirings[0].fault.blown:
        return np.ones((len(nodes), len(wirings)), bool)
    carries = np.abs(table.string_a[row]) > CARRIES_A
    found = [held_nodes(wiring, {table.strings[k] for k in np.flatnonzero(carries[:, state]).tolist()})
             for state, wiring in enumerate(wirings)]
    return np.array([[name in held for held in found] for name in nodes])


def foretold(bench: KnownFaults, fault: Fault, probe: Probe) -> tuple[float, float] | Look:
    """What a probe shows with one fault of the bank: least and most [mA, V or ohm], or what a look shows.

    Raises
    ------
    UnknownName
        If the fault, the state or a place is not one of the loom's.
    """
    found = [k for k, case in enumerate(bench.bank.cases) if case.fault == fault]
    if not found:
        raise UnknownName("fault", str(fault), [str(case.fault) for case in bench.bank.cases])
    few = solved_again(bench, bench.bank, found)
    if probe.kind == "look":
        return looks_of(bench.bank, few.bank, bench.table.states.index(probe.state)).one(0)
    low, high = shown(bench, few, probe)[0].tolist()
    return low, high


def shown(bench: KnownFaults, few: Few, probe: Probe) -> Array:
    """Least and most that a probe shows in each case, shape (cases, 2)."""
    if probe.kind == "volts":
        ends = _volts(bench, few, probe)
    elif probe.kind == "ohms":
        ends = _ohms(bench, few, probe)
    elif probe.kind == "diode":
        ends = _diode_test(bench, few, probe)
    else:
        return shown_by_currents(bench, few.bank, probe)
    rows = few.bank.rows
    return np.array([ends[rows, 0].min(axis=0), ends[rows, 1].max(axis=0)]).T


def shown_by_currents(bench: KnownFaults, bank: Bank, probe: Probe) -> Array:
    """The same for what needs no voltages: supply, resistor, beside."""
    if probe.kind == "beside":
        return beside(bench.bank, bank, probe)
    state, rows = bank.table.states.index(probe.state), bank.rows
    if probe.kind == "supply":
        least = most = 1000 * bank.table.supply_a[:, state]
    else:
        least, most = drop_v(bench, bank, probe.plus, state)
    return np.array([least[rows].min(axis=0), most[rows].max(axis=0)]).T


def shown_looks(bench: KnownFaults, few: Few, probe: Probe) -> Looks:
    """What a look shows in each case."""
    return looks_of(bench.bank, few.bank, few.bank.table.states.index(probe.state))


def _volts(bench: KnownFaults, few: Few, probe: Probe) -> Array:
    """For each row."""
    state, nodes = few.bank.table.states.index(probe.state), bench.network.nodes
    plus, back = (nodes.index(node_of(bench, place)) for place in (probe.plus, probe.back))
    volts = few.node_v[:, plus, state] - few.node_v[:, back, state]
    ends = np.array([volts, volts]).T
    for row in np.flatnonzero(~(few.held[:, plus, state] & few.held[:, back, state])).tolist():
        level, held = few.levels(row, state)
        ends[row] = between_v(few.wirings[row][state], (nodes[plus], nodes[back]), node_v=level, held=held)
    return ends


def loose(bench: KnownFaults, few: Few, probe: Probe) -> NDArray[np.bool_]:
    """For each case whether a voltmeter hangs in the air with it, so that what it shows is only roughly known."""
    if probe.kind != "volts":
        return np.zeros(len(few.bank.cases), bool)
    state, nodes = few.bank.table.states.index(probe.state), bench.network.nodes
    at = [nodes.index(node_of(bench, place)) for place in (probe.plus, probe.back)]
    held = np.asarray(few.held[:, at, state].all(axis=1))
    return np.asarray(~held[few.bank.rows].all(axis=0))


def metered(bench: KnownFaults, few: Few, probe: Probe) -> Array:
    """As `shown`; what hangs in the air also as the solve has it with the meter of METER_OHM in its place.

    Shape (cases, 2). LEDs of a kind differ by SLACK_V at a microampere; the hull of both ways is taken.
    """
    if probe.kind != "volts":
        return shown(bench, few, probe)
    ends, state = _volts(bench, few, probe), few.bank.table.states.index(probe.state)
    plus, back = (node_of(bench, place) for place in (probe.plus, probe.back))
    at = [bench.network.nodes.index(name) for name in (plus, back)]
    joined = [{plus, back} in ({a, b} for a, b, _ in rewiring(bench.network, fault).joined)
              for fault in few.bank.table.faults]
    loose = np.flatnonzero(~few.held[:, at, state].all(axis=1) & ~np.array(joined))
    if len(loose):
        meter = Fault("bridged", plus, other=back, ohm=(METER_OHM, METER_OHM))
        singles = [few.bank.table.faults[row].singles for row in loose.tolist()]
        faults = [Fault("none", ""), *(Fault("two", "", parts=(*one, meter)) for one in singles)]
        table = fault_table(bench.network, bench.columns.part(state, state + 1), faults=faults, voltages=True)
        assert table.node_v is not None
        volts = table.node_v[1:, at[0], 0] - table.node_v[1:, at[1], 0]
        ends[loose, 0] = np.minimum(ends[loose, 0], volts - SLACK_V)
        ends[loose, 1] = np.maximum(ends[loose, 1], volts + SLACK_V)
    rows = few.bank.rows
    return np.array([ends[rows, 0].min(axis=0), ends[rows, 1].max(axis=0)]).T


def _ohms(bench: KnownFaults, few: Few, probe: Probe) -> Array:
    """For each row: joined by copper, or not; what lamps let through depends on the meter."""
    plus, back = (node_of(bench, place) for place in (probe.plus, probe.back))
    state = few.bank.table.states.index(probe.state)
    ends = np.array([[0.0, OL]] * len(few.wirings))
    for row in range(len(ends)):
        if plus in joined_places(few.wirings[row][state], back):
            ends[row, 1] = JOINED_OHM
        elif plus not in joined_places(few.wirings[row][state], back, most_ohm=APART_OHM):
            ends[row, 0] = APART_OHM
    return ends


def _diode_test(bench: KnownFaults, few: Few, probe: Probe) -> Array:
    """For each row: through copper, through a diode, over an LED or not at all, or it depends."""
    plus, back = (node_of(bench, place) for place in (probe.plus, probe.back))
    state = few.bank.table.states.index(probe.state)
    return np.array([diode_test_v(row[state], plus, back) for row in few.wirings])


def node_of(bench: KnownFaults, place: str) -> str:
    """The node of a place."""
    if place == BEHIND_FUSE:
        return "bus"
    return place if place in bench.network.nodes else node(place)


def drop_v(bench: KnownFaults, bank: Bank, emitter: str, state: int) -> tuple[Array, Array]:
    """Least and most voltage across an emitter's resistor with each fault [V]; a broken resistor shows all there is."""
    resistor = bench.design.power.resistor(emitter)
    if resistor is None:
        raise UnknownName("LED with a resistor", emitter, [row.emitter for row in bench.design.power.resistors])
    table: FaultTable = bank.table
    own = {f"{emitter} / 1", f"dimmer {emitter}"}
    wrong = [{one.kind: one.factor for one in fault.singles if one.element in own} for fault in table.faults]
    factor = np.array([kinds.get("wrong resistor", 1.0) for kinds in wrong])
    volts = table.string_a[:, bank.strings_of.get(emitter, []), state].sum(axis=1) * resistor.value_ohm * factor
    most = max((element.emf_v for element in bench.network.elements), default=0.0)
    return volts, np.where([("open" in kinds) for kinds in wrong], most, volts)
