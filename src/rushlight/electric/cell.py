"""Cells and other supplies: capacity by rate, voltage and resistance by charge, run time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import row_by, rows
from rushlight.units import Range

Array = NDArray[np.float64]

LEAST_CURRENT_A = 1e-6
"""Currents below this count as this in a run time: self-discharge is then the larger drain."""


OHM_AS_TOLD = Range.exactly(1.0)


@dataclass(frozen=True, slots=True)
class RateLaw:
    """Delivered charge by current: Q0 / (1 + (I / I1)^b), flat below the least published current."""

    full_mah: float
    knee_a: float
    exponent: float
    least_a: float
    most_a: float

    def capacity_mah(self, current_a: float | Array) -> Array:
        """Charge that the cell delivers at a steady current [mAh]; the law goes on above its points."""
        current = np.maximum(np.asarray(current_a, float), self.least_a)
        return np.asarray(self.full_mah / (1.0 + (current / self.knee_a) ** self.exponent))


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell (or a block such as 9 V, counted as one) as the tables describe it."""

    key: str
    rate: RateLaw
    used_fraction: tuple[float, ...]
    open_circuit_v: tuple[float, ...]
    fresh_ohm: float
    flat_ohm: float
    cut_off_v: float
    time_spread: Range
    ohm_spread: Range = OHM_AS_TOLD


@dataclass(frozen=True, slots=True)
class Battery:
    """Equal cells, `series` in a row and `parallel` such rows side by side."""

    cell: Cell
    series: int
    parallel: int = 1

    def __post_init__(self) -> None:
        if not (1 <= self.series <= 20 and 1 <= self.parallel <= 20):
            raise OutOfRange("cells", (self.series, self.parallel), "1 to 20 in series and in parallel")


@dataclass(frozen=True, slots=True)
class Ages:
    """A battery at several ages: EMF and inner resistance, for a network's columns."""

    used_fraction: Array
    emf_v: Array
    inner_ohm: Array


@dataclass(frozen=True, slots=True)
class Discharge:
    """What a battery does in one state over time, and how long it lasts."""

    time_h: Array
    terminal_v: Array
    current_a: Array
    run_time_h: Range
    ended_by: str


def fitted_rate_law(currents_a: Sequence[float], capacities_mah: Sequence[float]) -> RateLaw:
    """The rate law nearest to published points.

    Parameters
    ----------
    currents_a : sequence of float
        Steady currents [A], three or more, rising, above zero.
    capacities_mah : sequence of float
        Charge delivered at each [mAh], falling or level.
    Returns
    -------
    RateLaw
        Least squares of the logarithm.
    Raises
    ------
    OutOfRange
        If there are fewer than three points or they are not in order.
    Notes
    -----
    A grid over knee and exponent, made finer in six rounds; Q0 follows in closed form. Three parameters
    on four or five points: that it fits shows the shape, not that it predicts.
    Source
    ------
    The project's own study of published discharge figures; Peukert's law fits them 1.2 to 13 times worse.
    """
    amps, mah = np.asarray(currents_a, float), np.asarray(capacities_mah, float)
    if len(amps) < 3 or len(amps) != len(mah) or np.any(np.diff(amps) <= 0) or amps[0] <= 0:
        raise OutOfRange("points", len(amps), "three or more with rising currents above zero")
    if np.any(np.diff(mah) > 0) or mah[-1] <= 0:
        raise OutOfRange("capacities_mah", tuple(capacities_mah), "falling or level, above zero")
    centre, width = np.array([np.log(amps[-1]), 1.2]), np.array([4.0, 1.1])
    for _ in range(6):
        knee, power = (centre[k] + np.linspace(-width[k], width[k], 41) for k in (0, 1))
        shape = np.log1p(np.exp(power[None, :, None] * (np.log(amps) - knee[:, None, None])))
        off = np.log(mah) + shape
        at = np.unravel_index(np.argmin(off.var(axis=2)), (41, 41))
        centre, width = np.array([knee[at[0]], power[at[1]]]), width * 0.2
    full = float(np.exp(off[at].mean()))
    return RateLaw(full, float(np.exp(centre[0])), float(centre[1]), float(amps[0]), float(amps[-1]))


