"""Edits that cure what gets too hot or takes too much: less current, vents, regulators that share the heat."""

from __future__ import annotations

import math

from rushlight.electric.led import voltage_at_current
from rushlight.findings._lights import current_a
from rushlight.findings.cures._edits import edit, names_of, pin_in, pins_out, up
from rushlight.findings.cures._electric import less_volts
from rushlight.findings.electric._currents import most_a as most_a_of
from rushlight.findings.electric._currents import worst_currents
from rushlight.findings.electric.regulator_current import MOST_TIMES, times_off
from rushlight.findings.heat.regulator_too_hot import SPARE_K, air_c
from rushlight.model.change import Edit
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import Regulator
from rushlight.model.finding import Finding
from rushlight.stages.network import emitter_law
from rushlight.stages.parts_law import light_ratio, most_apart
from rushlight.stages.regulators import CHOICE as REGULATOR
from rushlight.stages.regulators import Chosen, nearest
from rushlight.thermal.led_rise import limit_of

LEAST_A = 1e-9

HELD = ("current_ma", "resistor_ohm")

BELOW = 0.97
"""A lowered current lies so far under what the finding's limit would bear."""

MOST_HELD_MA = 1000.0
"""A held current may be no more (the plan's own bound)."""


def vents(design: Design, finding: Finding) -> Edit | None:
    """Vents with which the hottest state may stay on."""
    row = next((row for row in design.heat.spaces if row.space == finding.item), None)
    if row is None or row.vents_for_mm2 is None:
        return None
    area = up(row.vents_for_mm2, 10)
    return edit("spaces", row.space, {"vents_mm2": area},
                f"give '{row.space}' vents of {area:g} mm2 in all, half of them low, half high.")


# --- less current -------------------------------------------------------------------------------------------------


def cooler(design: Design, finding: Finding) -> Edit | None:
    """A held current let go; else so much less as takes a lamp's junction, or the wall under a strip, to its limit.

    What the current warms goes with its power, about in proportion to it: the air's rise is counted among it.
    """
    own, room = _of(design, finding), design.heat.room_c.high
    if own is None or finding.number is None or finding.number <= room:
        return None
    return _less(design, own, (_advised_c(design, finding, own) - room) / (finding.number - room))


def _advised_c(design: Design, finding: Finding, own: Emitter) -> float:
    """What a lamp, its bundle or the wall under a strip should not pass [degC]; a finding names the higher stop."""
    advised = {
        "heat.wall-under-strip": design.drawer.wall(design.plan.part(own.spot.part).wall).advise_c,
        "heat.junction-too-hot": limit_of("LED junction").advise_c,
        "heat.fibre-too-warm": limit_of("PMMA fibre").advise_c,
    }[finding.key]
    return min(advised, finding.limit if finding.limit is not None else advised)


def less_current(design: Design, finding: Finding) -> Edit | None:
    """A held current let go; else so much less as the finding's limit asks: of an emitter, or of all in a circuit."""
    own = _of(design, finding)
    return _less(design, own, finding.limit / finding.number) if own and finding.number and finding.limit else None


def cooler_resistor(design: Design, finding: Finding) -> Edit | None:
    """Fewer volts over it, where all lamps bear that; else a held value let go, or less current.

    Held to a current, a resistor takes the same voltage, so that its heat goes with the current.
    """
    row = design.power.resistor(finding.item)
    if row is None or not finding.number or finding.limit is None:
        return None
    over_v = math.sqrt(row.dissipated_w * row.value_ohm)
    return less_volts(design, over_v * (1 - finding.limit / finding.number)) or less_current(design, finding)


def cooler_bundle(design: Design, finding: Finding) -> Edit | None:
    """Vents where the air of a space is too warm; else less current for the LED that the bundle touches."""
    return vents(design, finding) or cooler(design, finding)


def _of(design: Design, finding: Finding) -> Emitter | None:
    """The emitter of a finding; of a circuit its one, or the first of like ones."""
    return next((row for row in design.loom.emitters
                 if finding.item in (row.name, f"circuit {row.circuit}")), None)


