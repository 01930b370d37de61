"""The whole loom solved at every age of its supply, for run times and the evening."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
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
from rushlight.stages.evening import Drain
from rushlight.stages.network import string_name
from rushlight.stages.supplies import Age, battery_ages, supply_ages
from rushlight.stages.switching import Switching

if TYPE_CHECKING:
    from rushlight.stages.loom_warmth import LoomWarmth

Array = NDArray[np.float64]


def lit_in(circuits: tuple[Circuit, ...], emitter: Emitter, state: State) -> bool:
    """Whether a state is to light an emitter."""
    return any(circuit.name == emitter.circuit and state.name in circuit.states for circuit in circuits)


def drained(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching, shape: Shape,
    shifts: Mapping[str, list[float]], limits: Mapping[str, list[float]] | None = None,
    warmth: LoomWarmth, point: OperatingPoint, ohm_factor: Array,
) -> Drain:
    """One more solve: every state at every age of the supply, with LEDs of one tolerance.

    LEDs and regulators are as warm as they get at each age, in the air that `point`, the solve before, made.
    """
    at = battery_ages(plan, drawer) or _steady(supply_ages(plan, drawer)[1])
    supplies = [
        Supply(f"{number}", (float(emf),), (max(float(ohm), 1e-4),))
        for number, (emf, ohm) in enumerate(zip(at.emf_v, at.inner_ohm, strict=True))
    ]
    network = shape.network
    columns = columns_of(network, found.closed, supplies=supplies, shifts_v=shifts, limits=limits)
    columns = replace(columns, ohm_factor=ohm_factor)
    own = warmth.for_tolerance(next(iter(shifts)))
    point = own.at_ages(columns, shape, ages=len(supplies), point=point).point
    rows = {element.name: number for number, element in enumerate(network.elements)}
    amps = point.element_a.reshape(len(network.elements), len(plan.states), len(supplies))
    lit = tuple(
        {emitter.name: amps[rows[string_name(emitter, 0)], number] / max(emitter.segments, 1)
         for emitter in loom.emitters if string_name(emitter, 0) in rows and lit_in(circuits, emitter, state)}
        for number, state in enumerate(plan.states)
    )
    drawn = amps[rows["supply"]]
    return Drain(states=tuple(state.name for state in plan.states), at=at, amps=drawn, mean=drawn, lit=lit)


def _steady(age: Age) -> Ages:
    """A supply that gives the same at the beginning and at the end."""
    return Ages(np.array([0.0, 1.0]), np.full(2, age.emf_v), np.full(2, age.inner_ohm))


def with_mean(drain: Drain, states: tuple[StatePower, ...]) -> Drain:
    """The mean current over the rhythms, in the share that it has on the nominal supply."""
    share = np.array([row.mean_a / row.supply_a.typical if row.supply_a.typical > 0 else 1.0 for row in states])
    return replace(drain, mean=drain.amps * share[:, None])
