"""A supply outside, without a way in for its lead."""

from __future__ import annotations

from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.layouts import find_bay


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.plan.supply
    if supply is None or supply.kind == "cells" or find_bay(design.plan) is not None:
        return ()
    return (Trouble(item="supply", says=f"The {supply.kind} stands outside, and no part has a socket for its lead."),)


RULE = Rule(
    key="loom.stand-feed",
    grade=Grade.COULD_BE_BETTER,
    title="No way in for the supply",
    unit="",
    why="The lead comes in through the stand or a hidden plug, and the loom starts there.",
    cure="Draw a bay where the socket sits, on the base or behind the stand, and say that its plug is outside.",
    source=PRACTICE,
    practice="stand_feed",
    look=_look,
)
