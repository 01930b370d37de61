"""Clear parts that were not masked before paint, or unmasked too soon."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*pair_troubles(design, "mask_clear", "prime"), *pair_troubles(design, "paint", "unmask"))


RULE = Rule(
    key="build.clear-masked",
    grade=Grade.WILL_FAIL,
    title="Clear parts not masked in time",
    unit="",
    why="Paint on a clear part never comes off it whole; the inner face is out of reach later.",
    cure="Mask inside and outside before priming, and unmask after the last coat.",
    source=PRACTICE,
    practice="clear_masked",
    look=_look,
)
