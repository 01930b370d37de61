"""Tube shrunk after the LEDs were fitted into the model."""

from __future__ import annotations

from rushlight.findings.build._order import PRECEDENCE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "shrink", "fit_led")


RULE = Rule(
    key="build.shrink-in-model",
    grade=Grade.WILL_FAIL,
    title="Tube shrunk inside the model",
    unit="",
    why="The heat that shrinks tube softens styrene at a touch and lets acrylic fibre shrink back.",
    cure="Shrink joints out of the model; where it is too late, shield the part, use short passes and let it cool.",
    source=PRECEDENCE + "; AMS-DTL-23053/5 and ISO 75, from memory",
    caution="heat_gun",
    look=_look,
)
