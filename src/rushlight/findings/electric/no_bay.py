"""Cells without a place in the model."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of, cells_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    if cells_of(design) is None or bay_of(design) is not None:
        return ()
    name = design.power.supply.name if design.power.supply else "the cells"
    return (Trouble(item="supply", says=f"No part has a bay for {name}."),)


RULE = Rule(
    key="electric.no-bay",
    grade=Grade.DOUBTFUL,
    title="No bay for the cells",
    unit="",
    why="Without a bay nobody knows whether the cells fit, where the leads start, and how the cells come out again.",
    cure="Draw a bay on the part behind which the cells will sit, with its depth and how it is reached.",
    source="the plan",
    look=_look,
)
