"""Chains that hold a constant-current regulator: their current at a voltage, by Newton's method on its logarithm.

With y = ln(i + Is) the voltage over such a chain is convex and rises with y, so that Newton's method from above always
arrives. Networks without a regulator never come here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import BRIDGED_REGULATOR, TURNED_REGULATOR, Columns
from rushlight.electric.elimination import Gather
from rushlight.electric.network_shape import Parts, Shape
from rushlight.electric.regulator import BRIDGED_OHM, regulator_voltage

Array = NDArray[np.float64]
Index = NDArray[np.int64]

MOST_STEPS = 100
SETTLED = 1e-9
"""Change of ln(i + Is) at which the steps end: the next would be of the order of its square, under the rounding."""

DEEPEST = 500.0
"""So many e-folds under Is the share of it that is left is nothing, and still a number."""

STANDS_FOR_V = 3.0
"""A regulator starts as the resistor that drops so much at its current: only the first rounds hang on this."""


@dataclass(frozen=True, slots=True)
class Regulated:
    """Chains with regulators (rows among the chains with junctions), their regulators, and their junctions.

    plateau_a, knee_v, slope_siemens: the law of each regulator; bridged, turned: how it stands in each column.
    """

    rows: Index
    regulators: Gather
    place: Index
    plateau_a: Array
    knee_v: Array
    slope_siemens: Array
    bridged: NDArray[np.bool_]
    turned: NDArray[np.bool_]
    junctions: Gather
    junction_place: Index
    junction_slope_v: Array
    junction_sat_a: Array

    def part(self, keep: Index) -> Regulated:
        """The same chains in some of the columns."""
        def cut(value: NDArray[np.generic]) -> NDArray[np.generic]:
            return value if value.shape[1] == 1 else value[:, keep]

        return Regulated(
            self.rows, self.regulators, self.place, cut(self.plateau_a), cut(self.knee_v),  # type: ignore[arg-type]
            cut(self.slope_siemens), cut(self.bridged), cut(self.turned),  # type: ignore[arg-type]
            self.junctions, self.junction_place, cut(self.junction_slope_v),  # type: ignore[arg-type]
            cut(self.junction_sat_a),  # type: ignore[arg-type]
        )

    def start_ohm(self) -> Array:
        """Resistance that stands for the regulators of each chain in the first rounds [ohm]."""
        ohm = np.where(self.bridged, BRIDGED_OHM, STANDS_FOR_V / self.plateau_a)
        return self.regulators.spread(ohm, len(self.rows))

    def drops(self, current_a: Array) -> tuple[Array, Array]:
        """Voltage over each regulator and its slope [V, ohm], from the current of its chain (chains, columns)."""
        amps = current_a[self.place]
        ahead = regulator_voltage(self.plateau_a, self.knee_v, self.slope_siemens, amps)
        beyond = np.maximum(amps / self.plateau_a, -0.999999)
        back = self.knee_v * np.log1p(beyond), self.knee_v / (self.plateau_a * (1.0 + beyond))
        volts, ohm = (np.where(self.turned, b, a) for a, b in zip(ahead, back, strict=True))
        return np.where(self.bridged, BRIDGED_OHM * amps, volts), np.where(self.bridged, BRIDGED_OHM, ohm)

    def solved(self, ahead_v: Array, *, ohm: Array, sat_a: Array, free_a: Array) -> tuple[Array, Array]:
        """Current and slope of the chains [A, S] at their voltages; `free_a` is what flows without regulators."""
        least = np.broadcast_to(np.log(sat_a), ahead_v.shape)
        most = np.log(np.minimum(self._borne(ahead_v), np.maximum(free_a, 0.0) * 1.001) + sat_a)
        most = np.where(ahead_v > 0, most, least) + 1e-12
        log_a = most
        for _ in range(MOST_STEPS):
            total = np.exp(log_a)
            drop, rise = self._voltage(total - sat_a, ohm)
            after = np.clip(log_a + (ahead_v - drop) / (rise * total), least - DEEPEST, most + 1.0)
            moved = float(np.max(np.abs(after - log_a), initial=0.0))
            log_a = after
            if moved < SETTLED:
                break
        total = np.exp(log_a)
        _, rise = self._voltage(total - sat_a, ohm)
        return total - sat_a, 1.0 / rise

    def _borne(self, ahead_v: Array) -> Array:
        """What the regulators let through with the whole voltage over each."""
        volts = np.maximum(ahead_v, 0.0)[self.place]
        amps = -self.plateau_a * np.expm1(-volts / self.knee_v) + self.slope_siemens * volts
        amps = np.where(self.bridged | self.turned, 1e3, amps)
        return self.regulators.spread(amps, len(self.rows), np.minimum)

    def _voltage(self, current_a: Array, ohm: Array) -> tuple[Array, Array]:
        inside = np.maximum(current_a[self.junction_place] + self.junction_sat_a, 1e-300)
        volts, slope = self.drops(current_a)
        logs = self.junctions.spread(self.junction_slope_v * np.log(inside / self.junction_sat_a), len(self.rows))
        rise = self.junctions.spread(self.junction_slope_v / inside, len(self.rows))
        drops, slopes = (self.regulators.spread(value, len(self.rows)) for value in (volts, slope))
        return logs + drops + ohm * current_a, rise + slopes + ohm


def regulated_chains(
    shape: Shape, columns: Columns, *, junction_slope_v: Array, junction_log_sat: Array
) -> Regulated | None:
    """The chains of a network that hold a regulator, with the columns' values; None where there is none.

    Parameters
    ----------
    shape, columns : Shape, Columns
        The network and its cases.
    junction_slope_v, junction_log_sat : array
        n Vt [V] and ln Is of every junction in the columns.
    Returns
    -------
    Regulated or None
        Rows count among the chains with junctions.
    """
    held = shape.regulators
    if not len(held.string_row):
        return None
    rows, place = np.unique(held.row, return_inverse=True)
    state = columns.string_state[held.string_row]
    factor = columns.limit_factor
    scale = np.ones((1, 1)) if factor is None else factor[held.string_row]
    parts: Parts = shape.parts
    chosen = np.flatnonzero(np.isin(parts.row, rows))
    junction_place = np.searchsorted(rows, parts.row[chosen])
    slope = np.broadcast_to(junction_slope_v, (len(parts.row), junction_slope_v.shape[1]))
    log_sat = np.broadcast_to(junction_log_sat, (len(parts.row), junction_log_sat.shape[1]))
    return Regulated(
        rows, Gather.by(place), place, held.plateau_a * scale, held.knee_v, held.slope_siemens * scale,
        state == BRIDGED_REGULATOR, state == TURNED_REGULATOR,
        Gather.by(junction_place), junction_place, slope[chosen], np.exp(log_sat[chosen]),
    )
