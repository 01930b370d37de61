"""A plug that goes in either way round."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.electric._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

KEYED = ("locking", "barrel", "USB")
"""Connectors that go in one way only, by the first word of their name."""


def _look(design: Design) -> tuple[Trouble, ...]:
    loose = [plug for plug in design.loom.plugs if plug.contacts > 1 and not plug.connector.startswith(KEYED)]
    if not loose:
        return ()
    names = [plug.name for plug in loose]
    verb = "goes" if len(names) == 1 else "go"
    return (Trouble(item=names[0], says=capital(f"{listed(names)} ({loose[0].connector}) {verb} in either way "
                                                "round.")),)


RULE = Rule(
    key="electric.polarity",
    grade=Grade.DOUBTFUL,
    title="Plug without a key",
    unit="",
    why="A reversed supply drives LEDs beyond the 5 V or so that they bear backwards, and kills drivers at once.",
    cure="Use a connector with a key; or pull one pin and block its hole, and mark plus on both halves.",
    source=PRACTICE + "; LED data sheet reverse voltage, often 5 V",
    practice="polarity",
    caution="polarity",
    look=_look,
)
