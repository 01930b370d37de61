"""The supply: what it gives fresh and flat, whether it fits its bay, which fuse suits it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.cell import Ages, Battery, Cell, ages, cell, discharge
from rushlight.electric.supply import (
    ADAPTER_INNER_OHM,
    USB_INNER_OHM,
    USB_V,
    BankVerdict,
    adapter_emf_v,
    bank_range,
    bank_run_time_h,
    bank_verdict,
)
from rushlight.model.design_power import StatePower, SupplyPlan
from rushlight.model.drawer import CellPart, Drawer, FusePart
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Supply
from rushlight.model.plan_part import Bay
from rushlight.stages.layouts import find_bay
from rushlight.tables import rows
from rushlight.units import Range

CELL_CHARGE = "cell capacity"
"""The bench method that reads what a cell holds, in times of what its law has."""

CELL_OHM = "cell resistance"
"""The bench method that reads a cell's inner resistance, in times of what its law has."""

BANK_ENERGY = "bank energy"
"""The bench method that reads what of a power bank's print comes out of its port."""

BANK_LOAD = "bank load"
"""The bench method that reads the load under which a power bank switches off [mA]."""

BANK = "power bank"

UNIT_VOLTS = "adapter volts"
"""The bench method that reads what an adapter or a USB unit gives with nothing on it [V]."""

UNIT_OHM = "adapter resistance"
"""What a reading of these volts with a load on says beside them: how far they fall by an ampere [ohm]."""

UNITS = {"adapter": "adapter", "usb adapter": "usb adapter", "usb power bank": BANK}
"""What a finished unit is called where it is read, by the kind of the plan's supply."""

FEED_POWER = "feed power"
"""The bench method that reads what a state takes."""

FLAT_SHARE = 0.8
"""A set of cells counts as flat for brightness when this share of its charge is used (project proposal)."""

HOLDER_MM = 3.0
"""A holder is about so much larger than its cells all round (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Age:
    """One age of a supply, typical, and what another of its kind may give at that age."""

    name: str
    emf_v: float
    inner_ohm: float
    emf_ends_v: Range
    inner_ends_ohm: Range

    def with_leds(self, tolerance: str) -> tuple[float, float]:
        """EMF [V] and inner resistance [ohm] beside LEDs of a tolerance: all that makes current to one side at once."""
        if tolerance == "typical":
            return self.emf_v, self.inner_ohm
        volts, ohm = self.emf_ends_v, self.inner_ends_ohm
        return (volts.low, ohm.high) if tolerance == "high" else (volts.high, ohm.low)


def supply_ages(plan: Plan, drawer: Drawer) -> tuple[Age, ...]:
    """The supply fresh, at its nominal voltage, and flat."""
    supply = plan.supply
    if supply is None:
        return ()
    if supply.kind == "cells":
        battery = battery_of(drawer, supply)
        at = ages(battery)
        middle = _nominal(drawer.cell(supply.cell), supply)
        flat = float(np.interp(FLAT_SHARE, at.used_fraction, at.emf_v))
        ohm = [float(np.interp(share, at.used_fraction, at.inner_ohm)) for share in (0.0, 0.4, FLAT_SHARE)]
        emf_v = (float(at.emf_v[0]), max(middle, flat), min(flat, middle))
        return tuple(Age(name, emf, each, Range.exactly(emf), battery.cell.ohm_spread.times(each))
                     for name, emf, each in zip(("fresh", "nominal", "flat"), emf_v, ohm, strict=True))
    volts, inner = unit_emf_v(drawer, unit_name(supply)), unit_ohm(drawer, unit_name(supply))
    ends = {"fresh": Range.exactly(volts.high), "nominal": volts, "flat": Range.exactly(volts.low)}
    return tuple(Age(name, each.typical, inner.typical, each, inner) for name, each in ends.items())


def unit_name(supply: Supply) -> str:
    """A finished unit by what is printed on it."""
    return unit_named(UNITS[supply.kind], supply.adapter_v if supply.kind == "adapter" else USB_V)


def unit_named(word: str, printed_v: float) -> str:
    """The same of a reading that tells what stands on the unit."""
    return f"{word} of {printed_v:g} V"


def printed_v(name: str) -> float:
    """The volts that a unit's name tells."""
    return float(name.rpartition(" of ")[2].removesuffix(" V"))


def usual_unit_v(name: str) -> Range:
    """What any unit of that print gives with nothing on it [V]."""
    return adapter_emf_v(printed_v(name))


def usual_unit_ohm(name: str) -> Range:
    """Inner resistance of any such unit with its lead [ohm]."""
    return ADAPTER_INNER_OHM if name.startswith("adapter ") else USB_INNER_OHM


def unit_emf_v(drawer: Drawer, name: str) -> Range:
    """What a unit gives with nothing on it [V]: as it was read, else as any of its print."""
    return drawer.measured(UNIT_VOLTS, name) or usual_unit_v(name)


