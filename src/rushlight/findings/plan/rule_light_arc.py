"""A light of the rule that shows over another sector."""

from __future__ import annotations

from rushlight.findings._rules import SOURCE, rule_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return rule_troubles(design, "wrong arc")


RULE = Rule(
    key="plan.rule-light-arc",
    grade=Grade.DOUBTFUL,
    title="Light over a wrong arc",
    unit="",
    why="The arc tells from which side the subject is seen; a wrong one shows two lights where there should be one.",
    cure="Give the lamp the rule's arc (plan file: arc_deg).",
    source=SOURCE,
    look=_look,
)
