"""Cells that do not last one of the evenings that the plan describes."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    evening = design.power.evening
    lasts, wanted = (evening.ends_h, evening.hours) if evening else (None, 0.0)
    if lasts is None or lasts.typical >= wanted or starved(design):
        return ()
    return (Trouble(
        item="the evening", number=lasts.typical, limit=wanted,
        says=f"The cells last {plain(lasts.typical)} h of the evening that the plan describes, {plain(wanted)} h "
             "long.",
        cure=f"Use cells of {plain(wanted / max(lasts.typical, 1e-6))} times the charge, show the heavy states for a "
             "shorter time, or lower the currents.",
    ),)


RULE = Rule(
    key="electric.evening-short",
    grade=Grade.DOUBTFUL,
    title="The evening is longer than the cells last",
    unit="h",
    why="The states' drains, weighed by their minutes, empty the cells before the show is over.",
    cure="Use larger cells, or lower the currents.",
    source="electric.cell: discharge laws fitted to published figures",
    look=_look,
)
