"""Sealed before a step that is lost by it."""

from __future__ import annotations

from rushlight.findings._as_built import closed_at, log, place_of_first
from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    entries = log(design)
    closed = closed_at(entries)
    if closed is None:
        return ()
    lost = [
        step for step in design.order.steps
        if step.after_close and step.after_close.startswith("lost") and step.kind != "gate"
        and ((at := place_of_first(entries, step.key, step.part)) is None or at > closed)
    ]
    if not lost:
        return ()
    names = listed([f"'{step.title}'" + (f" on '{step.part}'" if step.part else "") for step in lost])
    return (Trouble(item="close", says=f"The model is closed, and the log does not show {names} before it."),)


RULE = Rule(
    key="build.lost-after-close",
    grade=Grade.WILL_FAIL,
    title="Closed before a step that cannot follow",
    unit="",
    why="What the halves hide cannot be drilled, painted, soldered or laid any more.",
    cure="If it was done, enter it in the log; if not, open the seam again while the glue is fresh.",
    source="common practice in what is reached once it is closed, no source",
    look=_look,
)
