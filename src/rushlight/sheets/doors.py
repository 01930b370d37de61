"""Doors before lit openings: how they stand in each state, and what is seen past them."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Cell, Column, Table
from rushlight.sheets.amounts import amount, compressed
from rushlight.stages.poses import LitDoor, lit_doors


def door_blocks(design: Design) -> list[Block]:
    """One table; nothing where no lit opening has a door."""
    found = lit_doors(design)
    if not found:
        return []
    columns = (
        Column("opening", "Opening", wide=True), Column("door", "Door"), Column("state", "In"),
        Column("stands", "Stands", wide=True), Column("seen_percent", "Seen of it", "%", "right", 0),
        Column("out_percent", "Light that gets out", "%", "right", 0), Column("lamps", "Lit behind it", wide=True),
    )
    caption = "Looked at square on. What a door keeps in goes on lighting the room."
    return [Table("light-doors", "Doors", columns, tuple(_row(row) for row in found), caption)]


def _row(row: LitDoor) -> tuple[Cell, ...]:
    assert row.opening.door is not None
    unit = "deg" if row.opening.door.moves == "turns" else "mm"
    passes = row.doorway.passes if row.doorway.seen > 0.0 else 0.0
    stands = f"{row.pose}, {amount(row.value, unit, 3)}"
    return (f"{row.part}: {row.opening.name}", row.opening.door.part, row.state, stands,
            100 * row.doorway.seen, 100 * passes, compressed(lamp.name for lamp in row.lamps))
