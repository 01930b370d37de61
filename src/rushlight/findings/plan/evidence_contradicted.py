"""A lamp against which at least as much speaks as for it."""

from __future__ import annotations

from rushlight.findings._words import Entry, entries, listed, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.evidence import belief


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, entry)
        for entry in entries(design)
        if belief(entry.evidence, "against") >= max(belief(entry.evidence, "for"), 1e-9)
    )


def _trouble(design: Design, entry: Entry) -> Trouble:
    against, sure = belief(entry.evidence, "against"), belief(entry.evidence, "for")
    witnesses = [row.of or row.kind for row in entry.evidence if row.says == "against"]
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name),
        says=f"Against '{entry.name}' stand {plain(100 * against)} % ({listed(witnesses)}), for it {plain(100 * sure)} "
             "%.",
    )


RULE = Rule(
    key="plan.evidence-contradicted",
    grade=Grade.DOUBTFUL,
    title="Evidence contradicts the lamp",
    unit="",
    why="What speaks against the lamp weighs as much as what speaks for it.",
    cure="Find out whether the two show the same version of the subject; else set the lamp's worth to left out.",
    source="chance that at least one of several independent witnesses is right (project proposal)",
    look=_look,
)
