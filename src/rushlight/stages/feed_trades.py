"""Resistor or regulator: for like LEDs or strings a resistor each beside constant-current regulators."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rushlight.electric.led import voltage_at_current
from rushlight.electric.network import (
    Network,
    OperatingPoint,
    Supply,
    columns_of,
    shape_of,
    source,
    string,
)
from rushlight.model.design_loom import Emitter, Loom
from rushlight.model.design_power import FeedTrade
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import Offered, regulators_offered, resistors_offered, value_offered
from rushlight.stages.loom_warmth import Heaters
from rushlight.stages.network import LEAST_OHM, has_own_resistor, spread_v
from rushlight.stages.parts_law import led_spread
from rushlight.stages.regulator_heat import MOUNT, air_over_room, warmth_of
from rushlight.stages.regulators import Chosen, across_v, nearest, spread_factors
from rushlight.stages.settling import Airs, Warming, settled
from rushlight.stages.spaces import room_c
from rushlight.stages.supplies import Age, supply_ages
from rushlight.units import Range

SIDES = ("low", "typical", "high")


@dataclass(frozen=True, slots=True)
class _Like:
    circuit: str
    part_row: str
    in_series: int
    emitters: tuple[Emitter, ...]

    @property
    def aim_a(self) -> float:
        return self.emitters[0].aim_current_a


def feed_trades(
    plan: Plan, drawer: Drawer, *, heaters: Heaters, point: OperatingPoint, chosen: Mapping[str, Chosen]
) -> tuple[FeedTrade, ...]:
    """For like LEDs or strings of each circuit a resistor each beside regulators.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply and the parts.
    heaters, point
        What is wired, and its solve: it warms the air in which the regulators would be.
    chosen : mapping
        What is planned.
    Returns
    -------
    tuple of FeedTrade
        Two of each group: one LED or string alone on the supply, without the loom's resistance; regulators settled.
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
    rises = heaters.rises_k(point, {like.emitters[0].spot.part for like in alike})
    air = [max((rises[state.name, like.emitters[0].spot.part] for state in plan.states), key=lambda rise: rise.high)
           for like in alike]
    amps, ohms = _solved(drawer, alike, ways, ages, air_c=air_over_room(air, SIDES, room_c(plan)),
                         resistors=resistors_offered(plan, drawer))
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
    return [_Like(circuit, row, count, tuple(own)) for (circuit, row, count, _), own in groups.items()]


def _solved(
    drawer: Drawer, alike: Sequence[_Like], ways: Sequence[Chosen], ages: Sequence[Age], *, air_c: np.ndarray,
    resistors: tuple[Offered, ...],
) -> tuple[list[tuple[np.ndarray, np.ndarray]], list[float]]:
    """Currents of each group on a resistor and on regulators [A]: rows fresh, nominal, flat; columns low to high."""
    elements, ohms = [], []
    shifts: dict[str, list[float]] = {side: [] for side in SIDES}
    for number, (like, way) in enumerate(zip(alike, ways, strict=True)):
        law = led_spread(drawer.led(like.part_row)).typical
        exact = (ages[1].emf_v - like.in_series * float(voltage_at_current(law, like.aim_a))) / like.aim_a
        ohms.append(value_offered(resistors, exact) if exact >= 1.0 else 1.0)
        laws, ends = (law,) * like.in_series, (f"p{number}", f"m{number}")
        elements += [
            source(f"s{number}", *ends, emf_v=ages[1].emf_v, inner_ohm=1.0),
            string(f"r{number}", *ends, laws=laws, ohm=ohms[-1]),
            string(f"c{number} / 1", *ends, laws=laws, ohm=LEAST_OHM, regulator=way.law),
        ]
        low, high = spread_v(drawer, like.emitters[0], like.aim_a)
        for name, shift in zip(shifts, (low, 0.0, high), strict=True):
            shifts[name] += [shift, shift]
    network = Network.of(elements)
    limits = spread_factors({f"c{k}": way for k, way in enumerate(ways)}, network.named("string"))
    supplies = [Supply(age.name, (age.emf_v,) * len(alike), (max(age.inner_ohm, LEAST_OHM),) * len(alike))
                for age in ages]
    columns = columns_of(network, {"on": ()}, supplies=supplies, shifts_v=shifts, limits=limits)
    regulated = {f"c{number}": way for number, way in enumerate(ways)}
    air_c = np.tile(air_c, len(ages))
    mount = np.tile([MOUNT[name] for name in shifts], len(ages))
    point = settled(network, columns, shape_of(network), airs=lambda _: Airs(regulators_c=air_c),
                    warming=Warming(regulators=warmth_of(network, regulated), mount=mount)).point
    cut = point.element_a.reshape(len(alike), 3, len(ages), 3)
    return [(cut[k, 1], cut[k, 2]) for k in range(len(alike))], ohms
