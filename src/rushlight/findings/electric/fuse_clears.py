"""A short at the far end that draws too little to open the fuse."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric._words import ma
from rushlight.findings.electric.wire_over_limit import alone_a
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    if supply is None or supply.fuse_a is None or not design.loom.leads:
        return ()
    times = design.drawer.habit("fuse_clears").low or 2.1
    needed = times * supply.fuse_a
    if supply.short_a >= needed:
        return ()
    hard = min(alone_a(design, lead) for lead in design.loom.leads)
    warm = supply.short_a > hard
    after = "more than the thinnest lead bears, so it stays hot" if warm else "which the thinnest lead bears"
    return (Trouble(
        item=supply.fuse or "fuse", number=supply.short_a, limit=needed, grade=Grade.DANGEROUS if warm else None,
        says=f"A short at the far end draws {ma(supply.short_a)}, {after}; the fuse of {plain(supply.fuse_a)} A "
             "opens in "
             f"good time from {ma(needed)} on.",
        cure=f"Use a fuse of {plain(supply.short_a / times)} A or less, thicker wire, or a fuse for each branch.",
    ),)


RULE = Rule(
    key="electric.fuse-clears",
    grade=Grade.DOUBTFUL,
    title="A short may not open the fuse",
    unit="A",
    why="The cells and the thin leads limit a short at the far end; a fuse needs about twice its rating to open.",
    cure="Use a smaller fuse or thicker wire.",
    source="IEC 60127 time limit at 2.1 times the rating (from memory)",
    look=_look,
)
