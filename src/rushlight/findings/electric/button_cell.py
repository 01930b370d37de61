"""A coin cell behind a hatch that opens without a tool."""

from __future__ import annotations

from rushlight.findings.electric._words import bay_of, cells_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

EASY = ("magnet hatch", "open")


def _look(design: Design) -> tuple[Trouble, ...]:
    cells, bay = cells_of(design), bay_of(design)
    if cells is None or bay is None or not design.drawer.cell(cells.cell).coin or bay.access not in EASY:
        return ()
    how = "is open" if bay.access == "open" else "opens by a pull at its magnets"
    return (Trouble(item=bay.name, says=f"The bay '{bay.name}' {how}, and a {cells.cell} cell is in it."),)


RULE = Rule(
    key="electric.button-cell",
    grade=Grade.DANGEROUS,
    title="Coin cell behind a hatch without a tool",
    unit="",
    why="A swallowed coin cell burns a child within two hours; emergency care is needed at once.",
    cure="Hold the hatch with a screw (screwed hatch), or with a catch that takes two moves at once; keep spares "
         "locked "
         "away.",
    source="ANSI/UL 4200A-2023 (16 CFR 1263)",
    practice="magnets",
    caution="button_cell",
    look=_look,
)
