"""A light that the subject's rule asks for, and the plan lacks."""

from __future__ import annotations

from rushlight.findings._rules import SOURCE, rule_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return rule_troubles(design, "missing")


RULE = Rule(
    key="plan.rule-light-missing",
    grade=Grade.DOUBTFUL,
    title="Light of the rule is missing",
    unit="",
    why="A subject in that state shows this light, and someone who knows the rule will miss it.",
    cure="Add the lamp (rushlight lights lists it), or correct the state's rule, length or propulsion.",
    source=SOURCE,
    look=_look,
)
