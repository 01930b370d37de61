"""Sealed before a test that belongs before it."""

from __future__ import annotations

from rushlight.findings._as_built import closed_at, log, place_of_first
from rushlight.findings._words import listed
from rushlight.findings.build._order import PRECEDENCE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

TOLD = ("fit_test", "wired_dry_fit", "soak", "photo", "leak_gate_2")
"""Gates right before the closing, which findings of their own look after."""


def _look(design: Design) -> tuple[Trouble, ...]:
    entries = log(design)
    closed = closed_at(entries)
    last = next((step.number for step in design.order.steps if step.key == "close"), None)
    if closed is None or last is None:
        return ()
    missing = [
        step.title for step in design.order.steps
        if step.kind == "gate" and step.number < last and step.key not in TOLD
        and ((at := place_of_first(entries, step.key)) is None or at > closed)
    ]
    if not missing:
        return ()
    names = listed([f"'{title}'" for title in missing])
    return (Trouble(item="close", says=f"The model is closed, and the log does not show {names} before it."),)


RULE = Rule(
    key="build.closed-untested",
    grade=Grade.DOUBTFUL,
    title="Closed before a test",
    unit="",
    why="A fault that one of these tests would have shown is now out of reach.",
    cure="Run what can still be run from outside (all states, supply current), and note the readings.",
    source=PRECEDENCE,
    look=_look,
)
