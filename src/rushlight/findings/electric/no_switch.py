"""States that no switch of the drawer brings up."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    if switch is None or switch.part_row is not None or not design.circuits:
        return ()
    if switch.proved and switch.poles == 0:  # all burn in every state: the master switch, or none, is enough
        return ()
    return (Trouble(item="switch", says=capital(f"{switch.why}.")),)


RULE = Rule(
    key="electric.no-switch",
    grade=Grade.DOUBTFUL,
    title="No switch for these states",
    unit="",
    why="Every state needs one position that feeds just its lamps.",
    cure="Let lamps share their states, leave a state out, use one on-off switch for each circuit, buy a rotary "
         "switch with more poles and enter it in your drawer, or let a small controller step the states at each press "
         "of a button (plan file: states_by under controller).",
    source="electric.switch: least poles and steering diodes, proved by the network's solve",
    look=_look,
)
