"""Lamps that stay dark in a state in which they should be lit."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.electric._words import NETWORK
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    told = {emitter.name for emitter in starved(design)}
    found = []
    for state in design.power.states:
        dark = [name for name in state.dark_wrongly if name not in told]
        if dark:
            verb = "stays" if len(dark) == 1 else "stay"
            found.append(Trouble(item=dark[0], says=capital(f"{listed(dark)} {verb} dark in '{state.state}'.")))
    return tuple(found)


RULE = Rule(
    key="electric.dark-wrongly",
    grade=Grade.WILL_FAIL,
    title="Lamp dark where it should be lit",
    unit="",
    why="Less than a microampere reaches it: the voltage is too low, or its circuit is not closed in that state.",
    cure="Use a higher supply voltage; check that the lamp is reached and that the switch feeds it in that state.",
    source=NETWORK,
    look=_look,
)
