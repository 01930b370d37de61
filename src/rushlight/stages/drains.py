"""The whole loom solved at every age of its supply, for run times and the evening."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.cell import Ages
from rushlight.electric.elements import Supply, columns_of
from rushlight.electric.network import OperatingPoint, Shape
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import StatePower
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan, State
from rushlight.optics.emitter import flux_fall_per_k
from rushlight.stages.evening import Drain
from rushlight.stages.led_heat import COLDEST_C, HOTTEST_C, RATED_C, chemistry_of
from rushlight.stages.network import LEAST_OHM, string_name
from rushlight.stages.parts_law import usual_light_a
from rushlight.stages.supplies import FEED_POWER, battery_ages, cell_ohm, supply_ages
from rushlight.stages.switching import Switching
from rushlight.units import Range

if TYPE_CHECKING:
    from rushlight.stages.loom_warmth import LoomWarmth
    from rushlight.stages.settling import Settled

Array = NDArray[np.float64]

LEAST_A = 1e-9
"""Less than this counts as this where currents are compared: nothing is lit by it."""

OTHER_END = {"low": "high", "high": "low"}

LAW_ENDS = ("early", "late")
"""LEDs that are at their best early and late: beside the usual ones in what an evening's marks may be."""

LEAST_SPAN = 1e-9
"""Ends whose currents differ by less in the logarithm are one."""


def lit_in(circuits: tuple[Circuit, ...], emitter: Emitter, state: State) -> bool:
    """Whether a state is to light an emitter."""
    return any(circuit.name == emitter.circuit and state.name in circuit.states for circuit in circuits)


def drained(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching, shape: Shape,
    shifts: Mapping[str, list[float]], limits: Mapping[str, list[float]] | None = None,
    warmth: LoomWarmth, point: OperatingPoint, ohm_factor: Array,
) -> Drain:
    """One more solve: every state at every age of the supply, with LEDs of one tolerance.

    LEDs and regulators are as warm as they get at each age, in the air that `point`, the solve before, made. Cells
    take part in the current with the resistance that goes with these LEDs, and in what is left of their volts (`at`)
    with that of the other end: what takes most is spent first, what takes least lasts.
    """
    tolerance = next(iter(shifts))
    at = _ages_with(plan, drawer, tolerance)
    supplies = [
        Supply(f"{number}", (float(emf),), (max(float(ohm), LEAST_OHM),))
        for number, (emf, ohm) in enumerate(zip(at.emf_v, at.inner_ohm, strict=True))
    ]
    network = shape.network
    columns = columns_of(network, found.closed, supplies=supplies, shifts_v=shifts, limits=limits)
    columns = replace(columns, ohm_factor=ohm_factor)
    own = warmth.for_tolerance(tolerance)
    settled = own.at_ages(columns, shape, ages=len(supplies), point=point)
    rows = {element.name: number for number, element in enumerate(network.elements)}
    amps = settled.point.element_a.reshape(len(network.elements), len(plan.states), len(supplies))
    wired = [emitter for emitter in loom.emitters if string_name(emitter, 0) in rows]
    at_rows = [rows[string_name(emitter, 0)] for emitter in wired]
    warm_share = _warm_share(drawer, wired, settled=settled, at=at_rows, warm=own).reshape(-1, *amps.shape[1:])

    def lit_by(end: str) -> tuple[dict[str, Array], ...]:
        light_a = _light_a(drawer, wired, amps=amps[at_rows], end=end) * warm_share
        return tuple({one.name: light_a[k, number] for k, one in enumerate(wired) if lit_in(circuits, one, state)}
                     for number, state in enumerate(plan.states))

    lit = lit_by("usual")
    drawn = amps[rows["supply"]]
    return Drain(states=tuple(state.name for state in plan.states),
                 at=_ages_with(plan, drawer, OTHER_END.get(tolerance, tolerance)), amps=drawn, mean=drawn, lit=lit,
                 light=np.array([_together(row, len(supplies)) for row in lit]), lit_ends=tuple(map(lit_by, LAW_ENDS)))


def _together(lit: Mapping[str, Array], ages: int) -> Array:
    """Light of all lamps of a state over that of a fresh supply, at each age [-]; 1 where nothing is lit by it."""
    whole = np.sum(list(lit.values()), axis=0) if lit else np.zeros(ages)
    return np.asarray(whole / whole[0]) if whole[0] > LEAST_A else np.ones(ages)


def _light_a(drawer: Drawer, wired: Sequence[Emitter], *, amps: Array, end: str) -> Array:
    """Light of emitters at currents of shape (emitters, states, ages), all segments together [A]."""
    each = np.array([max(emitter.segments, 1) for emitter in wired], dtype=float).reshape(-1, 1, 1)
    light_a = usual_light_a(drawer, wired, np.moveaxis(amps / each, 0, -1), end=end)
    return np.asarray(np.moveaxis(light_a, -1, 0) * each)


