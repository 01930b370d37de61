"""An adapter that would sit inside the model."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.supply_limits import REACHED_FROM_OUTSIDE


def _look(design: Design) -> tuple[Trouble, ...]:
    supply, bay = design.plan.supply, bay_of(design)
    if supply is None or "adapter" not in supply.kind or supply.bay is None or bay is None:
        return ()
    if bay.access in REACHED_FROM_OUTSIDE:
        return ()
    return (Trouble(
        item=bay.name, says=f"The adapter is planned into the bay '{bay.name}' ({bay.access}).",
    ),)


RULE = Rule(
    key="electric.mains-adapter",
    grade=Grade.DANGEROUS,
    title="Mains adapter inside the model",
    unit="",
    why="A mains adapter warms up and needs air; no mains voltage belongs in a model.",
    cure="Leave the finished, approved adapter at the wall and bring its low-voltage plug to a socket (plug "
         "outside). "
         "Anything fixed to the mains is for a licensed person under local code.",
    source="IEC 62368-1, IEC 61558; local code",
    caution="mains",
    look=_look,
)
