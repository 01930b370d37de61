"""Direct-current operating point of a whole network, in many columns at once.

Strings are collapsed to one law each, chains to one edge; Newton's method runs on the nodes left, for
all columns together, until the largest error of Kirchhoff's current law is below a small current.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import (
    BRIDGED_REGULATOR,
    CLOSED_SWITCH_OHM,
    KINDS,
    OPEN,
    OPEN_SWITCH_OHM,
    REVERSED,
    SHORTED,
    SOUND,
    TURNED_REGULATOR,
    Columns,
    Element,
    Network,
    Supply,
    columns_of,
    resistor,
    source,
    string,
    switch,
    wire,
)
from rushlight.electric.elimination import factored, node_voltages
from rushlight.electric.network_check import (
    NetworkFault,
    backwards_faults,
    contact_patterns,
    floating_fault,
    joined,
    loose_fault,
    short_faults,
    supply_faults,
)
from rushlight.electric.network_shape import Shape, shape_of
from rushlight.electric.network_values import Values, values_of
from rushlight.electric.regulated import Regulated
from rushlight.errors import OutOfRange

__all__ = [
    "BRIDGED_REGULATOR", "CLOSED_SWITCH_OHM", "KINDS", "OPEN", "OPEN_SWITCH_OHM", "REVERSED", "SHORTED", "SOUND",
    "TURNED_REGULATOR", "Columns", "Element", "Network", "NetworkFault", "OperatingPoint", "Shape", "Supply",
    "columns_of", "operating_point", "resistor", "shape_of", "source", "string", "switch", "wire",
]

Array = NDArray[np.float64]
Index = NDArray[np.int64]

START_A = 5e-3
"""Current at which every string is made linear for the first round."""

DARK_A = 1e-10
"""Least current at which a string is made linear in the first rounds."""

FIRST_ROUNDS = 3
MOST_ROUNDS = 200
COLUMNS_AT_ONCE = 256

STOP_A = 1e-10
"""Largest error of Kirchhoff's current law at any node, where rounding allows it."""


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """The solved network: rows follow its nodes and elements, columns the columns asked for.

    A current counts from node_a to node_b, a source's out of its plus. Nodes that no supply reaches
    have no voltage (nan), their elements carry 0 A.
    """

    columns: tuple[str, ...]
    node_v: Array
    element_a: Array
    residual_a: Array
    rounds: int
    faults: tuple[NetworkFault, ...]


def operating_point(
    network: Network, columns: Columns | None = None, *,
    shape: Shape | None = None, start_v: Array | None = None, stop_a: float = STOP_A,
) -> OperatingPoint:
    """Voltages and currents of a network in every column.

    Parameters
    ----------
    network : Network
        Resistors, wires, switches, strings and sources between named nodes.
    columns : Columns, optional
        Cases to solve; one with every switch closed when left out.
    shape : Shape, optional
        What `shape_of(network)` gave, to save working it out again.
    start_v : array, optional
        Node voltages to start from [V], shape (nodes, columns): a solution of nearly the same columns.
    stop_a : float
        Largest current error to stop at [A], 1e-12 to 1e-6; rounding may allow no less than 1e-10.
    Returns
    -------
    OperatingPoint
        Node voltages [V], element currents [A], the largest current error [A] of each column, rounds of
        Newton's method, and in words what is wrong with the network (no supply, a short, a floating
        group, a loose end, a string backwards).
    Raises
    ------
    OutOfRange
        If the columns do not fit the network.
    Notes
    -----
    Kirchhoff's current law with Shockley's law for each junction; open contacts 1e9 ohm, 1e-12 S of
    leakage across each junction. Reverse breakdown, temperature feedback and current limits of a supply
    are not modelled. The equations are those of a convex function, so a damped Newton always arrives.
    Source
    ------
    Strings by the Wright omega function (Corless and Jeffrey 2002); checked against a general circuit
    solver in tests/outside.
    """
    cases = columns or columns_of(network, {"all on": network.named("switch")})
    _check_columns(network, cases)
    if not 1e-12 <= stop_a <= 1e-6:
        raise OutOfRange("stop_a", stop_a, "1e-12 to 1e-6 A")
    if start_v is not None and start_v.shape != (len(network.nodes), cases.count):
        raise OutOfRange("shape of start_v", start_v.shape, f"({len(network.nodes)}, {cases.count})")
    faults = supply_faults(network, cases)
    if not network.named("source"):
        return _dark(network, cases, faults)
    form = shape or shape_of(network)
    parts = [cases.part(at, at + COLUMNS_AT_ONCE) for at in range(0, cases.count, COLUMNS_AT_ONCE)]
    starts = [None if start_v is None else start_v[:, at : at + COLUMNS_AT_ONCE]
              for at in range(0, cases.count, COLUMNS_AT_ONCE)]
    solved = [_solved(form, part, start, stop_a) for part, start in zip(parts, starts, strict=True)]
    node_v = np.concatenate([s.node_v for s in solved], axis=1)
    element_a = np.concatenate([s.element_a for s in solved], axis=1)
    residual = np.concatenate([s.residual_a for s in solved])
    faults += short_faults(network, cases) + floating_fault(network, form.alive)
    loose = [at for at, _, _ in form.loose if form.alive[form.end_a[at]]]
    faults += loose_fault(network, np.array(sorted(loose), np.int64))
    rows = form.strings
    string_v = node_v[form.end_a[rows]] - node_v[form.end_b[rows]]
    faults += backwards_faults(network, cases, string_v, element_a[rows]) if len(rows) else ()
    faults += _unsettled(cases, residual)
    return OperatingPoint(cases.names, node_v, element_a, residual, max(s.rounds for s in solved), faults)


