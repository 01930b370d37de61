"""A lamp that the plan gives no reason for."""

from __future__ import annotations

from rushlight.findings._words import entries, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=entry.name, spot=spot_of(design, entry.name), says=f"No evidence speaks for '{entry.name}'.")
        for entry in entries(design)
        if not any(evidence.says == "for" for evidence in entry.evidence)
    )


RULE = Rule(
    key="plan.lamp-without-evidence",
    grade=Grade.DOUBTFUL,
    title="Lamp without evidence",
    unit="",
    why="A lamp that rests on nothing may be one that the subject never had, and its hole cannot be undone.",
    cure="Add the rule, picture, drawing or text that shows it; if it is a guess, say so with kind: guess.",
    source="common practice, no source",
    look=_look,
)