def unit_ohm(drawer: Drawer, name: str) -> Range:
    """How far a unit's volts fall by an ampere [ohm]: as it was read, else as any such unit's."""
    return drawer.measured(UNIT_OHM, name) or usual_unit_ohm(name)


def in_cells(plan: Plan) -> bool:
    """Whether the model is fed by cells, whose own losses warm it."""
    return plan.supply is not None and plan.supply.kind == "cells"


def battery_of(drawer: Drawer, supply: Supply) -> Battery:
    """The cells of a supply as a battery: they hold what was read at the bench, else what their row says."""
    part = drawer.cell(supply.cell)
    law, read = cell(part.law), drawer.measured(CELL_CHARGE, part.name)
    held = replace(law, time_spread=read) if read is not None else of_own_charge(law, part)
    held = of_own_ohm(held, drawer.measured(CELL_OHM, part.name))
    return Battery(held, supply.in_series, supply.in_parallel)


def of_own_charge(law: Cell, part: CellPart) -> Cell:
    """The tabled cell, with its charge in proportion where the row holds another than the packaged one of that law."""
    usual = next((float(row["capacity_mah"]) for row in rows("drawer_cells") if row["law"] == part.law), None)
    if usual is None or part.capacity_mah == usual:
        return law
    return replace(law, time_spread=law.time_spread.times(part.capacity_mah / usual))


def of_own_ohm(law: Cell, read: Range | None) -> Cell:
    """The same cell with its inner resistance so many times the usual, fresh as flat, as it was read."""
    if read is None:
        return law
    times = read.typical
    return replace(law, fresh_ohm=law.fresh_ohm * times, flat_ohm=law.flat_ohm * times,
                   ohm_spread=read.times(1.0 / times))


def _nominal(part: CellPart, supply: Supply) -> float:
    return part.nominal_v * supply.in_series


def cell_ohm(plan: Plan, drawer: Drawer) -> Range:
    """Inner resistance that the plan's cells may have, over the usual [-]; 1 for what is no cell."""
    if plan.supply is None or not in_cells(plan):
        return Range.exactly(1.0)
    return battery_of(drawer, plan.supply).cell.ohm_spread


def battery_ages(plan: Plan, drawer: Drawer) -> Ages | None:
    """The cells at many ages, for run times; None for another supply."""
    supply = plan.supply
    return ages(battery_of(drawer, supply), 11) if supply and supply.kind == "cells" else None


def run_time_h(
    plan: Plan, drawer: Drawer, *, current_a: np.ndarray, mean_share: float, least_v: float, ohm_times: float = 1.0
) -> Range:
    """Hours until the cells are empty or their voltage is too low for the lamps.

    `current_a` is the current at each age of `battery_ages`; `mean_share` the mean over the lit current, for rhythms;
    `least_v` the terminal voltage at which lamps go out; `ohm_times` how many times the usual inner resistance cells
    have.
    """
    supply = plan.supply
    if supply is None:
        return Range.exactly(0.0)
    if supply.kind == "cells":
        battery = battery_of(drawer, supply)
        at = ages(battery, 11)
        at = replace(at, inner_ohm=at.inner_ohm * ohm_times)
        most = 3 * battery.cell.rate.most_a * supply.in_parallel
        drawn = np.minimum(np.maximum(current_a, 1e-6) * max(mean_share, 1e-6), most)
        return discharge(battery, at, drawn, cut_off_v=least_v).run_time_h
    if supply.kind == "usb power bank":
        return bank_hours(drawer, supply, float(current_a[0]) * mean_share)
    return Range(math.inf, math.inf, math.inf)


def supply_spread(plan: Plan, drawer: Drawer) -> Range:
    """What one supply of its kind holds over the usual one [-]."""
    supply = plan.supply
    if supply is not None and supply.kind == "cells":
        return battery_of(drawer, supply).cell.time_spread
    if supply is not None and supply.kind == "usb power bank":
        hours = bank_hours(drawer, supply, 0.1)
        return hours.times(1.0 / hours.typical)
    return Range.exactly(1.0)


def printed(mah: float) -> str:
    """What a bank is called by what is printed on it."""
    return f"{mah:g} mAh"


def bank_hours(drawer: Drawer, supply: Supply, current_a: float) -> Range:
    """How long a power bank feeds a mean current [h]; as one of its print was read, else as any."""
    share = drawer.measured(BANK_ENERGY, printed(supply.bank_mah))
    return bank_run_time_h(supply.bank_mah, min(max(current_a, 1e-3), 5.0), share)


def bank_least_a(drawer: Drawer) -> Range:
    """The load under which a power bank switches off [A]: as it was read, else of any bank."""
    read = drawer.measured(BANK_LOAD, BANK)
    return bank_range("sleep", "a") if read is None else read.times(0.001)


def bank_awake(drawer: Drawer, current_a: float) -> BankVerdict:
    """Whether the plan's power bank stays awake at a load."""
    return bank_verdict(max(current_a, 0.0), bank_least_a(drawer))


