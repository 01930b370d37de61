"""Constant-current regulators in place of resistors: where one is held, which and how many, what it bears and gives."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rushlight.electric.regulator import RegulatorLaw, regulator_law, regulator_voltage
from rushlight.model.design_loom import Loom
from rushlight.model.design_power import Regulator
from rushlight.model.drawer import Drawer, RegulatorPart
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import regulators_offered
from rushlight.stages.network import has_own_resistor
from rushlight.stages.pins import held
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
    return one.times(count)


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
    found = {}
    for emitter in loom.emitters:
        bare = emitter.kind != "strip" and has_own_resistor(drawer, emitter)
        own = held_regulator(plan, drawer, emitter.circuit, emitter.aim_current_a)
        if own is not None and bare and not loom.beyond(emitter.name):
            found[emitter.name] = own
    return found


def held_regulator(plan: Plan, drawer: Drawer, circuit: str, aim_a: float) -> Chosen | None:
    """The regulators that are held for bare LEDs of a circuit and a current [A]; None where a resistor is."""
    value = held(plan, CHOICE, "all", circuit)
    if value in (None, NONE) or not drawer.regulators:
        return None
    parts = regulators_offered(plan, drawer) if value == NEAREST else [drawer.regulator(str(value))]
    return nearest(parts, aim_a)


def drop_out_v(chosen: Chosen) -> float:
    """The voltage under which regulators give less than HOLDS_SHARE of their current [V]."""
    return across_v(chosen, HOLDS_SHARE * chosen.current_a.typical, 1.0)


def spread_factors(chosen: Mapping[str, Chosen], strings: Sequence[str]) -> dict[str, list[float]]:
    """Factors on the regulators' currents that go with LEDs of low and of high voltage: the worst of each side.

    The third, 'cold', is that of low voltage: just switched on.
    """
    low, high = [1.0] * len(strings), [1.0] * len(strings)
    for row, name in enumerate(strings):
        own = chosen.get(name.removesuffix(" / 1"))
        if own is not None:
            amps = own.current_a
            low[row], high[row] = amps.high / amps.typical, amps.low / amps.typical
    return {"low": low, "high": high, "cold": low}


def regulator_of(
    emitter: str, chosen: Chosen, *, fresh_a: tuple[float, float], flat_a: tuple[float, float],
    warm_share: float, cold_share: float, bench_v: tuple[tuple[str, Range], ...],
) -> Regulator:
    """What regulators do in the build.

    Parameters
    ----------
    emitter : str
        Whose plus lead they stand in.
    chosen : Chosen
        Which and how many.
    fresh_a, flat_a : tuple of float
        Largest settled current on the fresh supply, least on the flat one [A], each with the factor on the part's
        current, of spread and warmth [-].
    warm_share, cold_share : float
        What warmth leaves of the stated current on the nominal supply, settled and just switched on [-].
    bench_v : tuple
        Voltage across them in each state [V].
    Returns
    -------
    Regulator
        Voltage, heat and the junction's warmth at the worst, and the share of its own current that is left at the end.
    """
    most_v = across_v(chosen, *fresh_a)
    watts = most_v * fresh_a[0]
    part = chosen.part
    return Regulator(
        emitter=emitter, part=part.name, count=chosen.count, current_a=chosen.current_a, most_v=most_v,
        max_v=part.max_v, dissipated_w=watts, rating_w=part.max_w,
        rise_k=watts / chosen.count * part.r_th_ja_k_per_w, max_junction_c=part.max_junction_c,
        flat_share=flat_a[0] / (chosen.current_a.typical * flat_a[1]), flat_v=across_v(chosen, *flat_a),
        warm_share=warm_share, cold_share=cold_share, bench_v=bench_v,
        drop_out_v=drop_out_v(chosen),
    )


def across_v(chosen: Chosen, amps: float, factor: float) -> float:
    """Voltage across regulators that carry a current [V], with a factor on their own current [-]."""
    law = chosen.law
    volts, _ = regulator_voltage(np.array(law.plateau_a * factor), np.array(law.knee_v),
                                 np.array(law.slope_siemens * factor), np.array(amps))
    return float(volts)
