"""From the loom to the DC network that is solved: supply, fuse, contacts, wires, resistors, LEDs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rushlight.electric.elements import Columns, Element, Network, resistor, source, string, wire
from rushlight.electric.led import (
    LAW_TEMP_C,
    DiodeLaw,
    at_temperature,
    forward_fall_v_per_k,
    law_spread,
    side_by_side,
    voltage_at_current,
)
from rushlight.electric.regulator import RegulatorLaw
from rushlight.electric.wire import wire_ohm_per_m
from rushlight.model.design_loom import Emitter, Lead, Loom
from rushlight.model.drawer import Drawer
from rushlight.stages.parts_law import led_spread
from rushlight.stages.supplies import Age

if TYPE_CHECKING:
    from rushlight.stages.switching import Switching

LEAST_OHM = 1e-4
"""A joint or the shortest lead still has this resistance (from memory, order of magnitude)."""

DIMMED_SHARE = 0.95
"""A strip that is meant to take less than this share of its rating gets a resistor."""

JOINT_OHM = 0.01
"""A sound soldered joint with its two lead ends (contact_resistance.csv)."""

PLUG_OHM = 0.02
"""A pair of contacts of a plug (contact_resistance.csv)."""


def with_supply_ends(columns: Columns, ages: Sequence[Age], tolerances: Sequence[str]) -> Columns:
    """Columns by state, age and LED tolerance whose supply gives most beside LEDs that take most, and least beside
    those that take least.
    """
    ends = np.array([age.with_leds(tolerance) for age in ages for tolerance in tolerances]).T
    emf_v, inner_ohm = np.tile(ends, (1, columns.count // ends.shape[1]))
    return replace(columns, emf_v=emf_v[None], inner_ohm=np.maximum(inner_ohm, LEAST_OHM)[None])


@dataclass(frozen=True, slots=True)
class EmitterLaw:
    """How an emitter takes current: diodes in series, and the resistor built into it, a branch each."""

    laws: tuple[DiodeLaw, ...]
    built_in_ohm: float
    branches: int


def emitter_law(drawer: Drawer, emitter: Emitter) -> EmitterLaw:
    """An LED has no resistor of its own unless it is pre-wired; a strip has one in every segment."""
    if emitter.kind == "strip":
        strip = drawer.strip(emitter.part_row)
        law = law_spread(strip.law).typical
        current = strip.segment_ma / 1000
        drop = strip.leds_per_segment * float(voltage_at_current(law, current))
        built_in = max((strip.supply_v - drop) / current, 1.0)
        return EmitterLaw((law,) * strip.leds_per_segment, built_in, emitter.segments)
    led = drawer.led(emitter.part_row)
    law = led_spread(led).typical
    if led.pre_wired_v is None:
        return EmitterLaw((law,), 0.0, 1)
    current = led.test_ma / 1000
    return EmitterLaw((law,), max((led.pre_wired_v - float(voltage_at_current(law, current))) / current, 1.0), 1)


def spread_v(drawer: Drawer, emitter: Emitter, current_a: float) -> tuple[float, float]:
    """How far one diode's forward voltage lies under and over the typical one."""
    strip = emitter.kind == "strip"
    spread = law_spread(drawer.strip(emitter.part_row).law) if strip else led_spread(drawer.led(emitter.part_row))
    low, typical, high = (
        float(voltage_at_current(law, current_a)) for law in (spread.low, spread.typical, spread.high)
    )
    return (low - typical, high - typical)


def has_own_resistor(drawer: Drawer, emitter: Emitter) -> bool:
    """Whether a resistor has to be fitted to an emitter: to every bare LED, and to a strip that is dimmed."""
    if emitter.kind == "strip":
        rated_a = emitter.segments * drawer.strip(emitter.part_row).segment_ma / 1000
        return emitter.aim_current_a < DIMMED_SHARE * rated_a
    return drawer.led(emitter.part_row).pre_wired_v is None


