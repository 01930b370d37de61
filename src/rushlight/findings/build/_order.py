"""Pairs of steps of which one must come before the other: in the design's order, and in the log of what was done."""

from __future__ import annotations

from rushlight.findings._as_built import Logged, log, place_of_first
from rushlight.findings._words import listed
from rushlight.model.design import Design, Step
from rushlight.model.finding import Grade, Trouble

PRACTICE = "common practice of the trade, no source"
PRECEDENCE = "common practice in what comes before what, no source"


def pair_troubles(design: Design, before: str, after: str, *, cure: str = "") -> tuple[Trouble, ...]:
    """Where a step comes before one that it needs.

    Parameters
    ----------
    design : Design
        Its order and its log are read.
    before, after : str
        Keys of the two steps.
    cure : str
        What to do about it; the rule's own where it is left out.
    Returns
    -------
    tuple of Trouble
        Nothing where this build lacks one of the steps.
    """
    early = [step for step in design.order.steps if step.key == before]
    late = [step for step in design.order.steps if step.key == after]
    if not early or not late:
        return ()
    entries = log(design)
    planned = _planned(early, late, cure)
    done = [
        trouble for place, entry in enumerate(entries) if _is(entry, after)
        if (trouble := _logged(entries, place, early, late[0], cure)) is not None
    ]
    return (*planned, *done[:1])


def _is(entry: Logged, key: str) -> bool:
    """Whether an entry tells of a step; one that sealed the model counts as the closing."""
    return entry.key == key or (key == "close" and entry.done.sealed)


def _planned(early: list[Step], late: list[Step], cure: str) -> list[Trouble]:
    """Steps of the order that stand the wrong way round."""
    wrong = [
        (first, second) for first in early for second in late
        if first.number > second.number and (None in (first.part, second.part) or first.part == second.part)
    ]
    return [
        Trouble(item=second.title, cure=cure,
                says=f"Step {second.number}, '{second.title}', comes before step {first.number}, '{first.title}'.")
        for first, second in wrong[:1]
    ]


def _logged(
    entries: tuple[Logged, ...], place: int, early: list[Step], late: Step, cure: str
) -> Trouble | None:
    """What the log lacks before one of its entries."""
    part = entries[place].done.part
    own = [step for step in early if part is None or step.part in (None, part)]
    found = {step: place_of_first(entries, step.key, step.part) for step in own}
    missing = [step for step, at in found.items() if at is None or at > place]
    if not missing:
        return None
    where = f" on '{part}'" if part else ""
    parts = [f"'{step.part}'" for step in missing if step.part]
    still = f" on {listed(parts)}" if parts and part is None else ""
    came_later = all(found[step] is not None for step in missing)
    what = "came after it" if came_later else "is not in the log before it"
    return Trouble(
        item=part or late.title, cure=cure, grade=None if came_later else Grade.DOUBTFUL,
        says=f"'{late.title}' is done{where}, and '{missing[0].title}'{still} {what}.",
    )
