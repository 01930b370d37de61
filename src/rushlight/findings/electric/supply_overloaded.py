"""A supply that is asked for more current than it can give."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.findings.electric._words import NETWORK, cells_of, ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply, cells = design.power.supply, cells_of(design)
    coin = cells is not None and design.drawer.cell(cells.cell).coin
    if supply is None or coin or not design.power.states:
        return ()
    worst = max(design.power.states, key=lambda state: state.bench_a.high)
    most = worst.bench_a.high
    if most <= supply.limit_a:
        return ()
    return (Trouble(
        item=supply.name, number=most, limit=supply.limit_a,
        grade=Grade.DOUBTFUL if cells and most <= 2 * supply.limit_a else None,
        says=f"In '{worst.state}' the lamps take up to {ma(most)}; {supply.name} gives {ma(supply.limit_a)}.",
        cure=_cure(cells is not None, most / supply.limit_a),
    ),)


def _cure(of_cells: bool, times: float) -> str:
    if of_cells:
        return f"Use larger cells or {math.ceil(times)} strings in parallel, or lower the currents."
    return f"Use an adapter of {plain(times)} times the current, or lower the currents."


RULE = Rule(
    key="electric.supply-overloaded",
    grade=Grade.WILL_FAIL,
    title="Supply overloaded",
    unit="A",
    why="Over its limit a cell sags and warms and gives a part of its charge; an adapter shuts down or overheats.",
    cure="Use a larger supply, or lower the currents.",
    source=NETWORK + "; limits of the drawer",
    look=_look,
)
