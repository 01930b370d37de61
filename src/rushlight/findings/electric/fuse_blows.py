"""A fuse that the running current brings too near to its rating."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    if supply is None or supply.fuse_a is None or not design.power.states:
        return ()
    worst = max(design.power.states, key=lambda state: state.bench_a.high)
    share = design.drawer.habit("fuse_headroom").high or 0.75
    least = worst.bench_a.high / share
    if least <= supply.fuse_a:
        return ()
    return (Trouble(
        item=supply.fuse or "fuse", number=supply.fuse_a, limit=least,
        grade=Grade.WILL_FAIL if worst.bench_a.high > supply.fuse_a else None,
        says=f"In '{worst.state}' the lamps take up to {ma(worst.bench_a.high)} through a fuse of "
             f"{plain(supply.fuse_a)} A, more than {share:.0%} of its rating.",
        cure=f"Use a fuse of {ma(least)} or the next size above, if the thinnest wire bears it.",
    ),)


RULE = Rule(
    key="electric.fuse-blows",
    grade=Grade.DOUBTFUL,
    title="Fuse too small for the load",
    unit="A",
    why="A fuse that runs near its rating ages and opens for no reason, or drops voltage as it warms.",
    cure="Use the next larger fuse that the thinnest wire bears.",
    source="IEC 60127 practice: run at 75 % of the rating at most",
    look=_look,
)
