"""A lithium cell sealed in, or in a bay without room for it to swell."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric._words import bay_of, cells_of, is_lithium
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_part import Bay
from rushlight.stages.supply_limits import least_side_mm, pouch_needs_mm


def _look(design: Design) -> tuple[Trouble, ...]:
    bay, cells = bay_of(design), cells_of(design)
    if bay is None or cells is None or not is_lithium(design):
        return ()
    if bay.access == "sealed":
        return (Trouble(item=bay.name, says=f"The bay '{bay.name}' is sealed, and a lithium cell is in it.",
                        cure="Give the bay a screwed hatch."),)
    return _tight(design, bay, cells.cell)


def _tight(design: Design, bay: Bay, cell: str) -> tuple[Trouble, ...]:
    row = design.drawer.cell(cell)
    needed, have = pouch_needs_mm(row), least_side_mm(bay)
    if row.height_mm is None or have >= needed:
        return ()
    return (Trouble(
        item=bay.name, grade=Grade.DOUBTFUL,
        says=f"The bay '{bay.name}' is {plain(have)} mm deep; a pouch of {plain(row.height_mm)} mm needs "
             f"{plain(needed)} mm to swell.",
        cure=f"Make the bay {plain(needed)} mm deep.",
    ),)


RULE = Rule(
    key="electric.lithium-bay",
    grade=Grade.DANGEROUS,
    title="Lithium cell sealed in or pinched",
    unit="",
    why="It must come out for charging and for disposal, and a pinched or swollen cell can burn.",
    cure="Give it a hatch, room to swell, no sharp edges and no heat.",
    source="IEC 62133-2",
    caution="liion_enclosure",
    look=_look,
)
