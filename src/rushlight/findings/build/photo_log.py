"""Stages that were covered without a photograph."""

from __future__ import annotations

from rushlight.findings._as_built import log
from rushlight.findings._words import capital, listed
from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*_hidden(design), *pair_troubles(design, "photo", "close"))


def _hidden(design: Design) -> tuple[Trouble, ...]:
    hides = {step.key: step.title for step in design.order.steps if step.photograph and step.key != "close"}
    bare = list(dict.fromkeys(row.key for row in log(design) if row.key in hides and not row.done.photo))
    if not bare:
        return ()
    verb = "is" if len(bare) == 1 else "are"
    names = listed([f"'{hides[key]}'" for key in bare])
    return (Trouble(item=hides[bare[0]], grade=Grade.COULD_BE_BETTER,
                    says=capital(f"{names} {verb} done, without a photograph in the log.")),)


RULE = Rule(
    key="build.photo-log",
    grade=Grade.DOUBTFUL,
    title="Covered without a photograph",
    unit="",
    why="After close-up photographs are the only record of where everything runs.",
    cure="Photograph every stage before it is covered, and enter the file with its step.",
    source=PRACTICE,
    practice="photo_log",
    look=_look,
)
