"""LEDs take more current as they warm: what warmth does to the forward voltage of each string of a loom."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Network
from rushlight.electric.led import LAW_TEMP_C, forward_fall_v_per_k
from rushlight.electric.network import OperatingPoint
from rushlight.electric.regulator import regulator_voltage
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.optics.emitter import junction_factor
from rushlight.stages.network import emitter_law, law_key, string_name
from rushlight.tables import row_by
from rushlight.thermal.led_rise import strip_wall_rise_k
from rushlight.timing.character import parse_rhythm
from rushlight.units import Range

Array = NDArray[np.float64]

MOUNT_SPREAD = (0.8, 1.3)
"""Spread of an LED's thermal resistance with the way it is mounted (from memory, typical)."""

CHIP_K_PER_W = Range(100.0, 200.0, 300.0)
"""Junction of a strip's LED over the wall under it (from memory, typical)."""

COLD = "cold"
"""The first moment after switching on: no part has warmed yet."""

MOUNT = {"low": MOUNT_SPREAD[1], "typical": 1.0, "high": MOUNT_SPREAD[0], COLD: 0.0}
"""Factor on an LED's thermal resistance by LED tolerance: an LED of low voltage is also the warmest, so that the range
of currents is the widest."""

RATED_C = 25.0
"""Junction at which data sheets state an LED's light (CIE 127: a pulse at 25 degC; from memory)."""

COLDEST_C, HOTTEST_C = -40.0, 150.0
"""A junction counts as no colder and no hotter than this; a finding has told long before."""


