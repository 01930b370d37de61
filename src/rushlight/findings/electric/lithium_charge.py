"""Lithium cells that would be charged inside the model, or that need a balancing charger."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of, cells_of, is_lithium
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    cells, bay = cells_of(design), bay_of(design)
    if cells is None or not is_lithium(design):
        return ()
    found = []
    if bay is not None and bay.access == "plug outside":
        found.append(Trouble(
            item=bay.name, says=f"The bay '{bay.name}' is reached by a plug alone, so its lithium cell would be "
                                "charged "
                                "inside the model.",
            cure="Give the bay a screwed hatch, and charge the cell outside."))
    if cells.in_series > 1 or cells.in_parallel > 1:
        count = cells.in_series * cells.in_parallel
        found.append(Trouble(
            item=cells.cell, grade=Grade.DOUBTFUL,
            says=f"A set of {count} lithium cells needs a protection board and a charger that look after each cell.",
            cure="Use one protected cell, or a finished USB power bank."))
    return tuple(found)


RULE = Rule(
    key="electric.lithium-charge",
    grade=Grade.DANGEROUS,
    title="Lithium cell charged inside the model",
    unit="",
    why="A cell that fails while it is charged burns; inside a model nobody sees it warm up.",
    cure="Charge outside, with a charger made for that cell, on a hard surface, not unattended.",
    source="IEC 62133-2",
    caution="liion_charge",
    look=_look,
)
