"""Cells that do not go into their bay."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.layouts import find_bay


def _look(design: Design) -> tuple[Trouble, ...]:
    supply, bay, found = design.power.supply, bay_of(design), find_bay(design.plan)
    if supply is None or bay is None or found is None or supply.size_mm is None or supply.fits_bay is not False:
        return ()
    need = sorted(supply.size_mm, reverse=True)
    have = sorted((bay.rect_mm[2], bay.rect_mm[3], bay.depth_mm), reverse=True)
    return (Trouble(
        item=bay.name, spot=Spot(found[0].name, *bay.rect_mm[:2]),
        says=f"The holder for {supply.name} is about {_size(need)} mm; the bay '{bay.name}' is {_size(have)} mm.",
        cure=f"Make the bay {_size(_grown(need, have))} mm, use smaller cells, or lay the holder out another way.",
    ),)


def _size(sides: list[float]) -> str:
    return " x ".join(f"{side:.0f}" for side in sides)


def _grown(need: list[float], have: list[float]) -> list[float]:
    """The least bay: each side as it is, or as long as the holder asks."""
    return [max(pair) for pair in zip(need, have, strict=True)]


RULE = Rule(
    key="electric.supply-bay",
    grade=Grade.WILL_FAIL,
    title="Cells do not fit their bay",
    unit="",
    why="Holder and cells are a solid box with 3 mm for the holder all round.",
    cure="Make the bay larger, or use smaller cells.",
    source="cell sizes of IEC 60086-2; holder from common practice, no source",
    look=_look,
)
