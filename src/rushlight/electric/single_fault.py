"""Single faults of a network from the sound one: all but a few junctions stay on their tangents.

A fault changes the law of one edge. What that does to the rest is known from the sound Jacobian as long as each
junction's current goes straight on with its voltage. Junctions that bend away from their tangents by more than the
error asked for, mostly the lamps behind the fault, are found and solved for together with the edge.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns
from rushlight.electric.elimination import factored, node_voltages
from rushlight.electric.network_shape import Shape
from rushlight.electric.network_values import Values, junction_law, values_of
from rushlight.electric.newton import evaluated, plain_current

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]

MOST_BENT = 64
"""Where more junctions bend, the whole network is solved."""

MOST_TURNS, MOST_ROUNDS = 5, 30


@dataclass(frozen=True, slots=True)
class Tangent:
    """The sound network in one state: by edge voltage [V], current [A] and slope [S], and what a current does.

    across_v: voltage over each edge for one ampere through each other, shape (edges, edges); plain: so many edges
    have no junction; laws: of the others as `junction_law` takes them, shape (6, junctions).
    """

    shape: Shape
    volts: Array
    amps: Array
    slope_siemens: Array
    across_v: Array
    plain: int
    laws: Array


@dataclass(frozen=True, slots=True)
class Faulted:
    """Some networks that differ from the sound one at one edge each.

    edges: that edge; laws: its law if it has junctions, shape (6, faults); emf_v, siemens: if it has none.
    """

    edges: Index
    laws: Array
    emf_v: Array
    siemens: Array

    def some(self, which: Index | Flags) -> Faulted:
        """Some of them."""
        return Faulted(self.edges[which], self.laws[:, which], self.emf_v[which], self.siemens[which])


def tangent(shape: Shape, columns: Columns, node_v: Array) -> Tangent | None:
    """The sound network in one state; None where a junction's law has no closed form.

    Parameters
    ----------
    shape : Shape
        Of the sound network.
    columns : Columns
        The one state.
    node_v : array
        Voltages of all nodes [V], shape (nodes, 1), as `operating_point` found them.
    Returns
    -------
    Tangent or None
        For `solved_beside`.
    """
    values = values_of(shape, columns)
    if not _closed_form(values):
        return None
    now = evaluated(shape, values, np.concatenate([node_v[shape.solved], np.zeros((1, 1))]))
    volts = (now.node_v[shape.edge_from] - now.node_v[shape.edge_to])[:, 0]
    plain = len(values.conductance_siemens)
    amps = np.concatenate([plain_current(values, volts[:plain, None])[:, 0],
                           values.junctions.current_and_slope(volts[plain:, None])[0][:, 0]])
    edge = np.arange(len(volts))
    fed = np.zeros((len(now.node_v), len(volts)))
    fed[shape.edge_from, edge] = 1.0
    fed[shape.edge_to, edge] -= 1.0
    moved = node_voltages(factored(shape.order, now.slope_siemens), fed)
    across = np.ascontiguousarray((moved[shape.edge_from] - moved[shape.edge_to]).T)
    every = np.zeros(len(volts) - plain, np.int64)
    return Tangent(shape, volts, amps, now.slope_siemens[:, 0], across, plain,
                   _laws(values, np.arange(len(every)), every))


def _closed_form(values: Values) -> bool:
    return not len(values.junctions.exact) and values.junctions.regulated is None


def _laws(values: Values, rows: Index, columns: Index) -> Array:
    """Laws of some junctions, each in one column, shape (6, rows)."""
    own = values.junctions
    parts = (own.slope_v, own.log_v, own.sat_a, own.ohm, own.leak_siemens, own.sign)
    wide = [np.broadcast_to(part, (len(own.slope_v), part.shape[1])) for part in parts]
    return np.array([part[rows, columns if part.shape[1] > 1 else 0] for part in wide])


def faulted(at: Tangent, columns: Columns, edges: Index) -> Faulted | None:
    """Networks that differ from the sound one at one edge each; None where a law has no closed form.

    Parameters
    ----------
    at : Tangent
        The sound network.
    columns : Columns
        The faulty ones, a column each.
    edges : array of int
        The edge at which each differs.
    """
    values, column = values_of(at.shape, columns), np.arange(len(edges))
    if not _closed_form(values):
        return None
    if at.plain < len(at.volts):
        laws = _laws(values, np.maximum(edges - at.plain, 0), column)
    else:
        laws = np.zeros((6, len(edges)))
    bare = np.minimum(edges, at.plain - 1)
    return Faulted(edges, laws, values.edge_emf_v[bare, column], values.conductance_siemens[bare, column])


def solved_beside(at: Tangent, given: Faulted, stop_a: float) -> tuple[Array, Array, Flags]:
    """Currents with each fault.

    Parameters
    ----------
    at : Tangent
        The sound network.
    given : Faulted
        The faults.
    stop_a : float
        Largest current error of an edge to stop at [A].
    Returns
    -------
    source_a, string_a : array
        Current out of each source that is part of the network, and of each string [A], shape (faults, rows).
    solved : array of bool
        Whether the fault was solved so; false where too much of the network bends.
    Source
    ------
    Sherman-Morrison-Woodbury formula (Hager, SIAM Review 31 (1989) 221) on the changed edges; checked against Newton's
    method on the whole network.
    """
    count, junctions = len(given.edges), len(at.volts) - at.plain
    through, sources = np.empty((count, junctions)), np.empty((count, len(at.shape.sources)))
    solved = np.zeros(count, bool)
    waiting = [_Guess(np.arange(count), given.edges[:, None], np.zeros((count, 1)))]
    for _ in range(MOST_TURNS):
        following: list[_Guess] = []
        for guess in waiting:
            part = given.some(guess.rows)
            with np.errstate(over="ignore", invalid="ignore"):  # what runs away does not arrive, and is left
                found, settled = _settled(at, part, guess, stop_a)
                amps, beside = _junction_currents(at, part, found)
            bends = ~(np.abs(beside) <= stop_a)
            done = settled & ~bends.any(axis=1)
            here = found.rows[done]
            through[here], sources[here] = amps[done], _source_currents(at, part, found)[done]
            solved[here] = True
            following += _following(at, found, np.where(bends, beside, 0.0), settled & ~done)
        waiting = following
    return sources, _string_currents(at.shape, through), solved


@dataclass(frozen=True, slots=True)
class _Guess:
    """Some faults on their way.

    rows: which faults; bending: edges that are solved for, shape (faults, most), the faulty one first, which stands
    again behind to fill up; extra: their currents beside their tangents [A].
    """

    rows: Index
    bending: Index
    extra: Array

    @property
    def real(self) -> Flags:
        """Where an edge stands for itself."""
        real = np.ones(self.bending.shape, bool)
        real[:, 1:] = self.bending[:, 1:] != self.bending[:, :1]
        return real


def _settled(at: Tangent, given: Faulted, guess: _Guess, stop_a: float) -> tuple[_Guess, Flags]:
    """The guess with the bending edges solved for by Newton's method, and whether it arrived."""
    bending, extra, real = guess.bending, guess.extra, guess.real
    matrix, one = at.across_v[bending[:, :, None], bending[:, None, :]], np.eye(bending.shape[1])
    volts0, amps0, slope0 = (value[bending] for value in (at.volts, at.amps, at.slope_siemens))
    off = np.full(len(bending), np.inf)
    for _ in range(MOST_ROUNDS):
        volts = volts0 - (matrix @ extra[:, :, None])[:, :, 0]
        amps, slope = _bending_law(at, given, bending, volts)
        error = np.where(real, amps - amps0 - slope0 * (volts - volts0) - extra, 0.0)
        off = np.abs(error).max(axis=1)
        if not (off > 0.1 * stop_a).any():
            break
        more = np.where(real, slope - slope0, 0.0)
        try:
            extra = extra + np.linalg.solve(one + more[:, :, None] * matrix, error[:, :, None])[:, :, 0]
        except np.linalg.LinAlgError:  # a break leaves a part on nothing at all
            return guess, np.zeros(len(bending), bool)
    return replace(guess, extra=extra), np.asarray(off <= stop_a)


