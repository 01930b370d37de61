"""Direct-current operating point of a whole network, in many columns at once.

Strings are collapsed to one law each, chains to one edge; Newton's method runs on the nodes left, for
all columns together, until the largest error of Kirchhoff's current law is below a small current.
"""

from __future__ import annotations

from dataclasses import dataclass
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
from rushlight.electric.network_check import (
    NetworkFault,
    backwards_faults,
    floating_fault,
    loose_fault,
    short_faults,
    supply_faults,
)
from rushlight.electric.network_shape import Shape, shape_of
from rushlight.electric.network_values import Values, values_of
from rushlight.electric.newton import (
    FIRST_ROUNDS,
    RESTART_ROUNDS,
    driven_chains,
    evaluated,
    newton,
    plain_current,
    restarted,
    started,
)
from rushlight.electric.regulated import Regulated
from rushlight.errors import OutOfRange

__all__ = [
    "BRIDGED_REGULATOR", "CLOSED_SWITCH_OHM", "KINDS", "OPEN", "OPEN_SWITCH_OHM", "REVERSED", "SHORTED", "SOUND",
    "TURNED_REGULATOR", "Columns", "Element", "Network", "NetworkFault", "OperatingPoint", "Shape", "Supply",
    "columns_of", "operating_point", "resistor", "shape_of", "source", "string", "switch", "wire",
]

Array = NDArray[np.float64]
Index = NDArray[np.int64]

COLUMNS_AT_ONCE = 128

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
    shape: Shape | None = None, start_v: Array | None = None, far: bool = False, stop_a: float = STOP_A,
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
    far : bool
        Whether that start lies far off, with strings dark that are lit there or the other way round.
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
    solved = [_solved(form, part, (start, far), stop_a) for part, start in zip(parts, starts, strict=True)]
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


def _solved(shape: Shape, columns: Columns, begin: tuple[Array | None, bool], stop_a: float) -> OperatingPoint:
    values, (start_v, far) = values_of(shape, columns), begin
    if start_v is None:
        start, before = started(shape, values, driven_chains(shape, values)), FIRST_ROUNDS
    else:
        solved_v = np.concatenate([start_v[shape.solved], np.zeros((1, columns.count))])
        start = restarted(shape, values, solved_v) if far else evaluated(shape, values, solved_v)
        before = RESTART_ROUNDS if far else 0
    solved_v, residual, rounds = newton(shape, values, start, stop_a)
    node_v, element_a = _spread_back(shape, values, columns, solved_v)
    return OperatingPoint(columns.names, node_v, element_a, residual, rounds + before, ())


def _spread_back(shape: Shape, values: Values, columns: Columns, solved_v: Array) -> tuple[Array, Array]:
    """Voltages of all nodes and currents of all elements, from the nodes solved for."""
    network, chains = shape.network, shape.chains
    node_v = np.full((len(network.nodes), columns.count), np.nan)
    element_a = np.zeros((len(network.elements), columns.count))
    node_v[shape.grounds] = 0.0
    node_v[shape.solved] = solved_v[:-1]
    across = solved_v.take(shape.edge_from, axis=0) - solved_v.take(shape.edge_to, axis=0)
    plain = len(values.conductance_siemens)
    flow = plain_current(values, across[:plain])
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


