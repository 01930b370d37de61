"""A signal light that the subject's rule does not have in that state."""

from __future__ import annotations

from rushlight.findings._rules import SOURCE, rule_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return rule_troubles(design, "extra")


RULE = Rule(
    key="plan.rule-light-extra",
    grade=Grade.DOUBTFUL,
    title="Light that the rule does not have",
    unit="",
    why="A signal light too many says something else about the subject.",
    cure="Take the state off the lamp; if it is no signal light, place it in a room or give it a white colour.",
    source=SOURCE,
    look=_look,
)