def cell_keys() -> tuple[str, ...]:
    """IEC designations of the cells that the tables hold."""
    return tuple(row["cell"] for row in rows("cell_kinds"))


def uses_of(key: str) -> tuple[str, ...]:
    """Ways of use for which the tables hold capacities of a cell."""
    return tuple(dict.fromkeys(row["use"] for row in rows("cell_capacity") if row["cell"] == key))


@cache  # a fit of published points, the same whoever asks
def cell(key: str, use: str = "continuous") -> Cell:
    """A tabled cell.

    Parameters
    ----------
    key : str
        IEC designation, such as 'LR6'.
    use : str
        'continuous', or 'some hours a day' where the table has it; else the continuous figures serve.
    Returns
    -------
    Cell
        Rate law, voltage by charge, resistance, cut-off.
    Raises
    ------
    UnknownName
        If there is no such cell or use.
    Source
    ------
    `data/cell_kinds.csv`, `data/cell_capacity.csv`, `data/cell_voltage.csv`.
    """
    row = row_by("cell_kinds", "cell", key)
    if use not in ("continuous", "some hours a day"):
        raise UnknownName("use of a cell", use, ("continuous", "some hours a day"))
    wanted = use if use in uses_of(key) else "continuous"
    points = [r for r in rows("cell_capacity") if r["cell"] == key and r["use"] == wanted]
    law = fitted_rate_law(
        [float(p["current_ma"]) / 1000 for p in points], [float(p["capacity_mah"]) for p in points]
    )
    curve = [r for r in rows("cell_voltage") if r["chemistry"] == row["chemistry"]]
    inside = int(row["cells_inside"])
    return Cell(
        key, law, tuple(float(r["used_fraction"]) for r in curve),
        tuple(inside * float(r["open_circuit_v"]) for r in curve),
        float(row["fresh_ohm"]), float(row["flat_ohm"]), float(row["cut_off_v"]),
        Range(float(row["time_spread_low"]), 1.0, float(row["time_spread_high"])),
        Range(float(row["ohm_spread_low"]), 1.0, float(row["ohm_spread_high"])),
    )


def open_circuit_v(battery: Battery, used_fraction: float | Array) -> Array:
    """Open-circuit voltage of a battery.

    Parameters
    ----------
    battery : Battery
        Equal cells.
    used_fraction : float or array
        Share of the charge that is used [-], 0 to 1.
    Returns
    -------
    array
        Voltage [V], straight between the table's points.
    Raises
    ------
    OutOfRange
        If a fraction lies outside 0 to 1.
    Source
    ------
    `data/cell_voltage.csv` (mostly from memory, typical).
    """
    used = _checked_fraction(used_fraction)
    return np.asarray(battery.series * np.interp(used, battery.cell.used_fraction, battery.cell.open_circuit_v))


def inner_ohm(battery: Battery, used_fraction: float | Array) -> Array:
    """Inner resistance of a battery.

    Parameters
    ----------
    battery : Battery
        Equal cells.
    used_fraction : float or array
        Share of the charge that is used [-], 0 to 1.
    Returns
    -------
    array
        Resistance [ohm], rising from fresh to flat with the square of the share used.
    Raises
    ------
    OutOfRange
        If a fraction lies outside 0 to 1.
    Source
    ------
    Project's own study; ends from `data/cell_kinds.csv`.
    """
    used = _checked_fraction(used_fraction)
    one = battery.cell.fresh_ohm + (battery.cell.flat_ohm - battery.cell.fresh_ohm) * used**2
    return np.asarray(one * battery.series / battery.parallel)


def _checked_fraction(used_fraction: float | Array) -> Array:
    used = np.asarray(used_fraction, float)
    if not np.all((used >= 0) & (used <= 1)):
        raise OutOfRange("used_fraction", used_fraction, "0 to 1")
    return used