@dataclass(frozen=True, slots=True)
class LedWarmth:
    """The emitters' strings of a network: rows, and what warmth does to each.

    element, string, plus, minus: rows of the string among elements and strings, and of its two nodes; parts: where
    each emitter sits; regulated: which of these rows have a regulator, regulator: plateau [A], knee [V] and slope [S]
    of their laws. Arrays of one row each: ohm, the resistor, and diodes_ohm, the diodes' own resistance [ohm];
    led_k_per_w, rise of a junction by the mean power in the diodes of the whole string [K/W]; under_k_per_w, of what
    it sits on by that in diodes and resistor [K/W]; fall_v_per_k, loss of forward voltage of each diode [V/K]. mount:
    factor on the rise [-], one row with a column for each LED tolerance.
    """

    element: NDArray[np.int64]
    string: NDArray[np.int64]
    plus: NDArray[np.int64]
    minus: NDArray[np.int64]
    parts: tuple[str, ...]
    ohm: Array
    diodes_ohm: Array
    regulated: NDArray[np.int64]
    regulator: tuple[Array, Array, Array]
    led_k_per_w: Array
    under_k_per_w: Array
    fall_v_per_k: Array
    mount: Array

    def rises_k(self, point: OperatingPoint, columns: Columns) -> Array:
        """How much warmer than its air each junction gets with the power of a solve [K], shape (strings, columns)."""
        amps = point.element_a[self.element]
        volts = np.nan_to_num(point.node_v[self.plus] - point.node_v[self.minus])
        volts[self.regulated] -= self._held_v(amps[self.regulated], columns)
        watts = np.maximum(volts * amps, 0.0)
        ohm = self.ohm + (columns.ohm_factor[self.element] - 1) * (self.ohm + self.diodes_ohm)
        led_w = np.maximum((volts - ohm * amps) * amps, 0.0)
        mount = np.tile(self.mount, (1, columns.count // self.mount.shape[1]))  # tolerances vary fastest
        return mount * (self.led_k_per_w * led_w + self.under_k_per_w * watts)

    def _held_v(self, amps: Array, columns: Columns) -> Array:
        """What the regulators take."""
        factor = 1.0 if columns.limit_factor is None else columns.limit_factor[self.string[self.regulated]]
        plateau, knee, slope = self.regulator
        held, _ = regulator_voltage(plateau * factor, knee, slope * factor, amps)
        return held

    def shifted(self, columns: Columns, junction_c: Array) -> Columns:
        """Columns with each diode's voltage as at its junction's temperature [degC], shape (strings, columns)."""
        moved = -self.fall_v_per_k * (np.clip(junction_c, COLDEST_C, HOTTEST_C) - LAW_TEMP_C)
        whole = np.array(np.broadcast_to(columns.shift_v, (columns.shift_v.shape[0], columns.count)))
        whole[self.string] += moved
        return replace(columns, shift_v=whole)

    def part(self, tolerance: int) -> LedWarmth:
        """The same for one of its LED tolerances."""
        return replace(self, mount=self.mount[:, tolerance : tolerance + 1])


def led_warmth_of(
    plan: Plan, drawer: Drawer, *, loom: Loom, circuits: tuple[Circuit, ...], network: Network,
    tolerances: Sequence[str],
) -> LedWarmth:
    """The emitters' strings of a network; those of a gathered strip stand for all its segments.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        Walls, and what each LED or strip is.
    loom, circuits
        Emitters and their rhythms: a junction goes with the mean power.
    network : Network
        Its strings are named after their emitters.
    tolerances : sequence of str
        LED tolerances of its columns: low, typical, high or cold.
    Returns
    -------
    LedWarmth
        In the order of the network's strings; steering diodes are left out.
    Source
    ------
    Thermal resistance as in LED data sheets; led_voltage_temperature.csv; the wall under a strip: thermal.led_rise.
    """
    share = {circuit.name: parse_rhythm(circuit.rhythm).on_share for circuit in circuits}
    strings = {name: one for one in loom.emitters if (name := string_name(one, 0)) in network.named("string")}
    return led_warmth(network, {name: string_warmth(plan, drawer, one, on_share=share[one.circuit])
                                for name, one in strings.items()}, tolerances)


@dataclass(frozen=True, slots=True)
class StringWarmth:
    """What warmth does to one string: where it sits, and its numbers as in `LedWarmth`."""

    part: str
    led_k_per_w: float
    under_k_per_w: float
    fall_v_per_k: float


def string_warmth(
    plan: Plan, drawer: Drawer, emitter: Emitter, *, on_share: float, in_series: int = 1
) -> StringWarmth:
    """Of one emitter, or of so many like it that stand in one string of a network."""
    led, under = emitter_k_per_w(plan, drawer, emitter)
    return StringWarmth(emitter.spot.part, on_share * led / in_series, on_share * under,
                        forward_fall_v_per_k(law_key(drawer, emitter)).typical)


def led_warmth(network: Network, warm: Mapping[str, StringWarmth], tolerances: Sequence[str]) -> LedWarmth:
    """Strings of a network as what warms, by their names.

    Parameters
    ----------
    network : Network
        What is solved.
    warm : mapping
        Its strings that warm; the others stay as they are.
    tolerances : sequence of str
        LED tolerances of its columns.
    Returns
    -------
    LedWarmth
        In the order of the network's strings.
    """
    node = {name: number for number, name in enumerate(network.nodes)}
    strings = [(row, one) for row, one in enumerate(network.elements) if one.kind == "string"]
    found = [(row, at, one, warm[one.name]) for at, (row, one) in enumerate(strings) if one.name in warm]
    laws = [one.regulator for _, _, one, _ in found if one.regulator]
    return LedWarmth(
        np.array([row for row, *_ in found], np.int64), np.array([at for _, at, *_ in found], np.int64),
        np.array([node[one.node_a] for _, _, one, _ in found], np.int64),
        np.array([node[one.node_b] for _, _, one, _ in found], np.int64),
        tuple(own.part for *_, own in found), _column([one.ohm for _, _, one, _ in found]),
        _column([sum(law.series_ohm for law in one.laws) for _, _, one, _ in found]),
        np.array([number for number, (_, _, one, _) in enumerate(found) if one.regulator], np.int64),
        (_column([law.plateau_a for law in laws]), _column([law.knee_v for law in laws]),
         _column([law.slope_siemens for law in laws])),
        _column([own.led_k_per_w for *_, own in found]), _column([own.under_k_per_w for *_, own in found]),
        _column([own.fall_v_per_k for *_, own in found]),
        np.array([[MOUNT[name] for name in tolerances]]),
    )


def _column(values: Sequence[float]) -> Array:
    return np.array(values, dtype=np.float64).reshape(-1, 1)


def emitter_k_per_w(plan: Plan, drawer: Drawer, emitter: Emitter) -> tuple[float, float]:
    """How much warmer the junctions of an emitter get.

    Parameters
    ----------
    plan, drawer, emitter
        The LED or strip, and the wall under it.
    Returns
    -------
    tuple
        Rise of one junction by the power in all diodes, and of the wall under a strip by all its power [K/W].
    Source
    ------
    Thermal resistance as in LED data sheets; the wall under a strip: `thermal.led_rise`.
    """
    if emitter.kind != "strip":
        return drawer.led(emitter.part_row).r_th_ja_k_per_w, 0.0
    strip, segments = drawer.strip(emitter.part_row), emitter_law(drawer, emitter).branches
    wall = strip_wall_rise_k(1.0, width_mm=strip.width_mm, wall_mm=plan.part(emitter.spot.part).wall_mm)
    return (CHIP_K_PER_W.typical / (segments * strip.leds_per_segment),
            wall.typical / (segments * strip.segment_mm / 1000))


def air_round(rises_k: Sequence[Range], tolerances: Sequence[str], room: Range) -> Array:
    """The air round LEDs for each LED tolerance [degC].

    Parameters
    ----------
    rises_k : sequence of Range
        How much warmer than the room the air of each one gets [K].
    tolerances : sequence of str
        low: the warmest air, as LEDs of low voltage take most; high: the coolest; cold: the coolest room.
    room : Range
        The air where the model stands [degC].
    Returns
    -------
    array
        Shape (LEDs, tolerances).
    """
    ends = {"low": room.high, "typical": room.typical, "high": room.low, COLD: room.low}
    return np.array([
        [ends[name] + {"low": rise.high, "typical": rise.typical, "high": rise.low, COLD: 0.0}[name]
         for name in tolerances] for rise in rises_k
    ]).reshape(len(rises_k), len(tolerances))


def chemistry_of(drawer: Drawer, emitter: Emitter) -> str:
    """The kind of semiconductor of an LED or strip, as led_flux_temperature.csv names it."""
    return row_by("led_voltage_temperature", "key", law_key(drawer, emitter))["chemistry"]


def light_share(drawer: Drawer, emitter: Emitter, junction_c: Range) -> Range:
    """What an LED gives at a junction temperature, over what its data sheet states.

    Parameters
    ----------
    drawer, emitter
        The LED or strip.
    junction_c : Range
        Its junction [degC].
    Returns
    -------
    Range
        Share of the flux at the same current [-]; above 1 under 25 degC. The least is that of the hottest junction
        that loses most a kelvin, the most that of the coolest that loses least.
    Source
    ------
    See `optics.emitter.junction_factor`; data sheets state light at 25 degC, measured in a pulse.
    """
    chemistry = chemistry_of(drawer, emitter)
    low, typical, high = (_kept(end_c, chemistry) for end_c in (junction_c.high, junction_c.typical, junction_c.low))
    return Range(low.low, typical.typical, high.high)


def _kept(junction_c: float, chemistry: str) -> Range:
    rise_k = min(max(junction_c, COLDEST_C), HOTTEST_C) - RATED_C
    return junction_factor(min(max(rise_k, -60.0), 120.0), chemistry)
