"""A switch whose table failed its own proof."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    if switch is None or switch.proved or switch.part_row is None:
        return ()
    return (Trouble(item=switch.name, says=capital(f"{switch.name} does not bring up every state: {switch.why}.")),)


RULE = Rule(
    key="electric.switch-unproved",
    grade=Grade.WILL_FAIL,
    title="Switch table not proved",
    unit="",
    why="Every position is solved with the real diodes and contacts, and one of them lights the wrong lamps.",
    cure="Do not solder by this table: use one on-off switch for each circuit.",
    source="the network's solve of every position: which lamps light",
    look=_look,
)
