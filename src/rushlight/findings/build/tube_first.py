"""A joint soldered before its tube was on the lead."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "tube_on", "solder")


RULE = Rule(
    key="build.tube-first",
    grade=Grade.WILL_FAIL,
    title="Soldered before the tube was on",
    unit="",
    why="A tube does not pass a finished joint; without it the joint lies bare.",
    cure="Unsolder one lead, slide the tube on, solder again; tape is the second best.",
    source=PRACTICE,
    practice="tube_first",
    look=_look,
)