def _bending_law(at: Tangent, given: Faulted, bending: Index, volts: Array) -> tuple[Array, Array]:
    """Currents and slopes of the bending edges at some voltages."""
    if at.plain == len(at.volts):
        amps, slope = np.zeros_like(volts), np.zeros_like(volts)
    else:
        laws = at.laws[:, np.maximum(bending - at.plain, 0)]
        laws[:, :, 0] = given.laws
        amps, slope = junction_law(volts, laws)
    bare = given.edges < at.plain
    amps[bare, 0] = ((volts[:, 0] - given.emf_v) * given.siemens)[bare]
    slope[bare, 0] = given.siemens[bare]
    return amps, slope


def _junction_currents(at: Tangent, given: Faulted, guess: _Guess) -> tuple[Array, Array]:
    """Currents of all junctions at a guess, and what of those that are not solved for lies beside their tangents."""
    volts = _moved(at, guess, slice(at.plain, None))
    amps, _ = junction_law(volts, at.laws[:, None, :])
    own = np.flatnonzero(given.edges >= at.plain)
    place = given.edges[own] - at.plain
    amps[own, place], _ = junction_law(volts[own, place], given.laws[:, own])
    beside = amps - at.amps[at.plain :] - at.slope_siemens[at.plain :] * (volts - at.volts[at.plain :])
    beside[_held(guess.bending - at.plain, amps.shape)] = 0.0
    return amps, beside


