"""A step that was done before one that it needs."""

from __future__ import annotations

from rushlight.findings.build._order import PRECEDENCE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.tables import rows

TOLD = frozenset({
    ("tube_on", "solder"), ("shrink", "fit_led"), ("cut_fibre", "join_bundle"), ("paint", "trim"),
    ("mask_clear", "prime"), ("paint", "unmask"), ("wired_dry_fit", "close"), ("soak", "close"),
    ("leak_gate", "reflect_coat"), ("leak_gate_2", "close"), ("test_parts", "cut_wire"), ("bench_test", "fit_led"),
    ("photo", "close"), ("fit_test", "close"),
})
"""Pairs that findings of their own look after."""

PAPER = ("plan", "buy", "measure", "dry_fit", "wash")
"""Steps at the desk that few will enter in the log."""


def _look(design: Design) -> tuple[Trouble, ...]:
    if not design.plan.as_built:
        return ()
    return tuple(
        trouble for row in rows("build_precedence")
        if row["strength"] == "hard" and (row["before"], row["after"]) not in TOLD and row["before"] not in PAPER
        and row["after"] != "close"
        for trouble in pair_troubles(design, row["before"], row["after"], cure=_cure(row["why"]))
    )


def _cure(why: str) -> str:
    because = f" ({why})" if why else ""
    return f"Do it now if it can still be reached{because}; if it was done, enter it in the log before this one."


RULE = Rule(
    key="build.out-of-order",
    grade=Grade.WILL_FAIL,
    title="Done before a step that it needs",
    unit="",
    why="Each of these pairs stands in the order of work because the second step spoils or hides the first.",
    cure="Do the first step now if it can still be reached.",
    source=PRECEDENCE,
    look=_look,
)
