"""Cells that can give a dangerous current, without a fuse."""

from __future__ import annotations

from rushlight.findings.electric._words import cells_of, ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply, plan = design.power.supply, cells_of(design)
    if supply is None or plan is None or supply.fuse_a is not None or design.drawer.cell(plan.cell).coin:
        return ()
    running = max((state.bench_a.high for state in design.power.states), default=0.0)
    return (Trouble(
        item=supply.name,
        says=f"No fuse of the drawer bears the {ma(running)} of this loom, and a short would draw {ma(supply.short_a)} "
             f"from {supply.name}.",
        cure="Name a fuse in the plan (plan file: fuse_a), split the loom into branches with a fuse each, or lower the "
             "currents.",
    ),)


RULE = Rule(
    key="electric.fuse-missing",
    grade=Grade.DANGEROUS,
    title="No fuse at the cells",
    unit="",
    why="A short in a thin lead makes it glow; a coin cell limits itself, other cells do not.",
    cure="Put a fuse or resettable fuse right at the plus of the cells.",
    source="IEC 60127 (from memory)",
    caution="fuse",
    look=_look,
)
