"""Resistors: what the aim asks for at the voltage that reaches each LED through the loom, and which are sold."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from rushlight.electric.elements import columns_of
from rushlight.electric.network import Shape, operating_point, shape_of
from rushlight.electric.network_shape import refitted
from rushlight.electric.resistor_pairs import ResistorPair
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import Resistor, StatePower
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
from rushlight.stages.network import emitter_law, has_own_resistor, loom_network
from rushlight.stages.pins import held_number
from rushlight.stages.regulators import Chosen
from rushlight.stages.series import string_drop_v
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import Switching

ROUNDS = 3
"""Resistors are chosen, the loom solved, and the drop in it given back so often."""

SAME = 1e-4
"""A held value may be so far rounded off what two resistors come to."""

LEAST_OHM = 1.0
"""Smallest resistor worth fitting; an emitter that asks for less gets this, and a finding."""


def resistances(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching, fuse_ohm: float,
    regulated: Mapping[str, Chosen],
) -> tuple[dict[str, tuple[float, float]], Shape]:
    """For each emitter that needs one: the exact resistance and the one that is sold; and the network's shape.

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
    tuple
        By emitter the exact and the sold resistance [ohm]; the shape of the last network.
    Source
    ------
    R = (V - sum of forward voltages at the aim) / I at the voltage that reaches the LED; the values at hand, else E24,
    by IEC 60063.
    """
    nominal = supply_ages(plan, drawer)[1]
    needing = [one for one in loom.emitters if has_own_resistor(drawer, one) and not loom.beyond(one.name)
               and one.name not in regulated]
    laws = {name: own.law for name, own in regulated.items()}
    at_emitter = {emitter.name: nominal.emf_v for emitter in needing}
    behind = {emitter.name: _string_members(loom, emitter) for emitter in needing}
    chosen: dict[str, tuple[float, float]] = {}
    shape, start_v = None, None
    for _ in range(ROUNDS):
        chosen = {
            emitter.name: _resistance(plan, drawer, behind[emitter.name], at_emitter[emitter.name])
            for emitter in needing
        }
        values = {name: value for name, (_, value) in chosen.items()}
        network = loom_network(drawer, loom, found=found, age=nominal, fuse_ohm=fuse_ohm, resistors=values,
                               gathered=True, regulators=laws)
        shape = refitted(shape, network) if shape else shape_of(network)
        point = operating_point(network, columns_of(network, found.closed), shape=shape, start_v=start_v)
        start_v = point.node_v
        rows = {name: number for number, name in enumerate(network.nodes)}
        for emitter in needing:
            if f"{emitter.name}+" in rows:
                last = behind[emitter.name][-1].name
                volts = point.node_v[rows[f"{emitter.name}+"]] - point.node_v[rows[f"{last}-"]]
                lit = [v for v, state in zip(volts, plan.states, strict=True) if lit_in(circuits, emitter, state)]
                at_emitter[emitter.name] = float(np.nanmax(lit)) if lit else nominal.emf_v
    assert shape is not None
    return chosen, shape


def _string_members(loom: Loom, emitter: Emitter) -> tuple[Emitter, ...]:
    """The emitter and those that its current goes on through."""
    string = loom.string_of(emitter.name)
    return (emitter,) if string is None else tuple(loom.emitter(name) for name in string.emitters)


def _resistance(plan: Plan, drawer: Drawer, members: tuple[Emitter, ...], volts: float) -> tuple[float, float]:
    """What the aim asks for at this voltage, and the value not below it, so never more current than aimed."""
    emitter = members[0]
    drop = string_drop_v(drawer, members, emitter.aim_current_a / emitter_law(drawer, emitter).branches)
    exact = (volts - drop) / emitter.aim_current_a
    value = _held(plan, emitter)
    if value is not None:
        return exact, value
    if exact <= LEAST_OHM:
        return exact, LEAST_OHM
    return exact, value_offered(resistors_offered(plan, drawer), exact)


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