def _moved(at: Tangent, guess: _Guess, edges: slice | Index) -> Array:
    """Voltages over some edges, shape (faults, edges)."""
    volts = np.repeat(at.volts[None, edges], len(guess.rows), axis=0)
    for one in range(guess.bending.shape[1]):
        volts -= at.across_v[guess.bending[:, one]][:, edges] * guess.extra[:, one : one + 1]
    return volts


def _held(junctions: Index, shape: tuple[int, ...]) -> Flags:
    """Which junctions are solved for."""
    held, rows = np.zeros(shape, bool), np.arange(len(junctions))
    for one in range(junctions.shape[1]):
        some = junctions[:, one] >= 0
        held[rows[some], junctions[some, one]] = True
    return held


def _source_currents(at: Tangent, given: Faulted, guess: _Guess) -> Array:
    """Current out of each source, shape (faults, sources)."""
    edges = len(at.shape.plain) + len(at.shape.switches) + np.arange(len(at.shape.sources))
    volts = _moved(at, guess, edges)
    amps = at.amps[edges] + at.slope_siemens[edges] * (volts - at.volts[edges])
    own = given.edges[:, None] == edges
    return -np.where(own, (volts - given.emf_v[:, None]) * given.siemens[:, None], amps)


def _string_currents(shape: Shape, junction_a: Array) -> Array:
    chains, place = shape.chains, np.full(len(shape.chains.starts), -1, np.int64)
    place[shape.junction_chains] = np.arange(len(shape.junction_chains))
    held = np.flatnonzero(np.isin(chains.members, shape.strings) & (place[chains.chain_of] >= 0))
    string_a = np.zeros((len(junction_a), len(shape.strings)))
    string_a[:, shape.row_of_kind[chains.members[held]]] = (
        junction_a[:, place[chains.chain_of[held]]] * chains.signs[held])
    return string_a


def _following(at: Tangent, guess: _Guess, beside: Array, goes_on: Flags) -> list[_Guess]:
    """The next guess for faults that go on, with what bends too; those with about as many such edges together."""
    real = guess.real
    size, found, least = real.sum(axis=1) + (beside != 0.0).sum(axis=1), [], 0
    for most in (2, 4, 8, 16, 32, MOST_BENT):
        some = np.flatnonzero(goes_on & (least < size) & (size <= most))
        least = most
        bending, extra = np.repeat(guess.bending[some, :1], most, axis=1), np.zeros((len(some), most))
        for row, k in enumerate(some.tolist()):
            old, new = np.flatnonzero(real[k]), np.flatnonzero(beside[k])
            bending[row, : size[k]] = np.concatenate([guess.bending[k, old], new + at.plain])
            extra[row, : size[k]] = np.concatenate([guess.extra[k, old], beside[k, new]])
        if len(some):
            found.append(_Guess(guess.rows[some], bending, extra))
    return found


def edges_of(shape: Shape) -> Index:
    """For each element of a network the edge that it is part of; -1 where it is part of none."""
    first, second, third = np.cumsum([len(shape.plain), len(shape.switches), len(shape.sources)]).tolist()
    of_chain = np.full(len(shape.chains.starts), -1, np.int64)
    of_chain[shape.plain] = np.arange(first)
    of_chain[shape.junction_chains] = third + np.arange(len(shape.junction_chains))
    of = np.full(len(shape.network.elements), -1, np.int64)
    of[shape.chains.members] = of_chain[shape.chains.chain_of]
    of[shape.switches], of[shape.sources] = np.arange(first, second), np.arange(second, third)
    return of
