"""A fuse that lets the thinnest wire carry more than it bears."""

from __future__ import annotations

from rushlight.electric.wire import bundled_a
from rushlight.findings._words import plain
from rushlight.findings.electric._words import cells_of, ma
from rushlight.findings.electric.wire_over_limit import alone_a
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    if supply is None or supply.fuse_a is None or not design.loom.leads:
        return ()
    thinnest = min(design.loom.leads, key=lambda lead: design.drawer.wire(lead.wire).loom_limit_a)
    limit = design.drawer.wire(thinnest.wire).loom_limit_a
    if supply.fuse_a <= limit:
        return ()
    return (_trouble(design, thinnest, supply.fuse_a, limit),)


def _trouble(design: Design, thinnest: Lead, fuse_a: float, limit: float) -> Trouble:
    hard = alone_a(design, thinnest)
    over = fuse_a > hard
    more = f", and over the {ma(hard)} that it bears alone in free air" if over else ""
    dangerous = over and cells_of(design) is not None
    return Trouble(
        item=f"fuse of {plain(fuse_a)} A", number=fuse_a, limit=limit,
        grade=Grade.DANGEROUS if dangerous else Grade.DOUBTFUL if over else None,
        says=f"The fuse of {plain(fuse_a)} A is over the {ma(limit)} that {thinnest.wire} bears in a loom{more}.",
        cure=_cure(design, fuse_a),
    )


def _cure(design: Design, fuse_a: float) -> str:
    gauges = [gauge for gauge in range(30, 16, -2) if bundled_a(gauge) >= fuse_a]
    wire = f"use {gauges[0]} AWG for all leads" if gauges else "use thicker wire"
    share = design.drawer.habit("fuse_headroom").high or 0.75
    least = max((state.bench_a.high for state in design.power.states), default=0.0) / share
    ratings = sorted({fuse.rating_a for fuse in design.drawer.fuses if least <= fuse.rating_a < fuse_a})
    smaller = f"Take a fuse of {plain(ratings[0])} A, which this load lets you, or" if ratings else "Either"
    return f"{smaller} {wire}, or give each branch a fuse of its own."


RULE = Rule(
    key="electric.fuse-over-wire",
    grade=Grade.COULD_BE_BETTER,
    title="Fuse larger than the thinnest wire bears",
    unit="A",
    why="A fault that draws just under the fuse's rating heats the thinnest lead and never opens the fuse.",
    cure="Use a smaller fuse, thicker wire, or a fuse for each branch.",
    source="700 circular mils an ampere (common practice); IEC 60127 (from memory)",
    look=_look,
)