def _less(design: Design, own: Emitter, share: float) -> Edit | None:
    if not 0 < share < 1:
        return None
    out = pins_out(design, HELD, names_of(design, [own]))
    if out is not None:
        return out
    wanted = _down(1000 * current_a(design, own.name) * max(own.segments, 1) * share * BELOW)
    if not 0 < wanted <= MOST_HELD_MA or _too_hot(design, own, wanted / 1000):
        return None
    return pin_in(design, _widest(design, own), "current_ma", wanted)


def _too_hot(design: Design, own: Emitter, wanted_a: float) -> bool:
    """Whether the one resistor that dims a whole strip so far would burn more than any that is sold bears."""
    supply = design.power.supply
    if own.kind != "strip" or supply is None:
        return False
    law = emitter_law(design.drawer, own)
    each_a = wanted_a / law.branches
    strip_v = sum(float(voltage_at_current(one, each_a)) for one in law.laws) + law.built_in_ohm * each_a
    row = worst_currents(design)[own.name]
    most_a = wanted_a * most_a_of(row) / max(row.current_a.typical, LEAST_A)
    watts = most_a**2 * max(supply.nominal_v - strip_v, 0.0) / wanted_a
    return watts > max(part.rating_w for part in design.drawer.resistors)


def _widest(design: Design, own: Emitter) -> str:
    """The circuit, where all its LEDs are alike, so that one edit holds for all; else the emitter."""
    alike = {(row.kind, row.part_row, round(row.aim_current_a, 5))
             for row in design.loom.emitters if row.circuit == own.circuit}
    return own.circuit if len(alike) == 1 else own.name


def _down(milliamps: float) -> float:
    """The next figure of two digits below, as a modeller would write it."""
    if milliamps <= 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(milliamps)) - 1)
    return round(math.floor(milliamps / step + 1e-9) * step, 6)


# --- regulators ---------------------------------------------------------------------------------------------------


def other_regulator(design: Design, finding: Finding) -> Edit | None:
    """Another regulator of about the same current that bears what stands across it, shares its heat, or differs less.

    Two of half the current side by side warm half as much each. Where no other does it, fewer volts.
    """
    row = design.power.regulator(finding.item)
    if row is None:
        return None
    emitter = design.loom.emitter(row.emitter)
    ways = [nearest([part], emitter.aim_current_a) for part in design.drawer.regulators]
    far = {way.part.name: times_off(design.drawer, emitter, way.current_a.typical) for way in ways}
    near = [way for way in ways if far[way.part.name] <= MOST_TIMES and way.part.name != row.part]
    fit = [way for way in near if _suits(design, finding, way)]
    best = min(fit, key=lambda way: (_differ(design, emitter, way), way.count, far[way.part.name], way.part.name),
               default=None)
    if best is not None:
        return pin_in(design, emitter.circuit, REGULATOR, best.part.name)
    return None if finding.key == "electric.regulators-differ" else less_volts(design, _too_many_v(finding, row))


def _too_many_v(finding: Finding, row: Regulator) -> float:
    """How many volts fewer would do."""
    assert finding.number is not None and finding.limit is not None
    if finding.unit == "V":
        return finding.number - finding.limit
    return row.most_v * (finding.number - (row.max_junction_c - SPARE_K)) / row.rise_k


def _suits(design: Design, finding: Finding, way: Chosen) -> bool:
    """Whether other regulators in place of these would bear what they get, and look alike."""
    row, part = design.power.regulator(finding.item), way.part
    if row is None or row.most_v > part.max_v:
        return False
    if finding.key == "electric.regulators-differ" and _differ(design, design.loom.emitter(row.emitter), way):
        return False
    each_w = row.most_v * way.current_a.high / way.count
    return air_c(design, row) + each_w * part.r_th_ja_k_per_w <= part.max_junction_c - SPARE_K


def _differ(design: Design, emitter: Emitter, way: Chosen) -> bool:
    """Whether LEDs on two of them may differ too much to look alike."""
    return light_ratio(design.drawer, emitter, way.current_a.high, way.current_a.low) > most_apart(design.drawer)


