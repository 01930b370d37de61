"""A coin cell for a load that it cannot give."""

from __future__ import annotations

from rushlight.findings.electric._words import NETWORK, cells_of, ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    supply, cells = design.power.supply, cells_of(design)
    if supply is None or cells is None or not design.drawer.cell(cells.cell).coin or not design.power.states:
        return ()
    worst = max(design.power.states, key=lambda state: state.supply_a.typical)
    most = worst.supply_a.typical
    if most <= supply.limit_a:
        return ()
    return (Trouble(
        item=supply.name, number=most * 1000, limit=supply.limit_a * 1000,
        says=f"In '{worst.state}' the lamps take {ma(most)}; {supply.name} bears {ma(supply.limit_a)} for any length "
             "of time.",
    ),)


RULE = Rule(
    key="electric.coin-cell",
    grade=Grade.WILL_FAIL,
    title="Load too heavy for a coin cell",
    unit="mA",
    why="Its inner resistance is tens of ohm: under such a load it sags at once and is empty in a fraction of its "
        "time.",
    cure="Use AAA or AA cells, or a small rechargeable cell with its protection board.",
    source=NETWORK + "; drain limits of the drawer, from memory",
    look=_look,
)