def _warm_share(
    drawer: Drawer, wired: Sequence[Emitter], *, settled: Settled, at: Sequence[int], warm: LoomWarmth
) -> Array:
    """What warmth leaves of the light of emitters, by the rows of their strings, shape (emitters, columns) [-]."""
    of_row = {int(row): number for number, row in enumerate(warm.leds.element)}
    share = np.ones((len(wired), settled.point.element_a.shape[1]))
    for number, (emitter, row) in enumerate(zip(wired, at, strict=True)):
        if row in of_row:
            junction_c = np.clip(settled.junction_c[of_row[row]], COLDEST_C, HOTTEST_C)
            share[number] = np.exp(-flux_fall_per_k(chemistry_of(drawer, emitter)).typical * (junction_c - RATED_C))
    return share


def _ages_with(plan: Plan, drawer: Drawer, tolerance: str) -> Ages:
    """The supply as it runs down, beside LEDs of a tolerance: of cells the resistance that goes with them."""
    at, times = battery_ages(plan, drawer), cell_ohm(plan, drawer)
    if at is None:
        emf_v, inner_ohm = supply_ages(plan, drawer)[1].with_leds(tolerance)
        return Ages(np.array([0.0, 1.0]), np.full(2, emf_v), np.full(2, inner_ohm))
    return _by_ohm(at, {"low": times.low, "high": times.high}.get(tolerance, 1.0))


def _by_ohm(at: Ages, times: float) -> Ages:
    return replace(at, inner_ohm=at.inner_ohm * times)


def with_mean(drain: Drain, states: tuple[StatePower, ...]) -> Drain:
    """The mean current over the rhythms, in the share that it has on the nominal supply."""
    share = np.array([row.mean_a / row.supply_a.typical if row.supply_a.typical > 0 else 1.0 for row in states])
    return replace(drain, mean=drain.amps * share[:, None])


@dataclass(frozen=True, slots=True)
class StateDrain:
    """One state at every age of its supply.

    amps, mean: its current, and that over its rhythms [A]; light: of all its lamps together, over the fresh one [-].
    """

    amps: Array
    mean: Array
    light: Array


@dataclass(frozen=True, slots=True)
class Drains:
    """A loom with typical LEDs, with LEDs that take most and with those that take least; all three alike if unknown."""

    typical: Drain
    most: Drain
    least: Drain

    def row(self, number: int, times: float) -> StateDrain:
        """A state at every age, where it takes so many times the usual.

        Notes
        -----
        Between typical LEDs and those at the end straight in the logarithm of the current at each age: as good as
        straight in the LEDs' voltage. Beyond the ends in proportion.
        """
        end = self.most if times >= 1.0 else self.least
        whole = _fresh_times(end, self.typical, number)
        share = min(math.log(times) / math.log(whole), 1.0) if abs(math.log(whole)) > LEAST_SPAN else 0.0
        over = times / whole**share

        def between(usual: Array, far: Array) -> Array:
            return np.asarray(np.maximum(usual, LEAST_A) ** (1.0 - share) * np.maximum(far, LEAST_A) ** share)

        return StateDrain(over * between(self.typical.amps[number], end.amps[number]),
                          over * between(self.typical.mean[number], end.mean[number]),
                          between(self.typical.light[number], end.light[number]))

    def span(self, number: int) -> tuple[float, float]:
        """The least and the most that a state takes fresh, over what it usually takes."""
        return (min(_fresh_times(self.least, self.typical, number), 1.0),
                max(_fresh_times(self.most, self.typical, number), 1.0))


def _fresh_times(end: Drain, typical: Drain, number: int) -> float:
    return float(max(end.amps[number][0], LEAST_A) / max(typical.amps[number][0], LEAST_A))


def as_fed(drawer: Drawer, drains: Drains, states: Sequence[StatePower]) -> Drains:
    """The drains with what each state takes as it was read at its feed, where it was.

    Parameters
    ----------
    drawer : Drawer
        With its readings.
    drains : Drains
        The loom as reckoned.
    states : sequence of StatePower
        What the feed of each is reckoned to take.
    Returns
    -------
    Drains
        A state that was read takes what was read over what is reckoned times as much; its spread is the reading's
        own, cut by what was believed.
    Source
    ------
    P = U I: power that is read on the display supply goes with the current there.
    """
    times = [_times(drawer.measured(FEED_POWER, state.state), state) for state in states]
    if not any(times):
        return drains
    return Drains(_taking(drains, drains.typical, [None if row is None else row.typical for row in times]),
                  _taking(drains, drains.most, [None if row is None else row.high for row in times]),
                  _taking(drains, drains.least, [None if row is None else row.low for row in times]))


def _times(read: Range | None, state: StatePower) -> Range | None:
    """What was read of a state over what is reckoned."""
    meter = state.meter_w
    if read is None or meter.typical <= 0:
        return None
    low, high = read.low, read.high
    if low <= meter.high and meter.low <= high:
        low, high = max(low, meter.low), min(high, meter.high)
    return Range(low, min(max(read.typical, low), high), high).times(1.0 / meter.typical)


def _taking(drains: Drains, own: Drain, times: Sequence[float | None]) -> Drain:
    """A drain whose states that were read take so many times the usual; the others as they are."""
    rows = [StateDrain(own.amps[k], own.mean[k], own.light[k]) if each is None else drains.row(k, each)
            for k, each in enumerate(times)]
    return replace(own, amps=np.array([row.amps for row in rows]), mean=np.array([row.mean for row in rows]),
                   light=np.array([row.light for row in rows]))
