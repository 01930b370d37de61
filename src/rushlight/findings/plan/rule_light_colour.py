"""A light of the rule in a colour that it does not allow."""

from __future__ import annotations

from rushlight.findings._rules import SOURCE, rule_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return rule_troubles(design, "wrong colour")


RULE = Rule(
    key="plan.rule-light-colour",
    grade=Grade.DOUBTFUL,
    title="Light of a wrong colour",
    unit="",
    why="The colour is what tells one signal light from another.",
    cure="Give the lamp the rule's colour.",
    source=SOURCE,
    look=_look,
)
