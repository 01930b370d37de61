"""Cells that are empty before the wanted run time."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.findings.electric._words import cells_of
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.plan.supply
    lit = [state for state in design.power.states if state.lit]
    if supply is None or not lit or starved(design):
        return ()
    worst = min(lit, key=lambda state: state.run_time_h.low)
    hours, wanted = worst.run_time_h, supply.run_h
    if hours.low >= wanted:
        return ()
    sure = hours.typical < wanted
    number = hours.typical if sure else hours.low
    return (Trouble(
        item=worst.state, number=number, limit=wanted, grade=None if sure else Grade.COULD_BE_BETTER,
        says=f"'{worst.state}' runs {plain(hours.low)} to {plain(hours.high)} h; {plain(wanted)} h are wanted.",
        cure=_cure(wanted / max(number, 1e-6), cells_of(design) is not None),
    ),)


def _cure(times: float, of_cells: bool) -> str:
    if not of_cells:
        return f"Use a power bank of {plain(times)} times the capacity, or lower the currents."
    strings = math.ceil(times)
    if strings > 12:
        return f"It takes {plain(times)} times the charge: use larger cells or an adapter, or lower the currents."
    return f"It takes {plain(times)} times the charge: larger cells, {strings} strings in parallel, or lower currents."


RULE = Rule(
    key="electric.run-time",
    grade=Grade.DOUBTFUL,
    title="Run time shorter than wanted",
    unit="h",
    why="Cells give less of their charge the harder they are drained; makes of them differ by a quarter, and "
        "LEDs of one kind take more or less.",
    cure="Use larger cells, or lower the currents.",
    source="electric.cell: discharge laws fitted to published figures, 25 % either way; LEDs that take most and least",
    look=_look,
)
