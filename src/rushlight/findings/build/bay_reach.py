"""Supply, switch or fuse behind a boundary that is closed for good."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.layouts import find_bay


def _look(design: Design) -> tuple[Trouble, ...]:
    main = find_bay(design.plan)
    cells = design.plan.supply is not None and design.plan.supply.kind == "cells"
    found = []
    for part in design.plan.parts:
        for bay in part.bays:
            if bay.access == "sealed":
                own = cells and main is not None and main[1].name == bay.name
                what = "the cells are" if own else "what sits there is"
                found.append(Trouble(
                    item=bay.name, spot=Spot(part.name, *bay.rect_mm[:2]), grade=None if own else Grade.DOUBTFUL,
                    says=f"The bay '{bay.name}' is sealed, so {what} out of reach after close-up."))
    return tuple(found)


RULE = Rule(
    key="build.bay-reach",
    grade=Grade.WILL_FAIL,
    title="Supply out of reach",
    unit="",
    why="Cells run flat and leak, fuses blow, switches wear: all of them must be reached after close-up.",
    cure="Give the bay a screwed hatch, or bring the supply in by a plug from outside.",
    source=PRACTICE,
    practice="bay_reach",
    look=_look,
)
