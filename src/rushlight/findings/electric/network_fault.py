"""What makes the network unsolvable, or unsafe to switch on, in words."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

NO_SUPPLY = "the plan names no supply"
"""Told by a finding of its own."""


def _look(design: Design) -> tuple[Trouble, ...]:
    placed = any(lamp.states and lamp.spot for lamp in design.lamps)
    words = [text for text in design.power.faults if text != NO_SUPPLY and placed]
    return tuple(
        Trouble(item="network", says=capital(text).rstrip(".") + ".",
                grade=Grade.DANGEROUS if "short-circuited" in text else None)
        for text in words
    )


RULE = Rule(
    key="electric.network-fault",
    grade=Grade.WILL_FAIL,
    title="Fault in the wiring",
    unit="",
    why="The currents follow from the wiring as it is drawn, and as drawn it cannot work.",
    cure="Mend what the finding names, then look again; do not connect the supply before.",
    source=NETWORK,
    look=_look,
)
