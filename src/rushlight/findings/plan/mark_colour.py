"""A lamp of another colour than the picture shows."""

from __future__ import annotations

import math

from rushlight.findings._words import Entry, entries, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Mark, Reference
from rushlight.stages.lamps import colour_of
from rushlight.stages.sources.common import SAME_COLOUR_XY


def _look(design: Design) -> tuple[Trouble, ...]:
    built = {entry.name: entry for entry in entries(design)}
    version = design.plan.version
    return tuple(
        _trouble(design, built[mark.lamp], picture, mark)
        for picture in design.plan.references
        if not picture.versions or version is None or version in picture.versions
        for mark in picture.marks
        if mark.lamp in built and mark.colour and not _alike(mark.colour, built[mark.lamp].colour)
    )


def _alike(seen: str, planned: str) -> bool:
    """A picture's tint is never sure: three times the difference that two parts of one colour may have."""
    a, b = colour_of(seen), colour_of(planned)
    return math.dist((a.x, a.y), (b.x, b.y)) <= 3 * SAME_COLOUR_XY


def _trouble(design: Design, entry: Entry, picture: Reference, mark: Mark) -> Trouble:
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name),
        says=f"'{entry.name}' is {entry.colour}; on '{picture.name}' the mark '{mark.name}' is {mark.colour}.",
    )


RULE = Rule(
    key="plan.mark-colour",
    grade=Grade.DOUBTFUL,
    title="Colour differs from the picture",
    unit="",
    why="Either the lamp or the mark is wrong, and a wrong colour is seen before anything else.",
    cure="Look at the picture again, and correct the lamp's colour or the mark's.",
    source="CIE 1931 x, y more than 0.15 apart (project proposal: pictures shift colours)",
    look=_look,
)
