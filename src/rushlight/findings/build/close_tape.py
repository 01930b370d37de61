"""Glued shut without a night under tape."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "soak", "close")


RULE = Rule(
    key="build.close-tape",
    grade=Grade.DOUBTFUL,
    title="Glued before a run under tape",
    unit="",
    why="Early failures show in the first hours; behind tape they can still be reached.",
    cure="Tape it shut, run it, live with it a night, then glue.",
    source=PRACTICE,
    practice="close_tape",
    look=_look,
)