def _check_columns(network: Network, columns: Columns) -> None:
    wanted: list[tuple[str, NDArray[Any], int]] = [
        ("closed", columns.closed, len(network.named("switch"))),
        ("emf_v", columns.emf_v, len(network.named("source"))),
        ("inner_ohm", columns.inner_ohm, len(network.named("source"))),
        ("ohm_factor", columns.ohm_factor, len(network.elements)),
        ("shift_v", columns.shift_v, len(network.named("string"))),
        ("string_state", columns.string_state, len(network.named("string"))),
    ]
    if columns.limit_factor is not None:
        wanted.append(("limit_factor", columns.limit_factor, len(network.named("string"))))
    for name, value, rows in wanted:
        if value.ndim != 2 or value.shape[0] != rows or value.shape[1] not in (1, columns.count):
            raise OutOfRange(f"shape of columns.{name}", value.shape, f"({rows}, {columns.count})")
        if not np.all(np.isfinite(value)):
            raise OutOfRange(f"columns.{name}", "not finite", "finite numbers")
    if np.any(columns.inner_ohm < 1e-7) or np.any(columns.ohm_factor <= 0):
        raise OutOfRange("resistance in columns", "0 or less", "above zero")


def _dark(network: Network, columns: Columns, faults: tuple[NetworkFault, ...]) -> OperatingPoint:
    shape = (len(network.nodes), columns.count)
    still = np.zeros((len(network.elements), columns.count))
    return OperatingPoint(columns.names, np.full(shape, np.nan), still, np.zeros(columns.count), 0, faults)


def _unsettled(columns: Columns, residual: Array) -> tuple[NetworkFault, ...]:
    names = tuple(name for name, off in zip(columns.names, residual, strict=True) if off > 1e-6)
    words = f"The currents could not be worked out to a microampere in {', '.join(names[:4])}; do not rely on them."
    return (NetworkFault("not-settled", words, columns=names),) if names else ()


def _solved(shape: Shape, columns: Columns, start_v: Array | None, stop_a: float) -> OperatingPoint:
    values = values_of(shape, columns)
    start_rounds = FIRST_ROUNDS if start_v is None else 0
    if start_v is None:
        start = _started(shape, values, _driven(shape, values))
    else:
        start = _evaluated(shape, values, np.concatenate([start_v[shape.solved], np.zeros((1, columns.count))]))
    solved_v, residual, rounds = _newton(shape, values, start, stop_a)
    node_v, element_a = _spread_back(shape, values, columns, solved_v)
    return OperatingPoint(columns.names, node_v, element_a, residual, rounds + start_rounds, ())


@dataclass(frozen=True, slots=True)
class _State:
    """One round: node voltages, the current error fed into each node, and each edge's slope."""

    node_v: Array
    error_a: Array
    slope_siemens: Array