def load_a(drawer: Drawer, state: StatePower) -> Range:
    """Mean current of a state over the spread of LEDs, resistors and contacts; as its feed was read, where it was."""
    amps, usual, read = state.supply_a, state.meter_w, drawer.measured(FEED_POWER, state.state)
    if read is not None and usual.typical > 0:
        return read.times(state.mean_a / usual.typical)
    return amps.times(state.mean_a / amps.typical) if amps.typical > 0 else Range.exactly(state.mean_a)


def plan_supply(
    plan: Plan, drawer: Drawer, *, fuse: FusePart | None, thinnest_a: float, loop_ohm: float
) -> SupplyPlan | None:
    """The supply as it is to be built.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    fuse : FusePart or None
        The fuse behind the supply.
    thinnest_a : float
        Loom limit of the thinnest wire behind the fuse [A].
    loop_ohm : float
        Resistance of the way to the farthest splice and back [ohm], for the short that the fuse must clear.
    Returns
    -------
    SupplyPlan or None
        None if the plan names no supply.
    """
    supply = plan.supply
    if supply is None:
        return None
    fresh, nominal, flat = supply_ages(plan, drawer)
    bay = find_bay(plan)
    size = _size_mm(drawer, supply)
    ohm = fresh.inner_ohm + loop_ohm + (fuse.inner_ohm if fuse else 0.0)
    part = drawer.cell(supply.cell) if supply.kind == "cells" else None
    return SupplyPlan(
        name=_name(supply), fresh_v=fresh.emf_v, nominal_v=nominal.emf_v, flat_v=flat.emf_v,
        inner_ohm=fresh.inner_ohm, capacity_mah=_capacity_mah(supply, part),
        limit_a=part.drain_limit_ma * supply.in_parallel / 1000 if part else _limit(supply), size_mm=size,
        bay=bay[1].name if bay else None, fits_bay=None if bay is None or size is None else _fits(size, bay[1]),
        fuse=fuse.name if fuse else None, fuse_a=fuse.rating_a if fuse else supply.fuse_a,
        short_a=fresh.emf_v / ohm, thinnest_wire_a=thinnest_a,
    )


def _capacity_mah(supply: Supply, part: CellPart | None) -> float:
    """Printed charge of the cells or the bank; 0 for what does not run down."""
    if part is not None:
        return part.capacity_mah * supply.in_parallel
    return supply.bank_mah if supply.kind == "usb power bank" else 0.0


def _name(supply: Supply) -> str:
    if supply.kind == "cells":
        side = f", {supply.in_parallel} in parallel" if supply.in_parallel > 1 else ""
        row = " in series" if supply.in_series > 1 else ""
        return f"{supply.in_series} x {supply.cell}{row}{side}"
    if supply.kind == "adapter":
        return f"finished {supply.adapter_v:g} V adapter, {supply.limit_a:g} A"
    return f"{supply.kind}, 5 V"


def _limit(supply: Supply) -> float:
    return supply.limit_a


def _size_mm(drawer: Drawer, supply: Supply) -> tuple[float, float, float] | None:
    """A holder with its cells side by side in two layers at most; None for what stays outside."""
    if supply.kind != "cells":
        return None
    part = drawer.cell(supply.cell)
    count = supply.in_series * supply.in_parallel
    wide, high, long = part.width_mm or part.length_mm or 0.0, part.length_mm or 0.0, part.height_mm or 0.0
    if part.coin:
        return (high + HOLDER_MM, high + HOLDER_MM, long * count + HOLDER_MM)
    layers = 2 if count > 3 else 1
    across = -(-count // layers)
    return (long + 2 * HOLDER_MM, across * wide + HOLDER_MM, layers * high + HOLDER_MM)


def _fits(size: tuple[float, float, float], bay: Bay) -> bool:
    """Whether a box goes into a bay in one of its six stands."""
    room = sorted((bay.rect_mm[2], bay.rect_mm[3], bay.depth_mm))
    return all(need <= have + 1e-9 for need, have in zip(sorted(size), room, strict=True))


def supply_fits(drawer: Drawer, supply: Supply, bay: Bay) -> bool:
    """Whether a supply goes into a bay; what stays outside always does."""
    size = _size_mm(drawer, supply)
    return size is None or _fits(size, bay)


def choose_fuse(drawer: Drawer, supply: Supply | None, *, most_a: float) -> FusePart | None:
    """The smallest resettable fuse that bears the running current with headroom.

    The modeller's own fuse is taken where the plan names one; None where none of the drawer bears the current.
    """
    own_a = supply.fuse_a if supply else None
    if own_a is not None:
        return min(drawer.fuses, key=lambda fuse: (abs(fuse.rating_a - own_a), fuse.name))
    share = drawer.habit("fuse_headroom").high or 0.75
    running = [f for f in drawer.fuses if f.kind == "resettable" and f.rating_a * share >= most_a]
    return min(running, key=lambda fuse: (fuse.rating_a, fuse.name)) if running else None
