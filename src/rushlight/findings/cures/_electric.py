"""Edits that cure electric findings: cells, adapters, fuses, wire, held choices, how the bay is reached."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from rushlight.electric.led import voltage_at_current
from rushlight.findings._words import listed
from rushlight.findings.cures._edits import bay_set, edit, names_of, pin_in, pins_out, up, written
from rushlight.findings.electric._words import bay_of, cells_of
from rushlight.findings.electric.series_saves import advised
from rushlight.findings.electric.wire_over_limit import alone_a
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.drawer import CellPart
from rushlight.model.finding import Finding
from rushlight.model.plan_bench import AtHand, Supply
from rushlight.stages.at_hand import pair_offered, regulators_offered, resistors_at_hand, switches_to_buy
from rushlight.stages.network import has_own_resistor
from rushlight.stages.parts_law import led_spread
from rushlight.stages.regulators import CHOICE as REGULATOR
from rushlight.stages.regulators import NEAREST, nearest
from rushlight.stages.series import CHOICE
from rushlight.stages.supplies import supply_fits
from rushlight.stages.supply_units import adapter_volts


def _supply(values: dict[str, Any], says: str) -> Edit:
    return edit("supply", "", values, says)


def _with(design: Design, **values: Any) -> Supply | None:
    supply = design.plan.supply
    return dataclasses.replace(supply, **values) if supply else None


def _fits(design: Design, supply: Supply | None) -> bool:
    """Whether a supply goes into the bay that there is; true where there is none to go into."""
    bay = bay_of(design)
    return supply is not None and (bay is None or supply_fits(design.drawer, supply, bay))


def no_supply(design: Design, finding: Finding) -> Edit | None:
    """Three AA cells, the usual start."""
    return Edit((Change("set", "supply", "", {"kind": "cells", "cell": "AA", "in_series": 3}),),
                "Feed the model with 3 AA cells in series.")


def more_volts(design: Design, finding: Finding) -> Edit | None:
    """One cell more in series until it goes, or the next usual voltage of an adapter."""
    supply, cells = design.plan.supply, cells_of(design)
    if cells is not None:
        cell = design.drawer.cell(cells.cell)
        short_v = (finding.limit or 0.0) if finding.unit == "V" else 0.0
        share = design.drawer.habit("series_headroom").high or 0.8
        most = max(cells.in_series + 1, math.ceil(short_v / share / cell.nominal_v))
        return _series(design, cells, most) if most * cell.fresh_v <= 24 else None
    if supply is None or supply.kind != "adapter":
        return None
    higher = next((volts for volts in adapter_volts() if volts > supply.adapter_v), None)
    return None if higher is None else _adapter(supply, higher)


def _series(design: Design, cells: Supply, count: int) -> Edit | None:
    if not _fits(design, _with(design, in_series=count)):
        return None
    return _supply({"in_series": count}, f"put {count} {cells.cell} cells in series instead of {cells.in_series}.")


def _adapter(supply: Supply, volts: float) -> Edit:
    return _supply({"adapter_v": volts}, f"take a finished adapter of {volts:g} V instead of {supply.adapter_v:g} V.")


def less_volts(design: Design, by_v: float) -> Edit | None:
    """Cells fewer, or the next lower usual voltage of an adapter, so many volts under what there is.

    Only where every lamp has a resistor or a regulator of its own that still gets enough: a strip wants its voltage.
    """
    supply, cells, now = design.plan.supply, cells_of(design), design.power.supply
    if supply is None or now is None or by_v <= 0 or not _may_sink(design):
        return None
    if cells is not None:
        count = math.floor(cells.in_series * (1 - by_v / now.fresh_v))
        left_v = now.flat_v * count / cells.in_series
        return _series(design, cells, count) if count and left_v >= _least_v(design) else None
    if supply.kind != "adapter":
        return None
    lower = [volts for volts in adapter_volts() if _least_v(design) <= volts <= supply.adapter_v - by_v]
    return _adapter(supply, max(lower)) if lower else None


def _may_sink(design: Design) -> bool:
    return all(row.kind != "strip" and has_own_resistor(design.drawer, row) for row in design.loom.emitters)


def _least_v(design: Design) -> float:
    """What LEDs of high voltage in the longest string need with what sets their current [V]."""
    share, most = design.drawer.habit("series_headroom").high or 0.8, 0.0
    for row in design.loom.emitters:
        string, own = design.loom.string_of(row.name), design.power.regulator(row.name)
        law = led_spread(design.drawer.led(row.part_row)).high
        leds_v = (len(string.emitters) if string else 1) * float(voltage_at_current(law, row.aim_current_a))
        most = max(most, leds_v + own.drop_out_v if own else leds_v / share)
    return most


def wall_power(design: Design, finding: Finding) -> Edit | None:
    """A finished USB adapter of the same 5 V, which never sleeps, in place of the power bank."""
    return _supply({"kind": "usb adapter"}, "take a finished USB adapter instead of the power bank: it never sleeps.")


def own_fuse(design: Design, finding: Finding) -> Edit | None:
    """The smallest fuse of any kind that bears the load, where the thinnest wire bears it too."""
    share = design.drawer.habit("fuse_headroom").high or 0.75
    running = max((state.bench_a.high for state in design.power.states), default=0.0) / share
    bears = min((alone_a(design, lead) for lead in design.loom.leads), default=0.0)
    fit = [fuse.rating_a for fuse in design.drawer.fuses if running <= fuse.rating_a <= bears]
    return _supply({"fuse_a": min(fit)}, f"put a fuse of {min(fit):g} A at the plus of the cells.") if fit else None


def board_volts(design: Design, finding: Finding) -> Edit | None:
    """A supply within what the controller bears."""
    supply, cells, now = design.plan.supply, cells_of(design), design.power.supply
    if supply is None or now is None or finding.limit is None or finding.number is None:
        return None
    if finding.number < finding.limit:
        return _series(design, cells, math.ceil(cells.in_series * finding.limit / finding.number)) if cells else None
    if cells is not None:
        count = math.floor(cells.in_series * finding.limit / now.fresh_v)
        return _series(design, cells, count) if count else None
    lower = [volts for volts in adapter_volts() if volts <= finding.limit]
    return _adapter(supply, max(lower)) if lower and supply.kind == "adapter" and _may_sink(design) else None


def rated_volts(design: Design, finding: Finding) -> Edit | None:
    """The voltage that a strip or a pre-wired LED is made for."""
    supply, cells, rated = design.plan.supply, cells_of(design), finding.limit
    if supply is None or rated is None:
        return None
    if cells is not None:
        count = round(rated / design.drawer.cell(cells.cell).nominal_v)
        return _series(design, cells, count) if 0 < count <= 16 and count != cells.in_series else None
    if supply.kind == "adapter" and 3 <= rated <= 24:
        return _adapter(supply, rated)
    return None


def larger_supply(design: Design, finding: Finding) -> Edit | None:
    """An adapter that gives the current; else cells that do."""
    supply = design.plan.supply
    if supply is None or finding.number is None:
        return None
    if supply.kind == "adapter":
        amps = up(finding.number, 0.1 if finding.number < 1 else 0.5)
        return _supply({"limit_a": amps}, f"take an adapter that gives {amps:g} A instead of {supply.limit_a:g} A.")
    return _larger_cells(design, lambda cell: cell.drain_limit_ma * supply.in_parallel / 1000 >= finding.number)


def longer_cells(design: Design, finding: Finding) -> Edit | None:
    """Cells of the same kind with charge enough, if they go into the bay."""
    cells = cells_of(design)
    if cells is None or not finding.number or finding.limit is None:
        return None
    now, times = design.drawer.cell(cells.cell), finding.limit / finding.number
    return _larger_cells(design, lambda cell: cell.capacity_mah >= now.capacity_mah * times)


def _larger_cells(design: Design, enough: Any) -> Edit | None:
    """The smallest cell of the same voltage and chemistry that is enough and fits."""
    cells = cells_of(design)
    if cells is None:
        return None
    now = design.drawer.cell(cells.cell)
    alike = [
        cell for cell in design.drawer.cells
        if cell.chemistry == now.chemistry and cell.nominal_v == now.nominal_v and not cell.coin
        and cell.capacity_mah > now.capacity_mah and enough(cell) and _fits(design, _with(design, cell=cell.name))
    ]
    best = min(alike, key=lambda cell: (cell.capacity_mah, cell.name), default=None)
    return None if best is None else _cells(cells, best)


def _cells(cells: Supply, best: CellPart) -> Edit:
    return _supply({"cell": best.name}, f"take {best.name} cells instead of {cells.cell}.")


def smaller_cells(design: Design, finding: Finding) -> Edit | None:
    """The largest cell of the same voltage and chemistry that goes into the bay."""
    cells = cells_of(design)
    if cells is None:
        return None
    now = design.drawer.cell(cells.cell)
    alike = [cell for cell in design.drawer.cells
             if cell.chemistry == now.chemistry and cell.nominal_v == now.nominal_v and not cell.coin
             and cell.name != now.name and _fits(design, _with(design, cell=cell.name))]
    best = max(alike, key=lambda cell: (cell.capacity_mah, cell.name), default=None)
    return None if best is None else _cells(cells, best)


def no_coin(design: Design, finding: Finding) -> Edit | None:
    """AAA cells in place of coin cells."""
    cells = cells_of(design)
    if cells is None or not _fits(design, _with(design, cell="AAA", in_series=3, in_parallel=1)):
        return None
    return _supply({"cell": "AAA", "in_series": 3, "in_parallel": None},
                   f"feed the model with 3 AAA cells in series instead of {cells.cell}.")


def rechargeable(design: Design, finding: Finding) -> Edit | None:
    """Rechargeable cells of the same size."""
    cells = cells_of(design)
    best = next((row for row in design.drawer.cells if cells and row.name == f"{cells.cell} rechargeable"), None)
    return _cells(cells, best) if cells and best else None


def screwed_hatch(design: Design, finding: Finding) -> Edit | None:
    """A hatch that opens with a tool."""
    return _access(design, finding, "screwed hatch")


def unsealed(design: Design, finding: Finding) -> Edit | None:
    """A hatch for a bay that is sealed; one that is too tight for its cell no hatch widens."""
    return _access(design, finding, "screwed hatch") if "is sealed" in finding.says else None


def plug_outside(design: Design, finding: Finding) -> Edit | None:
    """A socket: the finished adapter stays at the wall."""
    return _access(design, finding, "plug outside")


def _access(design: Design, finding: Finding, access: str) -> Edit | None:
    bay = next((row for part in design.plan.parts for row in part.bays if row.name == finding.item), None)
    if bay is None or bay.access == access:
        return None
    says = f"reach the bay '{bay.name}' by a {access} instead of '{bay.access}'."
    return bay_set(design, bay.name, {"access": access}, says)


def larger_fuse(design: Design, finding: Finding) -> Edit | None:
    """The next fuse that bears the load and that the thinnest wire bears alone."""
    if finding.limit is None or not design.loom.leads:
        return None
    bears = min(alone_a(design, lead) for lead in design.loom.leads)
    return _fuse(design, finding.limit, bears)


def smaller_fuse(design: Design, finding: Finding) -> Edit | None:
    """The smallest fuse that bears the load, where it is smaller than the one there is."""
    supply = design.power.supply
    share = design.drawer.habit("fuse_headroom").high or 0.75
    running = max((state.bench_a.high for state in design.power.states), default=0.0) / share
    most = finding.limit if finding.key == "electric.fuse-over-wire" else None
    if supply is None or supply.fuse_a is None:
        return None
    if finding.key == "electric.fuse-clears" and finding.number is not None:
        most = finding.number / (design.drawer.habit("fuse_clears").low or 2.1)
    return _fuse(design, running, min(most or supply.fuse_a, supply.fuse_a * 0.999))


def _fuse(design: Design, least_a: float, most_a: float) -> Edit | None:
    supply = design.power.supply
    ratings = sorted({fuse.rating_a for fuse in design.drawer.fuses if least_a <= fuse.rating_a <= most_a})
    if not ratings or supply is None:
        return None
    was = f" instead of {supply.fuse_a:g} A" if supply.fuse_a is not None else ""
    return _supply({"fuse_a": ratings[0]}, f"take a fuse of {ratings[0]:g} A{was}.")


def held_values(design: Design, finding: Finding) -> Edit | None:
    """What is held for a current or a resistor is let go."""
    own = [row for row in design.loom.emitters if row.name == finding.item]
    leads = {lead.name: lead.circuit for lead in design.loom.leads}
    if finding.item in leads:
        own = [row for row in design.loom.emitters if row.circuit == leads[finding.item]]
    if finding.item == (design.power.supply.name if design.power.supply else ""):
        own = list(design.loom.emitters)
    return pins_out(design, ("current_ma", "resistor_ohm"), names_of(design, own))


def thicker_wire(design: Design, finding: Finding) -> Edit | None:
    """All leads two gauges thicker, as the drawer has it."""
    gauges = sorted({design.drawer.wire(lead.wire).awg for lead in design.loom.leads})
    hook_up = [wire.awg for wire in design.drawer.wires if wire.kind == "hook-up"]
    least = [awg for awg in hook_up if gauges and awg <= gauges[0] - 2]
    return pin_in(design, "all", "gauge_awg", max(least)) if least else None


def in_series(design: Design, finding: Finding) -> Edit | None:
    """The advised length of string, held for the circuit."""
    best = next((best for own, best in advised(design) if own.emitters[0] == finding.item), None)
    return pin_in(design, best.circuit, CHOICE, best.in_series) if best else None


def nearest_regulator(design: Design, finding: Finding) -> Edit | None:
    """The nearest regulators, held for the circuit where others are; those at hand where the plan names any."""
    row, emitter = design.power.regulator(finding.item), design.loom.emitter(finding.item)
    best = nearest(regulators_offered(design.plan, design.drawer), emitter.aim_current_a)
    if row is None or (row.part, row.count) == (best.part.name, best.count):
        return None
    return pin_in(design, emitter.circuit, REGULATOR, NEAREST)


def two_resistors(design: Design, finding: Finding) -> Edit | None:
    """The value that two resistors at hand come to, held for the lamp."""
    row = design.power.resistor(finding.item)
    two = pair_offered(resistors_at_hand(design.plan, design.drawer), row.exact_ohm) if row else None
    return pin_in(design, finding.item, "resistor_ohm", float(f"{two[1].ohm:.6g}")) if two else None


def bought_switch(design: Design, finding: Finding) -> Edit | None:
    """The switch that the design takes is bought, and stands among what is at hand from then on."""
    buy = switches_to_buy(design.plan, design.power.switch.parts) if design.power.switch else {}
    if not buy:
        return None
    rows = [AtHand(table="switches", row=part, count=count) for part, count in buy.items()]
    values = [written(row) for row in (*design.plan.at_hand, *rows)]
    bought = listed([f"{count} x {part}" for part, count in buy.items()])
    return edit("plan", "", {"at_hand": values}, f"buy {bought}, and note it as at hand.")


def coin_or_current(design: Design, finding: Finding) -> Edit | None:
    """A held current let go, where that is what is too much; else other cells."""
    return no_coin(design, finding) or held_values(design, finding)


def over_wire(design: Design, finding: Finding) -> Edit | None:
    """What is held let go; else thicker wire."""
    return held_values(design, finding) or thicker_wire(design, finding)
