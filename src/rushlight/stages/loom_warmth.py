"""What burns in each closed space warms its air, and with it the LEDs and regulators of a loom."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.network import Columns, Network, OperatingPoint, Shape
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan, State
from rushlight.stages.burnt import Burnt, burnt_of
from rushlight.stages.drains import lit_in
from rushlight.stages.layouts import find_bay
from rushlight.stages.led_heat import LedWarmth, air_round
from rushlight.stages.network import string_name
from rushlight.stages.regulator_heat import MOUNT as REGULATOR_MOUNT
from rushlight.stages.regulator_heat import Warmth, air_over_room
from rushlight.stages.settling import Airs, Settled, Warming, settled
from rushlight.stages.spaces import rises_k, room_c, space_box
from rushlight.stages.supplies import in_cells
from rushlight.timing.character import parse_rhythm
from rushlight.units import Range

Array = NDArray[np.float64]

PASSES = 2
"""So often the air is worked out from the solve before: the second time it moves by a tenth of its rise at most."""


@dataclass(frozen=True, slots=True)
class Heaters:
    """The emitters of a loom as what warms the model, and the network in which they were solved."""

    plan: Plan
    loom: Loom
    circuits: tuple[Circuit, ...]
    network: Network
    drawer: Drawer

    def rises_k(self, point: OperatingPoint, parts: Collection[str]) -> dict[tuple[str, str], Range]:
        """For each state and each of some parts how much warmer than the room its air gets [K].

        Parameters
        ----------
        point : OperatingPoint
            A solve with a column of typical LEDs on the nominal supply for each state.
        parts : collection of str
            Only the spaces that these parts belong to are worked out.
        Returns
        -------
        dict
            A part in no space has the room's air. Powers are taken to four digits (the air to a few thousandths of a
        kelvin), so that a box is worked out once for solves that differ by less.
        Source
        ------
        See `thermal.enclosure`; as in the stage of heat.
        """
        burnt = burnt_of(self.network, point, loom=self.loom, emf_v=self._emf_v(point))
        found = {(state.name, part): Range.exactly(0.0) for state in self.plan.states for part in parts}
        for space in self.plan.spaces:
            if not set(space.parts) & set(parts):
                continue
            box = space_box(self.plan, space, self.drawer)
            for state in self.plan.states:
                watts = float(f"{self._inside_w(burnt, point, state, space.parts):.4g}")
                air, _ = rises_k(box, watts, room_c(self.plan).typical)
                found.update({(state.name, part): air for part in parts if part in space.parts})
        return found

    def _emf_v(self, point: OperatingPoint) -> Array | None:
        """That of cells, as the network was built: on the nominal supply."""
        source = next(element for element in self.network.elements if element.kind == "source")
        return np.full(point.node_v.shape[1], source.emf_v) if in_cells(self.plan) else None

    def _inside_w(self, burnt: Burnt, point: OperatingPoint, state: State, parts: tuple[str, ...]) -> float:
        """Mean power on some parts, over the rhythms, with what feeds the lamps where its bay is among them."""
        column = point.columns.index(f"{state.name} | nominal | typical")
        lit = [one for one in self.loom.emitters
               if one.name in burnt.terminal_w and lit_in(self.circuits, one, state)]
        lamps = sum(float(burnt.terminal_w[one.name][column]) * self._on_share(one)
                    for one in lit if one.spot.part in parts)
        bay = find_bay(self.plan)
        if bay is None or bay[0].name not in parts:
            return lamps
        row = {element.name: number for number, element in enumerate(self.network.elements)}
        amps = {one.name: float(point.element_a[row[string_name(one, 0)], column])
                for one in lit if not self.loom.beyond(one.name)}
        mean = sum(each * self._on_share(self.loom.emitter(name)) for name, each in amps.items())
        full = sum(amps.values())
        return lamps + float(burnt.idle_w[column]) + float(burnt.rest_w[column]) * (mean / full if full > 0 else 1.0)

    def _on_share(self, emitter: Emitter) -> float:
        rhythm = next(circuit.rhythm for circuit in self.circuits if circuit.name == emitter.circuit)
        return parse_rhythm(rhythm).on_share


@dataclass(frozen=True, slots=True)
class LoomWarmth:
    """A loom whose LEDs and regulators warm, each in the air of its own space."""

    heaters: Heaters
    leds: LedWarmth
    regulators: Warmth | None
    tolerances: tuple[str, ...]

    def solved(self, columns: Columns, shape: Shape) -> Settled:
        """Every column, each part as warm as it gets there; columns go by state, age of the supply, tolerance."""
        ages = columns.count // len(self.tolerances) // len(self.heaters.plan.states)
        return self._settled(columns, shape, ages, lambda point: self.heaters.rises_k(point, self._parts()))

    def at_ages(self, columns: Columns, shape: Shape, *, ages: int, point: OperatingPoint) -> Settled:
        """The same for columns of other ages of the supply, in the air that a solve made."""
        rises = self.heaters.rises_k(point, self._parts())
        return self._settled(columns, shape, ages, lambda _: rises)

    def for_tolerance(self, tolerance: str) -> LoomWarmth:
        """The same where the columns hold LEDs of one tolerance only."""
        at = self.tolerances.index(tolerance)
        return replace(self, tolerances=(tolerance,), leds=self.leds.part(at))

    def _settled(
        self, columns: Columns, shape: Shape, ages: int,
        rises_k: Callable[[OperatingPoint], Mapping[tuple[str, str], Range]],
    ) -> Settled:
        room = room_c(self.heaters.plan)
        states = [state.name for state in self.heaters.plan.states]

        def airs(point: OperatingPoint) -> Airs:
            rises = rises_k(point)
            leds = [[rises[state, part] for part in self.leds.parts] for state in states]
            held = [[rises[state, part] for part in self._regulator_parts()] for state in states]
            return Airs(_at_ages([air_round(each, self.tolerances, room) for each in leds], ages),
                        _at_ages([air_over_room(each, self.tolerances, room) for each in held], ages))

        still = [Range.exactly(0.0)] * len(self.leds.parts)
        warming = Warming(
            self.leds, _at_ages([air_round(still, self.tolerances, room) for _ in states], ages), self.regulators,
            np.tile([REGULATOR_MOUNT[name] for name in self.tolerances], ages * len(states)))
        return settled(self.heaters.network, columns, shape, warming=warming, airs=airs, passes=PASSES)

    def _parts(self) -> set[str]:
        return {*self.leds.parts, *self._regulator_parts()}

    def _regulator_parts(self) -> list[str]:
        if self.regulators is None:
            return []
        names = self.heaters.network.named("string")
        return [self.heaters.loom.emitter(names[row].removesuffix(" / 1")).spot.part for row in self.regulators.string]


def _at_ages(by_state: list[Array], ages: int) -> Array:
    """A column for each state, age of the supply and tolerance, from one for each state and tolerance."""
    return np.concatenate([np.tile(one, (1, ages)) for one in by_state], axis=1)
