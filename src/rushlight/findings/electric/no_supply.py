"""Lamps that nothing feeds: the plan names no supply."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    lit = sum(1 for lamp in design.lamps if lamp.states)
    if design.plan.supply is not None or not lit:
        return ()
    what = "one lamp is" if lit == 1 else f"{lit} lamps are"
    return (Trouble(item="supply", says=f"The plan names no supply, and {what} to be lit."),)


RULE = Rule(
    key="electric.no-supply",
    grade=Grade.WILL_FAIL,
    title="No supply",
    unit="",
    why="Resistors, run time, fuse, switch and every reading follow from the supply.",
    cure="Name one: cells in a bay, a finished low-voltage adapter, or a USB power bank.",
    source="the plan",
    look=_look,
)
