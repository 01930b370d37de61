"""A state in which nothing is lit."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    lit = {state for lamp in design.lamps for state in lamp.states}
    return tuple(
        Trouble(item=state.name, says=f"In the state '{state.name}' no lamp is lit.")
        for state in design.plan.states
        if state.name not in lit
    )


RULE = Rule(
    key="plan.state-dark",
    grade=Grade.DOUBTFUL,
    title="State without lamps",
    unit="",
    why="A position of the switch would do nothing, and the model would seem broken.",
    cure="Name the state in the lamps that belong to it, or take it out: the switch has an off position anyway.",
    source="common practice, no source",
    look=_look,
)
