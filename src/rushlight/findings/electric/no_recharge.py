"""Cells that must not be charged, in a bay that is reached by a plug alone."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of, cells_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    cells, bay = cells_of(design), bay_of(design)
    if cells is None or bay is None or bay.access != "plug outside":
        return ()
    if design.drawer.cell(cells.cell).rechargeable:
        return ()
    return (Trouble(
        item=bay.name, says=f"{cells.cell} cells cannot be charged, and the bay '{bay.name}' is reached by a plug "
                            "alone.",
    ),)


RULE = Rule(
    key="electric.no-recharge",
    grade=Grade.DANGEROUS,
    title="Primary cells behind a plug",
    unit="",
    why="A primary cell that is charged, or fed by an adapter beside it, leaks or bursts.",
    cure="Give the bay a hatch so that the cells can be changed, or use rechargeable cells; an adapter beside a "
         "pack needs "
         "a changeover switch or a diode.",
    source="IEC 60086-4, IEC 60086-5 (from memory)",
    caution="no_recharge",
    look=_look,
)
