"""A light on a reference picture that no lamp of the plan stands for."""

from __future__ import annotations

from rushlight.findings._words import Entry
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Mark, Plan, Reference
from rushlight.stages.evidence import EVEN_CHANCE


def _look(design: Design) -> tuple[Trouble, ...]:
    plan = design.plan
    named = _named(plan)
    return tuple(
        _trouble(picture, mark)
        for picture in plan.references if _shows(plan, picture)
        for mark in picture.marks
        if mark.lamp is None and (picture.name, mark.name) not in named
    )


def _shows(plan: Plan, picture: Reference) -> bool:
    return not picture.versions or plan.version is None or plan.version in picture.versions


def _named(plan: Plan) -> set[tuple[str | None, str | None]]:
    """Marks that some lamp, row or strip gives as its evidence, left out or not."""
    written: tuple[Entry, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    return {(row.of, row.mark) for entry in written for row in entry.evidence}


def _trouble(picture: Reference, mark: Mark) -> Trouble:
    unsure = mark.certainty < EVEN_CHANCE
    colour = f" ({mark.colour})" if mark.colour else ""
    return Trouble(
        item=mark.name, grade=Grade.COULD_BE_BETTER if unsure else None,
        says=f"The picture '{picture.name}' shows '{mark.name}'{colour} at {mark.at_px[0]:.0f}, {mark.at_px[1]:.0f} "
             f"px, {100 * mark.certainty:.0f} % sure, and no lamp stands for it.",
    )


RULE = Rule(
    key="plan.mark-without-lamp",
    grade=Grade.DOUBTFUL,
    title="Light on a picture without a lamp",
    unit="",
    why="A light that the picture shows is missing from the model.",
    cure="Add a lamp for it, or name the lamp in the mark; a lamp with worth: left out settles it too.",
    source="common practice, no source",
    look=_look,
)
