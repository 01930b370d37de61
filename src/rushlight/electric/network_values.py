"""The numbers of a network's chains, sources and junctions in each column."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import OPEN, OPEN_SWITCH_OHM, REVERSED, SHORTED, Columns
from rushlight.electric.elimination import Gather
from rushlight.electric.network_shape import Shape
from rushlight.electric.omega import wright_omega
from rushlight.electric.regulated import Regulated, regulated_chains

Array = NDArray[np.float64]
Index = NDArray[np.int64]

LEAK_SIEMENS = 1e-12
"""Leakage conductance across each junction, as circuit solvers assume."""

BRIDGED = (1e-6, 0.0)
"""n Vt [V] and ln Is of a bridged diode: a junction that drops a few microvolts."""

BROKEN_OHM = 1e12
"""Resistance that stands for a break."""

EXACT_ABOVE_A = 1e-10
"""Mixed chains with a larger saturation current than this are solved exactly, not by the mean law."""

EXACT_STEPS = 5


@dataclass(frozen=True, slots=True)
class Junctions:
    """Chains with junctions as one law each: i + Is = (A / R) omega(...), v = A ln(i + Is) - B + R i."""

    slope_v: Array
    log_v: Array
    sat_a: Array
    ohm: Array
    leak_siemens: Array
    sign: Array
    exact: Index
    parts: Gather
    part_rows: Index
    part_slope_v: Array
    part_log_sat: Array
    regulated: Regulated | None = None

    def voltage(self, current_a: Array, ohm: Array) -> Array:
        """Voltage of each chain at a forward current [V], with the resistances of `start_ohm`."""
        return np.asarray(self.slope_v * np.log(current_a + self.sat_a) - self.log_v + ohm * current_a)

    def start_ohm(self) -> Array:
        """Resistance of each chain, that which stands for a regulator included [ohm]."""
        if self.regulated is None:
            return self.ohm
        extra = self.regulated.start_ohm()
        ohm = np.repeat(self.ohm, extra.shape[1], axis=1) if self.ohm.shape[1] == 1 else self.ohm.copy()
        ohm[self.regulated.rows] += extra
        return ohm

    def current_and_slope(self, voltage_v: Array) -> tuple[Array, Array]:
        """Current [A] of each chain at its voltage, and its slope [S]."""
        ahead = voltage_v * self.sign
        current, slope = _forward(ahead, self.slope_v, self.log_v, self.sat_a, self.ohm)
        if len(self.exact):
            current, slope = self._exact(ahead, current, slope)
        if self.regulated is not None:
            at = self.regulated.rows
            current[at], slope[at] = self.regulated.solved(
                ahead[at], ohm=_rows(self.ohm, at), sat_a=_rows(self.sat_a, at), free_a=current[at])
        return np.asarray(current * self.sign + self.leak_siemens * voltage_v), np.asarray(slope + self.leak_siemens)

    def _exact(self, ahead: Array, current: Array, slope: Array) -> tuple[Array, Array]:
        at = self.exact
        sat, ohm, goal = _rows(self.sat_a, at), _rows(self.ohm, at), ahead[at]
        part_sat = np.exp(self.part_log_sat)
        log_beyond = np.log(np.maximum(current[at] + sat, 1e-300))
        for _ in range(EXACT_STEPS):
            beyond = np.exp(log_beyond)
            inside = np.maximum((beyond - sat)[self.part_rows] + part_sat, 1e-300)
            drop = self.parts.spread(self.part_slope_v * np.log(inside / part_sat), len(at))
            rise = self.parts.spread(self.part_slope_v / inside, len(at)) + ohm
            log_beyond = log_beyond + (goal - drop - ohm * (beyond - sat)) / (rise * beyond)
        current, slope = current.copy(), slope.copy()
        current[at] = np.exp(log_beyond) - sat
        slope[at] = 1.0 / rise
        return current, slope

    def part(self, keep: Index) -> Junctions:
        """The same chains in some of the columns."""
        return Junctions(
            some_columns(self.slope_v, keep), some_columns(self.log_v, keep), some_columns(self.sat_a, keep),
            some_columns(self.ohm, keep), some_columns(self.leak_siemens, keep), some_columns(self.sign, keep),
            self.exact, self.parts, self.part_rows,
            some_columns(self.part_slope_v, keep), some_columns(self.part_log_sat, keep),
            None if self.regulated is None else self.regulated.part(keep),
        )


def _forward(ahead_v: Array, slope_v: Array, log_v: Array, sat_a: Array, ohm: Array) -> tuple[Array, Array]:
    """Current and slope of chains with junctions at their forward voltage."""
    scale = slope_v / ohm
    beyond = scale * wright_omega((ahead_v + ohm * sat_a + log_v) / slope_v - np.log(scale))
    return beyond - sat_a, beyond / (slope_v + ohm * beyond)


def junction_law(voltage_v: Array, laws: Array) -> tuple[Array, Array]:
    """Current [A] and slope [S] of chains with junctions, where the closed form holds.

    Parameters
    ----------
    voltage_v : array
        Voltages [V].
    laws : array
        slope_v, log_v, sat_a, ohm, leak_siemens and sign as `Junctions` has them, each broadcast to the voltages.
    """
    slope_v, log_v, sat_a, ohm, leak, sign = laws
    current, slope = _forward(voltage_v * sign, slope_v, log_v, sat_a, ohm)
    return current * sign + leak * voltage_v, slope + leak


def _rows(value: Array, at: Index) -> Array:
    return value[at] if value.shape[0] > 1 else value


def some_columns(value: Array, keep: Index) -> Array:
    """Chosen columns of an array that may have one column for all."""
    return value if value.shape[1] == 1 else value[:, keep]


@dataclass(frozen=True, slots=True)
class Values:
    """All numbers of a network in its columns; plain edges first, then chains with junctions."""

    conductance_siemens: Array
    edge_emf_v: Array
    junctions: Junctions
    element_ohm: Array
    closed: NDArray[np.bool_]


def values_of(shape: Shape, columns: Columns) -> Values:
    """Put the columns' numbers on a network's shape."""
    ohm = shape.own_ohm[:, None] * columns.ohm_factor
    state, strings = columns.string_state, shape.strings
    if np.any(state == OPEN) and ohm.shape[1] == 1:
        ohm = np.repeat(ohm, columns.count, axis=1)
    if np.any(state == OPEN):
        ohm[strings] = np.where(state == OPEN, BROKEN_OHM, ohm[strings])
    chains = shape.chains
    chain_ohm = chains.by_chain.spread(ohm[chains.members], len(chains.starts))
    plain = _plain_edges(shape, columns, ohm, chain_ohm)
    emf = np.zeros((len(plain), columns.count))
    first = len(shape.plain) + len(shape.switches)
    emf[first:] = columns.emf_v[shape.row_of_kind[shape.sources]]
    junctions = _junctions(shape, columns, chain_ohm[shape.junction_chains])
    closed = np.broadcast_to(columns.closed[shape.row_of_kind[shape.switches]], (len(shape.switches), columns.count))
    return Values(plain, emf, junctions, ohm, closed)


def _plain_edges(shape: Shape, columns: Columns, ohm: Array, chain_ohm: Array) -> Array:
    count = columns.count
    closed = columns.closed[shape.row_of_kind[shape.switches]]
    contact = np.where(closed, ohm[shape.switches], OPEN_SWITCH_OHM)
    inner = columns.inner_ohm[shape.row_of_kind[shape.sources]] * _rows(columns.ohm_factor, shape.sources)
    blocks = (chain_ohm[shape.plain], contact, inner)
    return 1.0 / np.concatenate([np.broadcast_to(block, (len(block), count)) for block in blocks])


def _junctions(shape: Shape, columns: Columns, chain_ohm: Array) -> Junctions:
    parts, count = shape.parts, len(shape.junction_chains)
    row, slope, number = parts.row, parts.slope_v, parts.per_chain
    log_sat = parts.log_sat - columns.shift_v[parts.string_row] / slope
    state = columns.string_state[parts.string_row]
    bridged = (state == SHORTED) & parts.leads
    if np.any(bridged):
        slope, log_sat = np.where(bridged, BRIDGED[0], slope), np.where(bridged, BRIDGED[1], log_sat)
    sums = parts.by_row
    turned = sums.spread((state == REVERSED) * 1.0, count) > 0
    ohm = np.where(turned & (number > 1), BROKEN_OHM, chain_ohm)
    exact, unlike, part_rows, chosen = _exact_rows(row, log_sat, sums, count)
    sat = np.exp(sums.spread(log_sat, count, np.minimum))
    return Junctions(
        sums.spread(slope, count), sums.spread(slope * log_sat, count), sat, ohm,
        LEAK_SIEMENS / number, np.where(turned & (number == 1), -1.0, 1.0),
        exact, unlike, part_rows, slope[chosen], log_sat[chosen],
        regulated_chains(shape, columns, junction_slope_v=slope, junction_log_sat=log_sat),
    )


def _exact_rows(row: Index, log_sat: Array, sums: Gather, count: int) -> tuple[Index, Gather, Index, Index]:
    """Chains of unlike junctions with one of large saturation current, and their junctions."""
    low, high = sums.spread(log_sat, count, np.minimum), sums.spread(log_sat, count, np.maximum)
    exact = np.flatnonzero(np.any((high > low) & (high > np.log(EXACT_ABOVE_A)) & (high < 0.0), axis=1))
    chosen = np.flatnonzero(np.isin(row, exact))
    part_rows = np.searchsorted(exact, row[chosen])
    return exact, Gather.by(part_rows), part_rows, chosen