def _newton(shape: Shape, values: Values, start: _State, stop_a: float) -> tuple[Array, Array, int]:
    """Node voltages, largest current error of each column, rounds."""
    now = start
    count = values.conductance_siemens.shape[1]
    result, residual = np.zeros_like(now.node_v), np.zeros(count)
    active, largest = np.arange(count), values.conductance_siemens.max(axis=0, initial=0.0)
    for rounds in range(1, MOST_ROUNDS + 1):
        off = np.abs(now.error_a[:-1]).max(axis=0, initial=0.0)
        done = off <= _stop(largest[active], now, stop_a)
        if done.any() or rounds == MOST_ROUNDS:
            result[:, active], residual[active] = now.node_v, off
            keep = np.flatnonzero(~done)
            if not len(keep):
                break
            active, values, now = active[keep], _some(values, keep), _some_state(now, keep)
        step = node_voltages(factored(shape.order, now.slope_siemens), now.error_a)
        now = _damped(shape, values, now, step)
    return result, residual, rounds


def _stop(largest_siemens: Array, now: _State, stop_a: float) -> Array:
    rounding = 16 * np.finfo(float).eps * largest_siemens
    return np.asarray(np.maximum(stop_a, rounding * np.abs(now.node_v).max(axis=0, initial=1.0)))


def _some(values: Values, keep: Index) -> Values:
    return replace(
        values, conductance_siemens=values.conductance_siemens[:, keep], edge_emf_v=values.edge_emf_v[:, keep],
        junctions=values.junctions.part(keep),
    )


def _some_state(state: _State, keep: Index) -> _State:
    return _State(state.node_v[:, keep], state.error_a[:, keep], state.slope_siemens[:, keep])


def _driven(shape: Shape, values: Values) -> NDArray[np.bool_]:
    """For each chain with junctions and each column: can current reach it through closed contacts?

    Only the start of Newton's method hangs on this: strings of a group that is switched off start dark.
    """
    first, plain = len(shape.plain), len(values.conductance_siemens)
    contacts = slice(first, first + len(shape.switches))
    ends = (shape.edge_from, shape.edge_to)
    label = joined(shape.order.node_count + 1, *(end[:first] for end in ends))
    patterns, which = contact_patterns(values.closed)
    live = []
    for closed in patterns:
        joint = joined(len(label), *(label[end[contacts][closed]] for end in ends))[label]
        fed = joint[shape.edge_from[contacts.stop : plain]]
        live.append(_reached(fed, joint[shape.edge_from[plain:]], joint[shape.edge_to[plain:]], len(label)))
    wanted = (len(shape.edge_from) - plain, values.conductance_siemens.shape[1])
    return np.broadcast_to(np.array(live)[which].T, wanted)


def _reached(fed: Index, start: Index, stop: Index, count: int) -> NDArray[np.bool_]:
    """For each chain that leads from `start` to `stop`: does one of the nodes `fed` reach its start?"""
    reached = np.zeros(count, bool)
    reached[fed] = True
    while True:
        onward = stop[reached[start] & ~reached[stop]]
        if not len(onward):
            return reached[start]
        reached[onward] = True


def _started(shape: Shape, values: Values, driven: NDArray[np.bool_]) -> _State:
    """A few rounds with each string made linear at its predicted current, never below a tiny one."""
    junctions, plain = values.junctions, len(values.conductance_siemens)
    count = values.conductance_siemens.shape[1]
    node_v = np.zeros((shape.order.node_count + 1, count))
    current, ohm = np.where(driven, START_A, DARK_A), junctions.start_ohm()
    for _ in range(FIRST_ROUNDS):
        slope = 1.0 / (junctions.slope_v / (current + junctions.sat_a) + ohm)
        across = node_v.take(shape.edge_from, axis=0) - node_v.take(shape.edge_to, axis=0)
        predicted = current + slope * (across[plain:] - junctions.voltage(current, ohm))
        slopes = np.concatenate([values.conductance_siemens, slope])
        error = _error(shape, _plain_current(values, across[:plain]), predicted)
        step = node_voltages(factored(shape.order, slopes), error)
        node_v = node_v + step
        moved = step.take(shape.edge_from[plain:], axis=0) - step.take(shape.edge_to[plain:], axis=0)
        current = np.clip(predicted + slope * moved, DARK_A, 1e3)
    return _evaluated(shape, values, node_v)


def _plain_current(values: Values, across: Array) -> Array:
    return (across - values.edge_emf_v) * values.conductance_siemens


def _error(shape: Shape, plain_a: Array, junction_a: Array) -> Array:
    flows = np.concatenate([-plain_a, -junction_a, plain_a, junction_a])
    return shape.into_nodes.spread(flows, shape.order.node_count + 1)


