"""Resistor or regulator: for like LEDs or strings a resistor each beside constant-current regulators."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.network import (
    Element,
    Network,
    OperatingPoint,
    Supply,
    columns_of,
    shape_of,
    source,
    string,
)
from rushlight.model.design_loom import Emitter, Loom
from rushlight.model.design_power import FeedTrade, SettledAim
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import regulators_offered, resistors_offered, value_offered
from rushlight.stages.led_heat import LedWarmth, air_round, led_warmth, string_warmth
from rushlight.stages.loom_warmth import Heaters
from rushlight.stages.network import LEAST_OHM, has_own_resistor, spread_v
from rushlight.stages.parts_law import led_spread
from rushlight.stages.regulator_heat import MOUNT, air_over_room, warmth_of
from rushlight.stages.regulators import Chosen, across_v, nearest, spread_factors
from rushlight.stages.settled_aim import Settlings
from rushlight.stages.settling import Airs, Warming, settled
from rushlight.stages.spaces import room_c
from rushlight.stages.supplies import Age, supply_ages
from rushlight.timing.character import parse_rhythm
from rushlight.units import Range

SIDES = ("low", "typical", "high")


@dataclass(frozen=True, slots=True)
class _Like:
    circuit: str
    part_row: str
    in_series: int
    emitters: tuple[Emitter, ...]
    aim_a: float


def feed_trades(
    plan: Plan, drawer: Drawer, *, heaters: Heaters, point: OperatingPoint, chosen: Mapping[str, Chosen],
    aims: Sequence[SettledAim],
) -> tuple[FeedTrade, ...]:
    """For like LEDs or strings of each circuit a resistor each beside regulators.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply and the parts.
    heaters, point
        What is wired, and its solve: it warms the air in which LEDs and regulators would be.
    chosen : mapping
        What is planned.
    aims : sequence of SettledAim
        What each emitter is to take once settled.
    Returns
    -------
    tuple of FeedTrade
        Two of each group: one LED or string alone on the supply, without the loom's resistance; LEDs and regulators
        as warm as they get.
    Source
    ------
    One DC solve for all: `electric.network`.
    """
    ages = supply_ages(plan, drawer)
    alike = _alike(drawer, heaters.loom, {circuit.name for circuit in heaters.circuits})
    if not ages or not alike or not drawer.regulators:
        return ()
    offered = regulators_offered(plan, drawer)
    ways = [chosen.get(like.emitters[0].name) or nearest(offered, like.aim_a) for like in alike]
    aimed = {aim.emitter: aim.aim_a for aim in aims}
    alike = [replace(like, aim_a=aimed.get(like.emitters[0].name, like.aim_a)) for like in alike]
    rises = heaters.rises_k(point, {like.emitters[0].spot.part for like in alike})
    air = [max((rises[state.name, like.emitters[0].spot.part] for state in plan.states), key=lambda rise: rise.high)
           for like in alike]
    amps, ohms = _Apart(plan, drawer, heaters, alike, ways, ages).solved(air)
    rows = []
    for number, (like, way) in enumerate(zip(alike, ways, strict=True)):
        built = like.emitters[0].name in chosen
        for kind, currents in zip(("resistor", "regulator"), amps[number], strict=True):
            part, count = ("", 1) if kind == "resistor" else (way.part.name, way.count)
            rows.append(FeedTrade(
                circuit=like.circuit, emitters=tuple(one.name for one in like.emitters), in_series=like.in_series,
                kind=kind, part=part, count=count, aim_a=like.aim_a, current_a=Range(*sorted(currents[1])),
                fresh_a=float(currents[0][1]), flat_a=float(currents[2][1]),
                supply_w=ages[1].emf_v * float(currents[1][1]),
                heat_w=_heat_w(way, currents[0]) if kind == "regulator" else
                float(currents[0].max()) ** 2 * ohms[number], built=built == (kind == "regulator"),
            ))
    return tuple(rows)


def _heat_w(way: Chosen, fresh: np.ndarray) -> float:
    most = float(fresh.max())
    return across_v(way, most, way.current_a.high / way.current_a.typical) * most


def _alike(drawer: Drawer, loom: Loom, circuits: set[str]) -> list[_Like]:
    wired = {end for lead in loom.leads for end in (lead.start, lead.end)}
    groups: dict[tuple[str, str, int, float], list[Emitter]] = {}
    for emitter in loom.emitters:
        bare = emitter.kind != "strip" and has_own_resistor(drawer, emitter) and not loom.beyond(emitter.name)
        if bare and emitter.name in wired and emitter.circuit in circuits:
            whole = loom.string_of(emitter.name)
            key = (emitter.circuit, emitter.part_row, len(whole.emitters) if whole else 1,
                   round(emitter.aim_current_a, 5))
            groups.setdefault(key, []).append(emitter)
    return [_Like(circuit, row, count, tuple(own), own[0].aim_current_a)
            for (circuit, row, count, _), own in groups.items()]


@dataclass(frozen=True, slots=True)
class _Apart:
    """One LED or string of each group alone on the supply, on a resistor and on regulators."""

    plan: Plan
    drawer: Drawer
    heaters: Heaters
    alike: Sequence[_Like]
    ways: Sequence[Chosen]
    ages: Sequence[Age]

    def solved(self, air_k: Sequence[Range]) -> tuple[list[tuple[np.ndarray, np.ndarray]], list[float]]:
        """Currents of each group on a resistor and on regulators [A]: rows fresh to flat; columns low to high.

        Also the resistors [ohm]. The air round each group is so much warmer than the room [K].
        """
        ohms = self._ohms(air_k)
        network = Network.of([element for number in range(len(self.alike)) for element in self._pair(number, ohms)])
        limits = spread_factors({f"c{k}": way for k, way in enumerate(self.ways)}, network.named("string"))
        supplies = [Supply(age.name, (age.emf_v,) * len(self.alike),
                           (max(age.inner_ohm, LEAST_OHM),) * len(self.alike)) for age in self.ages]
        columns = columns_of(network, {"on": ()}, supplies=supplies, shifts_v=self._shifts_v(), limits=limits)
        regulated = {f"c{number}": way for number, way in enumerate(self.ways)}
        room, times = room_c(self.plan), len(self.ages)
        held_c = np.tile(air_over_room(air_k, SIDES, room), times)
        leds_c = np.repeat(np.tile(air_round(air_k, SIDES, room), times), 2, axis=0)
        warming = Warming(leds=self._warmth(network), first_c=leds_c, regulators=warmth_of(network, regulated),
                          mount=np.tile([MOUNT[name] for name in SIDES], times))
        point = settled(network, columns, shape_of(network), warming=warming,
                        airs=lambda _: Airs(leds_c=leds_c, regulators_c=held_c)).point
        cut = point.element_a.reshape(len(self.alike), 3, times, 3)
        return [(cut[k, 1], cut[k, 2]) for k in range(len(self.alike))], ohms

    def _ohms(self, air_k: Sequence[Range]) -> list[float]:
        """The resistor of each group, for LEDs as warm as they get."""
        known, room, found = Settlings(self.plan, self.drawer, self.heaters.circuits), room_c(self.plan), []
        offered = resistors_offered(self.plan, self.drawer)
        for like, rise in zip(self.alike, air_k, strict=True):
            warm = known.of(like.emitters[0], air_c=np.array([room.typical + rise.typical]),
                            hot_c=np.array([room.high + rise.high]))
            exact = (self.ages[1].emf_v - like.in_series * float(warm.drop_v[0])) / float(warm.aim_a[0])
            found.append(value_offered(offered, exact) if exact >= 1.0 else 1.0)
        return found

    def _pair(self, number: int, ohms: Sequence[float]) -> list[Element]:
        like, ends = self.alike[number], (f"p{number}", f"m{number}")
        laws = (led_spread(self.drawer.led(like.part_row)).typical,) * like.in_series
        return [
            source(f"s{number}", *ends, emf_v=self.ages[1].emf_v, inner_ohm=1.0),
            string(f"r{number}", *ends, laws=laws, ohm=ohms[number]),
            string(f"c{number} / 1", *ends, laws=laws, ohm=LEAST_OHM, regulator=self.ways[number].law),
        ]

    def _shifts_v(self) -> dict[str, list[float]]:
        """Of both strings of each group, for LEDs of each side."""
        found: dict[str, list[float]] = {side: [] for side in SIDES}
        for like in self.alike:
            low, high = spread_v(self.drawer, like.emitters[0], like.aim_a)
            for side, shift in zip(SIDES, (low, 0.0, high), strict=True):
                found[side] += [shift, shift]
        return found

    def _warmth(self, network: Network) -> LedWarmth:
        """A string's power is that of all its LEDs, and each has its share of it."""
        share = {one.name: parse_rhythm(one.rhythm).on_share for one in self.heaters.circuits}
        own = [string_warmth(self.plan, self.drawer, like.emitters[0], on_share=share[like.circuit],
                             in_series=like.in_series) for like in self.alike]
        return led_warmth(network, {name: own[at // 2] for at, name in enumerate(network.named("string"))}, SIDES)
