"""Resistors: what the aim asks for at the voltage that reaches each LED through the loom, and which are sold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Network, Supply, columns_of
from rushlight.electric.led import LAW_TEMP_C
from rushlight.electric.network import OperatingPoint, Shape, operating_point, shape_of
from rushlight.electric.network_shape import refitted
from rushlight.electric.resistor_pairs import ResistorPair
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import Resistor, SettledAim, StatePower
from rushlight.model.drawer import Drawer, ResistorPart
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import (
    pair_offered,
    resistors_at_hand,
    resistors_offered,
    resistors_sold,
    value_offered,
)
from rushlight.stages.drains import lit_in
from rushlight.stages.loom_warmth import Heaters
from rushlight.stages.network import LEAST_OHM as LEAST_INNER_OHM
from rushlight.stages.network import emitter_law, has_own_resistor, loom_network, string_name
from rushlight.stages.pins import held_number
from rushlight.stages.regulators import Chosen
from rushlight.stages.series import string_drop_v
from rushlight.stages.settled_aim import Settling, Settlings
from rushlight.stages.spaces import room_c
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import Switching
from rushlight.units import Range

Array = NDArray[np.float64]

ROUNDS = 3
"""Resistors are chosen so often; between two choices the loom is solved, and its drop and warmth given back."""

PLAY = 0.02
"""So much more or less current than aimed at moves no resistor to another value (project rule: nobody sees it)."""

SAME = 1e-4
"""A held value may be so far rounded off what two resistors come to."""

LEAST_OHM = 1.0
"""Smallest resistor worth fitting; an emitter that asks for less gets this, and a finding."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """For each emitter that needs one the exact and the sold resistance [ohm]; what each emitter is to take once
    settled; and the shape of the network."""

    chosen: Mapping[str, tuple[float, float]]
    aims: tuple[SettledAim, ...]
    shape: Shape


def resistances(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching, fuse_ohm: float,
    regulated: Mapping[str, Chosen],
) -> Fitted:
    """Resistors with which settled LEDs are as bright as was wanted.

    Parameters
    ----------
    plan, drawer, loom, circuits
        As for the stage of power.
    found : Switching
        The switch.
    fuse_ohm : float
        Resistance of the fuse [ohm].
    regulated : mapping
        Emitters that get regulators instead.
    Returns
    -------
    Fitted
        Of every emitter that is wired.
    Notes
    -----
    R = (V - sum of forward voltages) / I at the voltage that reaches the LED, its current and voltage those of an LED
    as warm as it then gets; of the states that light it the one that asks for most. The value that unwarmed LEDs
    ask for is kept where the settled light stays within a step of the series.
    Source
    ------
    The values at hand, else E24, by IEC 60063; warmth: `stages.settled_aim`.
    """
    rounds = _Rounds(plan, drawer, loom, circuits, found=found, fuse_ohm=fuse_ohm, regulated=regulated)
    now, shape, start_v = rounds.first(), None, None
    for _ in range(ROUNDS - 1):
        settlings = rounds.settlings(now)
        values = {name: value for name, (_, value) in rounds.chosen(now, settlings).items()}
        network = rounds.network(values)
        shape = refitted(shape, network) if shape else shape_of(network)
        point = operating_point(network, rounds.columns(network, settlings), shape=shape, start_v=start_v)
        start_v = point.node_v
        now = rounds.then(network, point)
    settlings = rounds.settlings(now)
    assert shape is not None
    return Fitted(rounds.chosen(now, settlings), rounds.aims(now, settlings), shape)


@dataclass(frozen=True, slots=True)
class _Now:
    """What a solve tells: the voltage at each emitter, or string, in every state [V], and the air round each part."""

    volts: Mapping[str, Array]
    rises_k: Mapping[tuple[str, str], Range]


class _Rounds:
    """What every round of the choice is made with."""

    def __init__(
        self, plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching,
        fuse_ohm: float, regulated: Mapping[str, Chosen],
    ) -> None:
        wired = {end for lead in loom.leads for end in (lead.start, lead.end)}
        self.plan, self.drawer, self.loom, self.circuits, self.found = plan, drawer, loom, circuits, found
        self.fuse_ohm, self.age = fuse_ohm, supply_ages(plan, drawer)[1]
        self.laws = {name: own.law for name, own in regulated.items()}
        self.wired = [one for one in loom.emitters if one.name in wired]
        self.needing = [one for one in loom.emitters if has_own_resistor(drawer, one) and not loom.beyond(one.name)
                        and one.name not in regulated]
        self.behind = {one.name: _string_members(loom, one) for one in self.needing}
        self.lit = {one.name: [number for number, state in enumerate(plan.states) if lit_in(circuits, one, state)]
                    for one in loom.emitters}
        self.known = Settlings(plan, drawer, circuits)

    def first(self) -> _Now:
        """Before anything is solved: the supply's own voltage, the room's air."""
        volts = np.full(len(self.plan.states), self.age.emf_v)
        return _Now({one.name: volts for one in self.needing}, {})

    def then(self, network: Network, point: OperatingPoint) -> _Now:
        """What a solve tells."""
        row = {name: number for number, name in enumerate(network.nodes)}
        parts = {one.spot.part for one in self.wired}
        rises = Heaters(self.plan, self.loom, self.circuits, network, self.drawer).rises_k(point, parts)
        return _Now({one.name: self._reaching(one, row, point) for one in self.needing}, rises)

    def _reaching(self, emitter: Emitter, row: Mapping[str, int], point: OperatingPoint) -> Array:
        if f"{emitter.name}+" not in row:
            return np.full(len(self.plan.states), self.age.emf_v)
        last = self.behind[emitter.name][-1].name
        volts = point.node_v[row[f"{emitter.name}+"]] - point.node_v[row[f"{last}-"]]
        return np.where(np.isfinite(volts), volts, 0.0)

    def settlings(self, now: _Now) -> dict[str, Settling]:
        """Every emitter in the air that a solve made."""
        room, names = room_c(self.plan), [state.name for state in self.plan.states]
        still = Range.exactly(0.0)
        airs = {}
        for part in {one.spot.part for one in self.loom.emitters}:
            rises = [now.rises_k.get((name, part), still) for name in names]
            airs[part] = (np.array([room.typical + rise.typical for rise in rises]),
                          np.array([room.high + rise.high for rise in rises]))
        return {one.name: self.known.of(one, *airs[one.spot.part]) for one in self.loom.emitters}

    def network(self, values: Mapping[str, float]) -> Network:
        """The loom with these resistors."""
        return loom_network(self.drawer, self.loom, found=self.found, age=self.age, fuse_ohm=self.fuse_ohm,
                            resistors=values, gathered=True, regulators=self.laws)

    def columns(self, network: Network, settlings: Mapping[str, Settling]) -> Columns:
        """One for each state, on the nominal supply, LEDs as warm as they are to get."""
        supply = Supply("nominal", (self.age.emf_v,), (max(self.age.inner_ohm, LEAST_INNER_OHM),))
        columns = columns_of(network, self.found.closed, supplies=[supply], shifts_v={"typical": 0.0})
        shift_v, emitters = np.array(columns.shift_v), {string_name(one, 0): one for one in self.wired}
        for row, name in enumerate(network.named("string")):
            if (one := emitters.get(name)) is not None:
                warmer_k = settlings[one.name].junction_c - LAW_TEMP_C
                shift_v[row] = -self.known.fall_v_per_k(one) * warmer_k
        return replace(columns, shift_v=shift_v)

    def chosen(self, now: _Now, settlings: Mapping[str, Settling]) -> dict[str, tuple[float, float]]:
        """Exact and sold resistance of every emitter that needs one [ohm]."""
        return {one.name: self._chosen(one, now.volts[one.name], settlings) for one in self.needing}

    def _chosen(self, emitter: Emitter, volts: Array, settlings: Mapping[str, Settling]) -> tuple[float, float]:
        cold = self._cold_ohm(emitter, volts)
        exact = max(self._exact_ohm(emitter, volts, settlings)) if cold > LEAST_OHM else cold
        return exact, _sold_ohm(self.plan, self.drawer, emitter, exact=exact, cold=cold)

    def _exact_ohm(self, emitter: Emitter, volts: Array, settlings: Mapping[str, Settling]) -> list[float]:
        """What each state that lights an emitter asks for; of one that nothing lights, all."""
        own = settlings[emitter.name]
        drops = np.sum([settlings[one.name].drop_v for one in self.behind[emitter.name]], axis=0)
        asked = (volts - drops) / own.aim_a
        return [max(float(asked[at]), LEAST_OHM) for at in self.lit[emitter.name] or range(len(asked))]

    def _cold_ohm(self, emitter: Emitter, volts: Array) -> float:
        """The same for LEDs as their data sheet has them."""
        lit, amps = self.lit[emitter.name] or range(len(volts)), emitter.aim_current_a
        branch_a = amps / emitter_law(self.drawer, emitter).branches
        drop_v = string_drop_v(self.drawer, self.behind[emitter.name], branch_a)
        return (max(float(volts[at]) for at in lit) - drop_v) / amps

    def aims(self, now: _Now, settlings: Mapping[str, Settling]) -> tuple[SettledAim, ...]:
        """What each wired emitter is to take, of all states in the one that asks for the greatest resistance."""
        return tuple(settlings[one.name].at(one, self._state(one, now, settlings)) for one in self.wired)

    def _state(self, emitter: Emitter, now: _Now, settlings: Mapping[str, Settling]) -> int:
        lit, own = self.lit[emitter.name], settlings[emitter.name]
        if not lit:
            return 0
        if emitter.name not in now.volts:
            return min(lit, key=lambda at: own.aim_a[at])
        asked = self._exact_ohm(emitter, now.volts[emitter.name], settlings)
        return lit[asked.index(max(asked))]


def _string_members(loom: Loom, emitter: Emitter) -> tuple[Emitter, ...]:
    """The emitter and those that its current goes on through."""
    string = loom.string_of(emitter.name)
    return (emitter,) if string is None else tuple(loom.emitter(name) for name in string.emitters)


def _sold_ohm(plan: Plan, drawer: Drawer, emitter: Emitter, *, exact: float, cold: float) -> float:
    """The held value, else the one at hand or on sale not below the exact one, so never more current than aimed.

    What unwarmed LEDs ask for is kept where it does as well within PLAY, so that a little warmth moves no value.
    """
    value = _held(plan, emitter)
    if value is not None:
        return value
    if exact <= LEAST_OHM:
        return LEAST_OHM
    offered = resistors_offered(plan, drawer)
    usual = value_offered(offered, cold)
    least, most = value_offered(offered, exact / (1 + PLAY)), value_offered(offered, exact * (1 + PLAY))
    return usual if usual in (least, most) else value_offered(offered, exact)


def _held(plan: Plan, emitter: Emitter) -> float | None:
    return held_number(plan, "resistor_ohm", emitter.circuit, *_groups(plan, emitter), *emitter.lamps, emitter.name)


def _groups(plan: Plan, emitter: Emitter) -> list[str]:
    """Rows whose lamps an emitter makes."""
    return [row.name for row in plan.rows if any(lamp.startswith(f"{row.name} ") for lamp in emitter.lamps)]


def fitted_resistors(
    plan: Plan, drawer: Drawer, loom: Loom, chosen: Mapping[str, tuple[float, float]], states: tuple[StatePower, ...]
) -> tuple[Resistor, ...]:
    """The resistors with their heat at the worst: LEDs of low voltage on the fresh supply."""
    most: dict[str, float] = {}
    branch_of = {emitter.name: emitter.segments for emitter in loom.emitters}
    for state in states:
        for current in state.lit:
            branches = max(branch_of[current.emitter], 1)
            amps = current.bench_a.high * branches
            most[current.emitter] = max(most.get(current.emitter, 0.0), amps)
    made = []
    for name, (exact, value) in chosen.items():
        watts = most.get(name, 0.0) ** 2 * value
        part, two = resistor_part(plan, drawer, watts, value), None
        if _held(plan, loom.emitter(name)) is not None:
            two = _two_of_own(plan, drawer, value)
        if two:
            part = two[0]
        made.append(
            Resistor(emitter=name, exact_ohm=exact, value_ohm=value, series=part.series, size=part.name,
                     rating_w=part.rating_w, dissipated_w=watts, made_of_ohm=two[1].ohms if two else (),
                     side_by_side=bool(two and two[1].side_by_side))
        )
    return tuple(made)


def _two_of_own(plan: Plan, drawer: Drawer, value: float) -> tuple[ResistorPart, ResistorPair] | None:
    """The two at hand that a held value is made of, where no single one at hand has it."""
    held = resistors_at_hand(plan, drawer)
    if any(own.has(value) for own in held):
        return None
    two = pair_offered(held, value * (1 - SAME))
    return two if two and two[1].ohm <= value * (1 + SAME) else None


def resistor_part(plan: Plan, drawer: Drawer, watts: float, ohm: float) -> ResistorPart:
    """The smallest that has the value and stays under the habit's share of its rating; the usual one has 0.25 W.

    Of those at hand any rating may be taken; where none stays cool, the largest, and a finding says so. A value that
    none at hand has is bought, but where an assortment is at hand it may be made of two of that.
    """
    share = drawer.habit("resistor_heat").high or 0.5
    held = resistors_at_hand(plan, drawer)
    own = [row.part for row in held if row.has(ohm)] or [row.part for row in held if not row.only_ohm]
    sold = resistors_sold(drawer)
    having = own or [row.part for row in sold if row.has(ohm)] or [row.part for row in sold]
    cool = [part for part in having if (own or part.rating_w >= 0.25) and watts <= share * part.rating_w]
    largest = max(part.rating_w for part in having)
    return min(
        cool or [part for part in having if part.rating_w == largest],
        key=lambda part: (part.rating_w, -part.tolerance, part.name),
    )