def _evaluated(shape: Shape, values: Values, node_v: Array) -> _State:
    plain = len(values.conductance_siemens)
    across = node_v.take(shape.edge_from, axis=0) - node_v.take(shape.edge_to, axis=0)
    current, slope = values.junctions.current_and_slope(across[plain:])
    error = _error(shape, _plain_current(values, across[:plain]), current)
    return _State(node_v, error, np.concatenate([values.conductance_siemens, slope]))


def _damped(shape: Shape, values: Values, now: _State, step: Array) -> _State:
    """One step along Newton's direction, cut back while it overshoots the lowest point on its way."""
    ahead = (now.error_a[:-1] * step[:-1]).sum(axis=0)
    length = np.ones(step.shape[1])
    for _ in range(12):
        tried = _evaluated(shape, values, now.node_v + step * length)
        left = (tried.error_a[:-1] * step[:-1]).sum(axis=0)
        over = left < -np.maximum(np.abs(ahead), 1e-18)
        if not over.any():
            break
        length = np.where(over, length * np.clip(ahead / (ahead - left), 0.1, 0.7), length)
    return tried


def _spread_back(shape: Shape, values: Values, columns: Columns, solved_v: Array) -> tuple[Array, Array]:
    """Voltages of all nodes and currents of all elements, from the nodes solved for."""
    network, chains = shape.network, shape.chains
    node_v = np.full((len(network.nodes), columns.count), np.nan)
    element_a = np.zeros((len(network.elements), columns.count))
    node_v[shape.grounds] = 0.0
    node_v[shape.solved] = solved_v[:-1]
    across = solved_v.take(shape.edge_from, axis=0) - solved_v.take(shape.edge_to, axis=0)
    plain = len(values.conductance_siemens)
    flow = _plain_current(values, across[:plain])
    chain_a = np.zeros((len(chains.starts), columns.count))
    first, second = len(shape.plain), len(shape.plain) + len(shape.switches)
    chain_a[shape.plain] = flow[:first]
    chain_a[shape.junction_chains], _ = values.junctions.current_and_slope(across[plain:])
    member_a = chain_a.take(chains.chain_of, axis=0)
    element_a[shape.switches], element_a[shape.sources] = flow[first:second], -flow[second:]
    element_a[chains.members] = chains.signs[:, None] * member_a
    _fill_inner(shape, values, node_v=node_v, member_a=member_a)
    _fill_loose(shape, columns, node_v)
    return node_v, element_a


def _fill_inner(shape: Shape, values: Values, *, node_v: Array, member_a: Array) -> None:
    """Voltages inside chains: ohmic drops by Ohm's law, the rest shared among the chain's strings."""
    chains = shape.chains
    drop = values.element_ohm.take(chains.members, axis=0) * member_a
    for row in shape.parts.shared:
        drop[row] += _junction_drop(shape.network.elements[chains.members[row]], member_a[row])
    if values.junctions.regulated is not None:
        _add_regulators(shape, values.junctions.regulated, drop, member_a)
    level = node_v.take(chains.node_from, axis=0)
    rest = level - node_v.take(chains.node_to, axis=0) - chains.by_chain.spread(drop, len(chains.starts))
    drop += shape.parts.share * rest.take(chains.chain_of, axis=0)
    for reached, member, node in chains.inner_nodes:
        level[reached] -= drop[member]
        node_v[node] = level[reached]


def _add_regulators(shape: Shape, regulated: Regulated, drop: Array, member_a: Array) -> None:
    """What stands over each regulator, added to the drop of its string."""
    chains = shape.chains
    volts, _ = regulated.drops(member_a[chains.starts[shape.junction_chains[regulated.rows]]])
    place = {at: row for row, at in enumerate(chains.members.tolist())}
    for volt, string_row in zip(volts, shape.regulators.string_row.tolist(), strict=True):
        drop[place[int(shape.strings[string_row])]] += volt


def _junction_drop(element: Element, current: Array) -> Array:
    least = min(law.saturation_a for law in element.laws)
    safe = np.maximum(current, -0.999999 * least)
    return np.asarray(sum(law.slope_v * np.log1p(safe / law.saturation_a) for law in element.laws))


def _fill_loose(shape: Shape, columns: Columns, node_v: Array) -> None:
    for at, leaf, inner in reversed(shape.loose):
        is_source = shape.network.elements[at].kind == "source"
        rise = columns.emf_v[shape.row_of_kind[at]] if is_source else np.zeros(1)
        node_v[leaf] = node_v[inner] + (rise if shape.end_a[at] == leaf else -rise)


