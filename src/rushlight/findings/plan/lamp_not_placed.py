"""A lamp that has no place on a part yet."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=lamp.name, says=f"'{lamp.name}' has no place on a part, so nothing feeds it.")
        for lamp in design.lamps
        if lamp.spot is None
    )


RULE = Rule(
    key="plan.lamp-not-placed",
    grade=Grade.WILL_FAIL,
    title="Lamp without a place",
    unit="",
    why="A lamp without a place gets no hole, no fibre and no lead.",
    cure="Give it a part and a place on it (plan file: part, at_mm), or set its worth to left out.",
    source="follows from the routing: a route has two ends",
    look=_look,
)
