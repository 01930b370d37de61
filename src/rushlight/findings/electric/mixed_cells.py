"""Cells that could feed one another, or that are not of one kind."""

from __future__ import annotations

from rushlight.findings._as_built import log
from rushlight.findings.electric._words import cells_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    cells = cells_of(design)
    if cells is None:
        return ()
    found = []
    if cells.in_parallel > 1 and not design.drawer.cell(cells.cell).rechargeable:
        found.append(Trouble(
            item=cells.cell, says=f"{cells.in_parallel} strings of {cells.cell} cells lie in parallel; the fresher one "
                                  "feeds the weaker one.",
            cure="Put a Schottky diode into the plus of each string (0.3 V less for the lamps), or use one string of "
                 "larger cells."))
    other = [name for name in _used(design) if name != cells.cell]
    if other:
        found.append(Trouble(
            item=cells.cell, says=f"The plan names {cells.cell} cells, and {other[0]} cells were used.",
            cure="Use cells of one kind and age, and enter them as the supply."))
    return tuple(found)


def _used(design: Design) -> list[str]:
    """Kinds of cell that the log of the bay names, by their whole name."""
    logs = [row.done.used for row in log(design) if row.key == "bay_fit" and row.done.used]
    names = {cell.name.casefold(): cell.name for cell in design.drawer.cells}
    return [names[text.strip().casefold()] for text in logs if text.strip().casefold() in names]


RULE = Rule(
    key="electric.mixed-cells",
    grade=Grade.DOUBTFUL,
    title="Cells that work against one another",
    unit="",
    why="An old or different cell among others is driven into reverse or charged by them, leaks and may burst.",
    cure="Never mix old and new cells or kinds of cell; take them out for storage.",
    source="IEC 60086-5 (from memory)",
    caution="mixed_cells",
    look=_look,
)