def capacity_mah(battery: Battery, current_a: float | Array) -> Array:
    """Charge that a battery delivers at a steady current.

    Parameters
    ----------
    battery : Battery
        Equal cells.
    current_a : float or array
        Current of the whole battery [A], 0 or more.
    Returns
    -------
    array
        Charge [mAh]; each parallel row carries its share of the current.
    Raises
    ------
    OutOfRange
        If a current is negative or beyond three times the largest published one.
    Source
    ------
    `fitted_rate_law` on `data/cell_capacity.csv`.
    """
    current = np.asarray(current_a, float) / battery.parallel
    if not np.all((current >= 0) & (current <= 3 * battery.cell.rate.most_a)):
        raise OutOfRange("current_a", current_a, f"0 to {3 * battery.cell.rate.most_a * battery.parallel:g} A")
    return battery.parallel * battery.cell.rate.capacity_mah(current)


def ages(battery: Battery, count: int = 21) -> Ages:
    """A battery at evenly spaced ages from fresh to flat, for the columns of a network.

    Parameters
    ----------
    battery : Battery
        Equal cells.
    count : int
        Number of ages, 2 to 200.
    Returns
    -------
    Ages
        Share used, EMF [V], inner resistance [ohm], each of shape (count,).
    Raises
    ------
    OutOfRange
        If the count is out of range.
    Source
    ------
    `open_circuit_v`, `inner_ohm`.
    """
    if not 2 <= count <= 200:
        raise OutOfRange("count", count, "2 to 200")
    used = np.linspace(0.0, 1.0, count)
    return Ages(used, open_circuit_v(battery, used), inner_ohm(battery, used))


def discharge(battery: Battery, at: Ages, current_a: Sequence[float] | Array, *, cut_off_v: float = 0.0) -> Discharge:
    """Voltage and current over time, and run time, of a battery in one state.

    Parameters
    ----------
    battery : Battery
        Equal cells.
    at : Ages
        What `ages(battery)` gave.
    current_a : sequence of float or array
        Current drawn at each age [A], from the network's solve, 0 or more.
    cut_off_v : float
        Terminal voltage at which the load goes out or must stop [V]; the cells' own cut-off counts too.
    Returns
    -------
    Discharge
        Time [h], terminal voltage [V] and current [A] at each age reached; run time [h] as a range (the
        spread between makes, at least 25 % either way); ended by 'cut-off' or 'empty'.
    Raises
    ------
    OutOfRange
        If currents are negative, too large for the cells, or not one for each age.
    Notes
    -----
    t = integral of Q(I) / I ds over the share used s: at a steady current this is Q(I) / I. Times at
    currents below 1 uA count as at 1 uA. Rest, temperature and ageing are not modelled.
    Source
    ------
    Charge balance; capacity law of `fitted_rate_law`.
    """
    current = np.asarray(current_a, float)
    if current.shape != at.used_fraction.shape:
        raise OutOfRange("current_a", current.shape, f"one for each of the {len(at.used_fraction)} ages")
    terminal = at.emf_v - current * at.inner_ohm
    hours_per_share = capacity_mah(battery, current) / 1000.0 / np.maximum(current, LEAST_CURRENT_A)
    step = 0.5 * (hours_per_share[1:] + hours_per_share[:-1]) * np.diff(at.used_fraction)
    time = np.concatenate([[0.0], np.cumsum(step)])
    limit = max(cut_off_v, battery.cell.cut_off_v * battery.series)
    last, end_h = _end(time, terminal, limit)
    spread = battery.cell.time_spread
    lasts = spread.times(end_h)
    ended = "empty" if last == len(time) - 1 and terminal[-1] >= limit else "cut-off"
    return Discharge(time[: last + 1], terminal[: last + 1], current[: last + 1], lasts, ended)


def _end(time: Array, terminal: Array, limit: float) -> tuple[int, float]:
    """The last age reached, and the time at which the terminal voltage meets the limit."""
    under = np.flatnonzero(terminal < limit)
    if not len(under):
        return len(time) - 1, float(time[-1])
    first = int(under[0])
    if first == 0:
        return 0, 0.0
    share = (terminal[first - 1] - limit) / (terminal[first - 1] - terminal[first])
    return first - 1, float(time[first - 1] + share * (time[first] - time[first - 1]))
