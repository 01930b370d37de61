"""A light of the rule that flashes otherwise than the rule asks."""

from __future__ import annotations

from rushlight.findings._rules import SOURCE, rule_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return rule_troubles(design, "wrong rhythm")


RULE = Rule(
    key="plan.rule-light-rhythm",
    grade=Grade.DOUBTFUL,
    title="Light of a wrong rhythm",
    unit="",
    why="A signal light is known by its rhythm; another one says another thing, or is no signal at all.",
    cure="Give the lamp the rule's rhythm.",
    source=SOURCE,
    look=_look,
)
