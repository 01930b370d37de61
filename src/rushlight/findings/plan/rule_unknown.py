"""A state whose rule the tables do not know for this subject."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.rule_check import unknown_rules


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=state, says=f"The rule of the state '{state}' cannot be checked. {_ended(capital(reason))}")
        for state, reason in unknown_rules(design.plan)
    )


def _ended(reason: str) -> str:
    return reason if reason.endswith((".", "?")) else f"{reason}."


RULE = Rule(
    key="plan.rule-unknown",
    grade=Grade.COULD_BE_BETTER,
    title="Rule of a state is not known",
    unit="",
    why="The lamps of that state are not compared with what the subject must show.",
    cure="Use a state that rushlight lights names for this subject, and give its length where the rule depends on it.",
    source="the tables of lights for ships, aircraft, road, rail and sea marks",
    look=_look,
)
