"""Newton's method on the nodes of a network, for all columns together."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elimination import factored, node_voltages
from rushlight.electric.network_check import contact_patterns, joined
from rushlight.electric.network_shape import Shape
from rushlight.electric.network_values import Values

Array = NDArray[np.float64]
Index = NDArray[np.int64]

START_A = 5e-3
"""Current at which every string is made linear for the first round."""

DARK_A = 1e-10
"""Least current at which a string is made linear in the first rounds."""

FIRST_ROUNDS, RESTART_ROUNDS = 3, 4
MOST_ROUNDS = 200


@dataclass(frozen=True, slots=True)
class State:
    """One round: node voltages, the current error fed into each node, and each edge's slope."""

    node_v: Array
    error_a: Array
    slope_siemens: Array


def newton(shape: Shape, values: Values, start: State, stop_a: float) -> tuple[Array, Array, int]:
    """Node voltages, largest current error of each column, rounds."""
    now = start
    count = values.conductance_siemens.shape[1]
    result, residual = np.zeros_like(now.node_v), np.zeros(count)
    active, largest = np.arange(count), values.conductance_siemens.max(axis=0, initial=0.0)
    for rounds in range(1, MOST_ROUNDS + 1):
        off = np.abs(now.error_a[:-1]).max(axis=0, initial=0.0)
        done = off <= stop_at(largest[active], now, stop_a)
        if done.any() or rounds == MOST_ROUNDS:
            result[:, active], residual[active] = now.node_v, off
            keep = np.flatnonzero(~done)
            if not len(keep):
                break
            active, values, now = active[keep], some_values(values, keep), some_states(now, keep)
        step = node_voltages(factored(shape.order, now.slope_siemens), now.error_a)
        now = damped(shape, values, now, step)
    return result, residual, rounds


def stop_at(largest_siemens: Array, now: State, stop_a: float) -> Array:
    """Largest current error to stop at in each column [A]: what was asked for, or what rounding allows."""
    rounding = 16 * np.finfo(float).eps * largest_siemens
    return np.asarray(np.maximum(stop_a, rounding * np.abs(now.node_v).max(axis=0, initial=1.0)))


def some_values(values: Values, keep: Index) -> Values:
    """The numbers of some columns."""
    return replace(
        values, conductance_siemens=values.conductance_siemens[:, keep], edge_emf_v=values.edge_emf_v[:, keep],
        junctions=values.junctions.part(keep),
    )


def some_states(state: State, keep: Index) -> State:
    """Some columns of a round."""
    return State(state.node_v[:, keep], state.error_a[:, keep], state.slope_siemens[:, keep])


def driven_chains(shape: Shape, values: Values) -> NDArray[np.bool_]:
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


def started(shape: Shape, values: Values, driven: NDArray[np.bool_]) -> State:
    """The start from nothing: strings that are driven begin at START_A, the others dark."""
    node_v = np.zeros((shape.order.node_count + 1, values.conductance_siemens.shape[1]))
    return _led_near(shape, values, np.where(driven, START_A, DARK_A), node_v=node_v, rounds=FIRST_ROUNDS)


def restarted(shape: Shape, values: Values, node_v: Array) -> State:
    """The start from voltages that are far from the solution: strings begin at their currents there."""
    plain = len(values.conductance_siemens)
    across = node_v.take(shape.edge_from[plain:], axis=0) - node_v.take(shape.edge_to[plain:], axis=0)
    current = np.clip(values.junctions.current_and_slope(across)[0], DARK_A, 1e3)
    return _led_near(shape, values, current, node_v=node_v, rounds=RESTART_ROUNDS)


def _led_near(shape: Shape, values: Values, current: Array, *, node_v: Array, rounds: int) -> State:
    """A few rounds with each string made linear at its predicted current, never below a tiny one.

    What a diode's current is after a large step in voltage is ill foretold; its voltage after one in current is not.
    """
    junctions, plain = values.junctions, len(values.conductance_siemens)
    ohm = junctions.start_ohm()
    for _ in range(rounds):
        slope = 1.0 / (junctions.slope_v / (current + junctions.sat_a) + ohm)
        across = node_v.take(shape.edge_from, axis=0) - node_v.take(shape.edge_to, axis=0)
        predicted = current + slope * (across[plain:] - junctions.voltage(current, ohm))
        slopes = np.concatenate([values.conductance_siemens, slope])
        error = _error(shape, plain_current(values, across[:plain]), predicted)
        step = node_voltages(factored(shape.order, slopes), error)
        node_v = node_v + step
        moved = step.take(shape.edge_from[plain:], axis=0) - step.take(shape.edge_to[plain:], axis=0)
        current = np.clip(predicted + slope * moved, DARK_A, 1e3)
    return evaluated(shape, values, node_v)


def plain_current(values: Values, across: Array) -> Array:
    """Current of each edge without a junction at the voltage across it [A]."""
    return (across - values.edge_emf_v) * values.conductance_siemens


def _error(shape: Shape, plain_a: Array, junction_a: Array) -> Array:
    flows = np.concatenate([-plain_a, -junction_a, plain_a, junction_a])
    return shape.into_nodes.spread(flows, shape.order.node_count + 1)


def evaluated(shape: Shape, values: Values, node_v: Array) -> State:
    """The round at some node voltages, the reference last."""
    plain = len(values.conductance_siemens)
    across = node_v.take(shape.edge_from, axis=0) - node_v.take(shape.edge_to, axis=0)
    current, slope = values.junctions.current_and_slope(across[plain:])
    error = _error(shape, plain_current(values, across[:plain]), current)
    return State(node_v, error, np.concatenate([values.conductance_siemens, slope]))


def damped(shape: Shape, values: Values, now: State, step: Array) -> State:
    """One step along Newton's direction, cut back while it overshoots the lowest point on its way."""
    ahead = (now.error_a[:-1] * step[:-1]).sum(axis=0)
    length = np.ones(step.shape[1])
    for _ in range(12):
        tried = evaluated(shape, values, now.node_v + step * length)
        left = (tried.error_a[:-1] * step[:-1]).sum(axis=0)
        over = left < -np.maximum(np.abs(ahead), 1e-18)
        if not over.any():
            break
        length = np.where(over, length * np.clip(ahead / (ahead - left), 0.1, 0.7), length)
    return tried
