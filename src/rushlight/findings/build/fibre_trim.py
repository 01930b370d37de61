"""Fibres trimmed before the last coat of paint."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "paint", "trim")


RULE = Rule(
    key="build.fibre-trim",
    grade=Grade.WILL_FAIL,
    title="Fibres trimmed before the paint",
    unit="",
    why="Paint covers an end that is flush with the skin; a stub is cut clean through the paint.",
    cure="Polish the paint off each end with a fine stick, or trim a trace deeper.",
    source=PRACTICE,
    practice="fibre_trim",
    look=_look,
)
