"""Words of the electric findings: currents, sources, the supply."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.plan_bench import Supply
from rushlight.model.plan_part import Bay
from rushlight.stages.layouts import find_bay

PRACTICE = "common practice of the trade, no source"
NETWORK = "the DC network, solved in every state"


def ma(amps: float) -> str:
    """A current in the unit that a hand meter shows it in."""
    return f"{plain(amps, 3)} A" if amps >= 1 else f"{plain(amps * 1000)} mA"


def cells_of(design: Design) -> Supply | None:
    """The plan's supply if it is made of cells."""
    supply = design.plan.supply
    return supply if supply is not None and supply.kind == "cells" else None


def is_lithium(design: Design) -> bool:
    """Whether the supply is made of rechargeable lithium cells."""
    supply = cells_of(design)
    if supply is None:
        return False
    cell = design.drawer.cell(supply.cell)
    return cell.rechargeable and "lithium" in cell.chemistry


def bay_of(design: Design) -> Bay | None:
    """The bay of the supply."""
    found = find_bay(design.plan)
    return found[1] if found else None


def regulated(design: Design) -> bool:
    """Whether the supply holds its voltage."""
    return design.plan.supply is not None and design.plan.supply.kind != "cells"
