"""A bundle joined to its LED before its fibres were cut square and polished."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "cut_fibre", "join_bundle")


RULE = Rule(
    key="build.fibre-end",
    grade=Grade.WILL_FAIL,
    title="Bundle joined before its end was polished",
    unit="",
    why="A rough end scatters a good part of the light before it is in the fibre.",
    cure="Take the bundle off the LED, cut all ends square together and polish them.",
    source=PRACTICE,
    practice="fibre_end",
    look=_look,
)
