"""Current that leaks through lamps that are switched off: they glow in the dark."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.power import LIT_A


def _look(design: Design) -> tuple[Trouble, ...]:
    leaks = [state for state in design.power.states if state.dark_most_a > LIT_A and not state.lit_wrongly]
    if not leaks:
        return ()
    worst = max(leaks, key=lambda state: state.dark_most_a)
    return (Trouble(
        item=worst.state, number=worst.dark_most_a * 1e6, limit=LIT_A * 1e6,
        says=f"In '{worst.state}' up to {plain(worst.dark_most_a * 1e6)} microampere pass through lamps that are off; "
             f"from {plain(LIT_A * 1e6)} on they glow.",
    ),)


RULE = Rule(
    key="electric.dark-leak",
    grade=Grade.DOUBTFUL,
    title="Lamp glows while it is off",
    unit="microampere",
    why="A modern LED glows visibly in a dark room from about a microampere on.",
    cure="Put a resistor of 10 kohm across the lamps that glow, or switch their feed with a contact of its own.",
    source=NETWORK + "; threshold from memory",
    look=_look,
)