def loom_network(
    drawer: Drawer, loom: Loom, *, found: Switching, age: Age, fuse_ohm: float, resistors: Mapping[str, float],
    gathered: bool = False, regulators: Mapping[str, RegulatorLaw] | None = None,
    junction_c: Mapping[str, float] | None = None,
) -> Network:
    """The whole loom as a network, from the supply's plus through fuse, switch, wires and lamps back to its minus.

    Parameters
    ----------
    drawer : Drawer
        For gauges and laws.
    loom : Loom
        Emitters and leads.
    found : Switching
        The switch.
    age : Age
        The supply.
    fuse_ohm : float
        Resistance of the fuse [ohm]; 0 for none.
    resistors : mapping
        Resistance fitted to each emitter [ohm].
    gathered : bool
        True takes the like segments of a strip as one string with all their current: the same, with fewer elements.
    regulators : mapping, optional
        Law of the regulators that stand in an emitter's plus lead in place of a resistor.
    junction_c : mapping, optional
        How warm an emitter's junctions are [degC]; 27 where nothing is said.
    Returns
    -------
    Network
        Nodes: 'supply+', 'bus', 'node bay A', ..., 'node bay R', 'node' and a splice's name, 'emitter+' and 'emitter-'.
    """
    wired = {end for lead in loom.leads for end in (lead.start, lead.end)}
    emitters = [emitter for emitter in loom.emitters if emitter.name in wired]
    elements = [
        source("supply", "supply+", node("bay R"), emf_v=age.emf_v, inner_ohm=max(age.inner_ohm, LEAST_OHM)),
        wire("fuse", "supply+", "bus", ohm=max(fuse_ohm, LEAST_OHM)),
    ]
    elements += found.elements
    names = frozenset(emitter.name for emitter in emitters)
    elements += [_wire(drawer, lead, names, plugs_on(loom, lead)) for lead in loom.leads]
    for emitter in emitters:
        warm = _at_junction(drawer, emitter, (junction_c or {}).get(emitter.name, LAW_TEMP_C))
        strings = _strings(emitter, warm, resistors.get(emitter.name, 0.0), (regulators or {}).get(emitter.name))
        elements += _gathered(strings) if gathered else strings
    return Network.of(elements)


def plugs_on(loom: Loom, lead: Lead) -> int:
    """Through how many plugs a lead passes."""
    return sum(lead.name in plug.leads for plug in loom.plugs)


def _wire(drawer: Drawer, lead: Lead, emitters: frozenset[str], plugs: int) -> Element:
    """A lead as cut, with its plugs and the joint at its far end; an emitter's name is a node on either side of it."""
    per_m = wire_ohm_per_m(drawer.wire(lead.wire).awg)
    signs = {"plus": "++", "link": "-+"}.get(lead.net, "--")
    start, end = (
        f"{name}{sign}" if name in emitters else node(name)
        for name, sign in zip((lead.start, lead.end), signs, strict=True)
    )
    return wire(f"lead {lead.name}", start, end, ohm=per_m * lead.cut_mm / 1000 + JOINT_OHM + plugs * PLUG_OHM)


def node(name: str) -> str:
    """The node of a splice or of a terminal in the bay; an emitter's nodes end in + and -."""
    return f"node {name}"


def law_key(drawer: Drawer, emitter: Emitter) -> str:
    """The colour in the table of laws that an emitter's diodes go by."""
    return drawer.strip(emitter.part_row).law if emitter.kind == "strip" else drawer.led(emitter.part_row).law


def _at_junction(drawer: Drawer, emitter: Emitter, at_c: float) -> EmitterLaw:
    law, fall = emitter_law(drawer, emitter), forward_fall_v_per_k(law_key(drawer, emitter)).typical
    return replace(law, laws=tuple(at_temperature(one, at_c, fall) for one in law.laws))


def _strings(
    emitter: Emitter, law: EmitterLaw, fitted_ohm: float, regulator: RegulatorLaw | None = None
) -> list[Element]:
    if emitter.kind != "strip":
        ohm = max(law.built_in_ohm + fitted_ohm, LEAST_OHM)
        return [string(string_name(emitter, 0), f"{emitter.name}+", f"{emitter.name}-", laws=law.laws, ohm=ohm,
                       regulator=regulator)]
    start = f"{emitter.name}+" if fitted_ohm <= 0 else f"{emitter.name} dimmed"
    dimmer = [resistor(f"dimmer {emitter.name}", f"{emitter.name}+", start, ohm=fitted_ohm)] if fitted_ohm > 0 else []
    segments = [
        string(string_name(emitter, number), start, f"{emitter.name}-", laws=law.laws, ohm=law.built_in_ohm)
        for number in range(law.branches)
    ]
    return dimmer + segments


def _gathered(elements: list[Element]) -> list[Element]:
    """The last string of an emitter's elements and its likes beside it as one."""
    like = [element for element in elements if element.kind == "string"]
    one, count = like[0], len(like)
    if count == 1:
        return elements
    laws = {law: side_by_side(law, count) for law in one.laws}
    whole = string(one.name, one.node_a, one.node_b, laws=[laws[law] for law in one.laws], ohm=one.ohm / count)
    return [*(element for element in elements if element.kind != "string"), whole]


def string_name(emitter: Emitter, number: int) -> str:
    """Name of one branch of an emitter in the network."""
    return f"{emitter.name} / {number + 1}"
