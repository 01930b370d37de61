"""Which cells would do: they give the voltage that the loom was worked out for, last as asked, and go into the bay."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.cell import Battery, ages, cell, discharge
from rushlight.model.design import Design
from rushlight.model.drawer import CellPart
from rushlight.model.plan_bench import Supply
from rushlight.stages.layouts import find_bay
from rushlight.stages.supplies import supply_ages, supply_fits
from rushlight.stages.supply_units import supply_price_eur
from rushlight.tables import row_by

VOLTS_APART = 0.09
"""Nominal voltages no further apart than this keep the resistors as they are (project proposal: half an E12 step)."""

MOST_SERIES, MOST_PARALLEL = 20, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyChoice:
    """A set of cells: how long it runs at the current asked for [h], the cells' weight [g], price with holder [euro].

    `fits` is None where no bay is known. `own`: it is the one of the plan.
    """

    name: str
    cell: str
    in_series: int
    in_parallel: int
    nominal_v: float
    runs_h: float
    weight_g: float
    price_eur: float
    fits: bool | None
    own: bool


def wanted_of(design: Design) -> tuple[float, float, float]:
    """How long the supply should last [h], at which mean current, and the most that it must give [A]."""
    supply, evening = design.plan.supply, design.power.evening
    states = design.power.states
    if supply is None or not states:
        return 0.0, 0.0, 0.0
    mean = {row.state: row.mean_a for row in states}
    most = max(row.supply_a.high for row in states)
    if evening is None:
        return supply.run_h, max(mean.values()), most
    shown = sum(mean[name] * hours for name, hours in evening.stages) / evening.hours
    return max(supply.run_h, evening.hours), shown, most


def supplies_that_do(design: Design) -> tuple[SupplyChoice, ...]:
    """Sets of cells that would serve as well, the lightest first; the plan's own among them, whether it does or not.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of SupplyChoice
        Nothing where the supply is not of cells, or nothing is lit.
    Notes
    -----
    The current is that of the design as it stands, steady; a set of nearly the same voltage changes it little.
    Source
    ------
    `electric.cell.discharge`; weights by volume and `cell_density.csv` (from memory).
    """
    supply = design.plan.supply
    hours, mean_a, most_a = wanted_of(design)
    if supply is None or supply.kind != "cells" or mean_a <= 0:
        return ()
    found = [_choice(design, part, series, parallel, mean_a) for part in design.drawer.cells
             for series in range(1, MOST_SERIES + 1) for parallel in range(1, MOST_PARALLEL + 1)
             if _suits(design, part, series, parallel, most_a)]
    kept = [row for row in found if row.own or (row.runs_h >= hours and row.fits is not False)]
    return tuple(sorted(kept, key=lambda row: (row.weight_g, row.price_eur, row.name)))


def _suits(design: Design, part: CellPart, series: int, parallel: int, most_a: float) -> bool:
    """The plan's own set, or one of its voltage that bears the current, with no more cells than needed for that."""
    supply = design.plan.supply
    assert supply is not None
    if (part.name, series, parallel) == (supply.cell, supply.in_series, supply.in_parallel):
        return True
    now = supply_ages(design.plan, design.drawer)[1].emf_v
    near = abs(part.nominal_v * series / now - 1) <= VOLTS_APART
    return near and not part.coin and part.drain_limit_ma * parallel / 1000 >= most_a


def _choice(design: Design, part: CellPart, series: int, parallel: int, mean_a: float) -> SupplyChoice:
    supply = design.plan.supply
    assert supply is not None
    tried = replace(supply, cell=part.name, in_series=series, in_parallel=parallel)
    bay = find_bay(design.plan)
    side = f", {parallel} in parallel" if parallel > 1 else ""
    return SupplyChoice(
        name=f"{series} x {part.name}{side}", cell=part.name, in_series=series, in_parallel=parallel,
        nominal_v=part.nominal_v * series, runs_h=runs_h(part, tried, mean_a),
        weight_g=series * parallel * weight_g(part), price_eur=supply_price_eur(design.drawer, tried),
        fits=None if bay is None else supply_fits(design.drawer, tried, bay[1]),
        own=tried == supply,
    )


def runs_h(part: CellPart, tried: Supply, mean_a: float) -> float:
    """How long a set of cells runs at a steady current [h]."""
    battery = Battery(cell(part.law), tried.in_series, tried.in_parallel)
    at = ages(battery, 11)
    drawn = np.full(11, min(mean_a, 3 * battery.cell.rate.most_a * tried.in_parallel))
    return discharge(battery, at, drawn).run_time_h.typical


def weight_g(part: CellPart) -> float:
    """Weight of one cell [g]: its volume times the usual density of its chemistry."""
    density = float(row_by("cell_density", "chemistry", part.chemistry)["g_per_cm3"])
    across, high = (part.length_mm or 0.0) / 10, (part.height_mm or 0.0) / 10
    if part.shape in ("round", "button", "coin"):
        return density * math.pi / 4 * across**2 * high
    return density * across * (part.width_mm or 0.0) / 10 * high

