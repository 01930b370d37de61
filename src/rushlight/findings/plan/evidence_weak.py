"""A lamp whose evidence, all together, leaves it more likely absent than present."""

from __future__ import annotations

from rushlight.findings._words import entries, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.evidence import EVEN_CHANCE, belief


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for entry in entries(design):
        sure = belief(entry.evidence, "for")
        if any(row.says == "for" for row in entry.evidence) and sure < EVEN_CHANCE:
            found.append(Trouble(
                item=entry.name, spot=spot_of(design, entry.name), number=100 * sure, limit=100 * EVEN_CHANCE,
                says=f"The evidence for '{entry.name}' comes to {plain(100 * sure)} % together; "
                     f"{plain(100 * EVEN_CHANCE)} % is an even chance.",
            ))
    return tuple(found)


RULE = Rule(
    key="plan.evidence-weak",
    grade=Grade.DOUBTFUL,
    title="Evidence too weak",
    unit="%",
    why="More likely than not the subject had no such lamp.",
    cure="Look for a second picture or text, or set the lamp's worth to left out.",
    source="chance that at least one of several independent witnesses is right; the even chance is a project proposal",
    look=_look,
)
