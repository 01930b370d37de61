"""Constant-current regulators in place of resistors: where one is held, which and how many, what it bears and gives."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.electric.network import Network, Supply, columns_of, operating_point, source, string
from rushlight.electric.regulator import RegulatorLaw, regulator_law, regulator_voltage
from rushlight.electric.resistor import value_not_below
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import FeedTrade, Regulator
from rushlight.model.drawer import Drawer, RegulatorPart
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import regulators_offered
from rushlight.stages.network import LEAST_OHM, has_own_resistor, spread_v
from rushlight.stages.pins import held
from rushlight.stages.supplies import Age, supply_ages
from rushlight.units import Range

CHOICE = "regulator"
"""The choice that the modeller may hold of a circuit, or of all: a row of the drawer, or one of these words."""

NEAREST, NONE = "nearest", "none"

MOST_BESIDE = 3
"""So many regulators at most stand in parallel to make one current (project rule)."""

EACH_MORE = 0.05
"""A further regulator in parallel must bring the current nearer by more than this share (project proposal)."""

HOLDS_SHARE = 0.9
"""A regulator has dropped out where it gives less than this share of its current (project proposal)."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """A regulator for one emitter: the row of the drawer, and how many side by side."""

    part: RegulatorPart
    count: int

    @property
    def current_a(self) -> Range:
        """What all of them give at the voltage at which the part is stated."""
        one = self.part.current_ma
        return Range(*(self.count * ma / 1000 for ma in (one.low, one.typical, one.high)))

    @property
    def law(self) -> RegulatorLaw:
        """All of them as one."""
        return part_law(self.part, self.count)


def part_law(part: RegulatorPart, count: int = 1) -> RegulatorLaw:
    """The law of like regulators of the drawer side by side."""
    one = regulator_law(part.current_ma.typical / 1000, knee_v=part.knee_v, knee_share=part.knee_share,
                        slope_siemens=part.slope_siemens, law_v=part.test_v)
    return RegulatorLaw(one.plateau_a * count, one.knee_v, one.slope_siemens * count)


def nearest(parts: Sequence[RegulatorPart], current_a: float) -> Chosen:
    """The regulators whose current comes nearest.

    Parameters
    ----------
    parts : sequence of RegulatorPart
        Those that may be taken, one at least: see `at_hand.regulators_offered`.
    current_a : float
        The current that is aimed at [A].
    Returns
    -------
    Chosen
        One, or up to MOST_BESIDE in parallel where that comes nearer.
    """
    ways = [Chosen(part, count) for part in parts for count in range(1, MOST_BESIDE + 1)]
    return min(ways, key=lambda way: (
        abs(math.log(way.current_a.typical / current_a)) + EACH_MORE * (way.count - 1), way.part.name))


def regulators_held(plan: Plan, drawer: Drawer, loom: Loom) -> dict[str, Chosen]:
    """For each emitter that is fed through regulators: which. Of a string it is the first; strips have none."""
    found, offered = {}, regulators_offered(plan, drawer)
    for emitter in loom.emitters:
        value = held(plan, CHOICE, "all", emitter.circuit)
        bare = emitter.kind != "strip" and has_own_resistor(drawer, emitter)
        if value not in (None, NONE) and bare and not loom.beyond(emitter.name) and drawer.regulators:
            parts = offered if value == NEAREST else [drawer.regulator(str(value))]
            found[emitter.name] = nearest(parts, emitter.aim_current_a)
    return found


def spread_factors(chosen: Mapping[str, Chosen], strings: Sequence[str]) -> dict[str, list[float]]:
    """Factors on the regulators' currents that go with LEDs of low and of high voltage: the worst of each side."""
    low, high = [1.0] * len(strings), [1.0] * len(strings)
    for row, name in enumerate(strings):
        own = chosen.get(name.removesuffix(" / 1"))
        if own is not None:
            amps = own.current_a
            low[row], high[row] = amps.high / amps.typical, amps.low / amps.typical
    return {"low": low, "high": high}


def regulator_of(
    emitter: str, chosen: Chosen, *, fresh_a: tuple[float, float], flat_a: tuple[float, float]
) -> Regulator:
    """What regulators do in the build.

    Parameters
    ----------
    emitter : str
        Whose plus lead they stand in.
    chosen : Chosen
        Which and how many.
    fresh_a, flat_a : tuple of float
        Largest current on the fresh supply, least on the flat one [A], each with the factor on the part's current [-].
    Returns
    -------
    Regulator
        Voltage, heat and the junction's warmth at the worst, and the share of its own current that is left at the end.
    """
    most_v = _across(chosen, *fresh_a)
    watts = most_v * fresh_a[0]
    part = chosen.part
    return Regulator(
        emitter=emitter, part=part.name, count=chosen.count, current_a=chosen.current_a, most_v=most_v,
        max_v=part.max_v, dissipated_w=watts, rating_w=part.max_w,
        rise_k=watts / chosen.count * part.r_th_ja_k_per_w, max_junction_c=part.max_junction_c,
        flat_share=flat_a[0] / (chosen.current_a.typical * flat_a[1]), flat_v=_across(chosen, *flat_a),
    )


def _across(chosen: Chosen, amps: float, factor: float) -> float:
    law = chosen.law
    volts, _ = regulator_voltage(np.array(law.plateau_a * factor), np.array(law.knee_v),
                                 np.array(law.slope_siemens * factor), np.array(amps))
    return float(volts)


# --- resistor or regulator ----------------------------------------------------------------------------------------


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
    plan: Plan, drawer: Drawer, *, loom: Loom, circuits: Sequence[Circuit], chosen: Mapping[str, Chosen]
) -> tuple[FeedTrade, ...]:
    """For like LEDs or strings of each circuit a resistor each beside regulators.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply and the parts.
    loom, circuits
        What is wired.
    chosen : mapping
        What is planned.
    Returns
    -------
    tuple of FeedTrade
        Two of each group: one LED or string alone on the supply, without the loom's resistance.
    Source
    ------
    One DC solve for all: `electric.network`.
    """
    ages = supply_ages(plan, drawer)
    alike = _alike(drawer, loom, {circuit.name for circuit in circuits})
    if not ages or not alike or not drawer.regulators:
        return ()
    offered = regulators_offered(plan, drawer)
    ways = [chosen.get(like.emitters[0].name) or nearest(offered, like.aim_a) for like in alike]
    amps, ohms = _solved(drawer, alike, ways, ages)
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
    return _across(way, most, way.current_a.high / way.current_a.typical) * most


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
    drawer: Drawer, alike: Sequence[_Like], ways: Sequence[Chosen], ages: Sequence[Age]
) -> tuple[list[tuple[np.ndarray, np.ndarray]], list[float]]:
    """Currents of each group on a resistor and on regulators [A]: rows fresh, nominal, flat; columns low to high."""
    elements, ohms = [], []
    shifts: dict[str, list[float]] = {"low": [], "typical": [], "high": []}
    for number, (like, way) in enumerate(zip(alike, ways, strict=True)):
        law = law_spread(drawer.led(like.part_row).law).typical
        exact = (ages[1].emf_v - like.in_series * float(voltage_at_current(law, like.aim_a))) / like.aim_a
        ohms.append(value_not_below(exact) if exact >= 1.0 else 1.0)
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
    point = operating_point(network, columns)
    cut = point.element_a.reshape(len(alike), 3, len(ages), 3)
    return [(cut[k, 1], cut[k, 2]) for k in range(len(alike))], ohms
