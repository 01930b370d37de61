"""Lamps that light in a state in which they should be dark: a sneak path."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(
            item=state.lit_wrongly[0], says=capital(
                f"{listed(state.lit_wrongly)} {'lights' if len(state.lit_wrongly) == 1 else 'light'} in "
                f"'{state.state}', where {'it' if len(state.lit_wrongly) == 1 else 'they'} should be dark."),
        )
        for state in design.power.states if state.lit_wrongly
    )


RULE = Rule(
    key="electric.lit-wrongly",
    grade=Grade.WILL_FAIL,
    title="Lamp lit in the wrong state",
    unit="",
    why="With one shared return, current can find a way back through another circuit's lamps or contacts.",
    cure="Keep the return of every circuit on the shared return, and put a diode into each feed that two positions "
         "share.",
    source=NETWORK,
    practice="shared_return",
    look=_look,
)
