"""Coats against light through walls: how many of black, silver and white in which room, and in which order."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design_light import CoatsIn, Paint
from rushlight.model.sheet import Cell, Column, Table
from rushlight.sheets.amounts import sentence
from rushlight.stages.coats import MOST_COATS, order_words
from rushlight.stages.leaks import ROOMS


def coat_table(design: Design) -> Table:
    """Of each wall that is seen, or may be, in one room or another: what paint does."""
    columns = (
        Column("part", "Part"), Column("coat", "More coats of"),
        *(Column(room.replace(" ", "_"), f"In a {room}", wide=True) for room in ROOMS),
        Column("order", "From the wall in, for the plan's room", wide=True),
    )
    rows = tuple(_row(leak.part, paint) for leak in design.light.leaks for paint in leak.paints)
    caption = ("So many more coats than the plan has, by usual figures of light, wall and paint, and at the worst of "
               "all of them; your own readings of wall and coat narrow it. Black goes on before silver, silver before "
               "white: with black on top the inside is dark.")
    return Table("light-coats", "Coats against light through walls", columns, rows, caption)


def _row(part: str, paint: Paint) -> tuple[Cell, ...]:
    order = sentence(order_words(paint.order)) if paint.order else "Not with this paint alone"
    return (part, paint.coat, *(coats_words(room) for room in paint.rooms), order)


def coats_words(row: CoatsIn) -> str:
    """'none', '2; 4 at the worst', 'over 12: foil'."""
    if row.usual is None:
        return f"over {MOST_COATS}: foil"
    usual = str(row.usual or "none")
    if row.sure == row.usual:
        return usual
    return f"{usual}; {f'over {MOST_COATS}' if row.sure is None else row.sure} at the worst"
