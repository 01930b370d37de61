"""The shopping list."""

from __future__ import annotations

from rushlight.model.design import Design, ShoppingLine
from rushlight.model.sheet import Cell, Column, Sheet, Table
from rushlight.sheets.amounts import amount, range_words, sentence


def draw(design: Design) -> tuple[Sheet, ...]:
    """What to buy, grouped."""
    return (Sheet("shopping", "Shopping list", (shopping_table(design),)),)


def shopping_table(design: Design) -> Table:
    """One line a thing."""
    columns = (
        Column("group", "Group"), Column("name", "What", wide=True), Column("needed", "Needed", align="right"),
        Column("spare", "Spare", align="right"), Column("unit", "Unit"), Column("pack", "Sold in", align="right"),
        Column("packs", "Packs", align="right", decimals=0), Column("cost", "Rough cost", "euro", "right"),
        Column("note", "Note"), Column("have", "Have"),
    )
    lines = design.shopping.lines
    rows = tuple(_row(line, k == 0 or lines[k - 1].group != line.group) for k, line in enumerate(lines))
    total = range_words(design.shopping.total_eur, "euro")
    caption = f"In all roughly {total}: street prices, from memory. What you have in the drawer costs nothing."
    return Table("shopping", "", columns, rows, caption)


def _row(line: ShoppingLine, first: bool) -> tuple[Cell, ...]:
    return (
        sentence(line.group) if first else "", line.name, amount(line.needed, digits=3), amount(line.spare), line.unit,
        amount(line.pack, digits=3), line.packs, range_words(line.cost_eur), line.note, "",
    )
