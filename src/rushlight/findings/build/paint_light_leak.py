"""Painted or glued over without a look for light leaks."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*pair_troubles(design, "leak_gate", "reflect_coat"), *pair_troubles(design, "leak_gate_2", "close"))


RULE = Rule(
    key="build.paint-light-leak",
    grade=Grade.DOUBTFUL,
    title="No look for light leaks",
    unit="",
    why="Leaks are mended from inside; after the next coat, or the glue, only from outside.",
    cure="Look at it in a dark room with a lamp inside after the black coat, and again taped shut.",
    source=PRACTICE,
    practice="paint_light_leak",
    look=_look,
)
