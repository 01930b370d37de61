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
        Column("spare", "Spare", align="right"), Column("pack", "Sold by", align="right"),
        Column("packs", "Packs", align="right", decimals=0), Column("cost", "Rough cost", "euro", "right"),
        Column("note", "Note", wide=True), Column("have", "Have it"),
    )
    lines = design.shopping.lines
    rows = tuple(_row(line, k == 0 or lines[k - 1].group != line.group) for k, line in enumerate(lines))
    total = range_words(design.shopping.total_eur, "euro")
    caption = f"In all roughly {total}: street prices, from memory. What you have in the drawer costs nothing."
    return Table("shopping", "", columns, rows, caption)


def _row(line: ShoppingLine, first: bool) -> tuple[Cell, ...]:
    return (
        sentence(line.group) if first else "", line.name, _many(line.needed, line.unit),
        _many(line.spare, line.unit) if line.spare else "", _many(line.pack, line.unit), line.packs,
        range_words(line.cost_eur), sentence(line.note), "",
    )


def _many(count: float, unit: str) -> str:
    """A count without its unit where that is plain, a length with it."""
    return amount(count, digits=3) if unit == "pieces" else amount(count, unit)
