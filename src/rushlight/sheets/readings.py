"""What to measure first: the guesses that the answers hang on most."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Cell, Column, Table
from rushlight.sheets.amounts import amount, sentence
from rushlight.stages.readings import Reading, readings_of
from rushlight.units import Range

MOST_ROWS = 8

WORDS = {
    "intensity_mcd": "intensity", "flux_lm_per_m": "light per metre", "transmittance": "what passes",
    "reflectance": "what it throws back", "transmittance_1mm": "what passes 1 mm", "density": "density of a coat",
    "half_angle_deg": "half angle",
}

STRAY = {
    "illuminator": "an LED with its bundle sleeved on", "led": "an LED in its hole, its back bare",
    "room": "an LED in a room", "strip": "a strip behind its opening",
}


def guess_words(table: str, row: str, column: str) -> str:
    """A guess in plain words."""
    if table == "habits":
        return "What a joint of LED and bundle keeps"
    if column == "fibre end":
        return f"A fibre's {row.replace('_', ' ')} end: loss"
    if column == "fibre length":
        return f"{row}: loss in its length"
    if column == "fibre bend":
        return f"{row}: what its bends lose, in times of the law"
    if column == "lamp":
        return f"Light of {row}"
    if column == "hull warmth":
        return f"How warm '{row}' gets: kelvin over the room"
    if column == "hull power":
        return f"Power burnt in '{row}'"
    if table == "bench":
        return f"Light set free inside by {STRAY[row]}"
    return f"{row}: {WORDS.get(column, column)}"


def reading_blocks(design: Design) -> list[Block]:
    """The table, or nothing where no guess about light is left."""
    found = readings_of(design)
    if not found:
        return []
    columns = (
        Column("measure", "Measure", wide=True), Column("how", "How", wide=True),
        Column("lamps", "Answers it narrows", align="right", decimals=0),
        Column("undecided", "Of these undecided", align="right", decimals=0),
        Column("stops", "Narrows by", "stops", "right", 1), Column("example", "Such as", wide=True),
        Column("place", "Where it goes", wide=True),
    )
    caption = ("The first narrows the answers most. Undecided: the range lies on both sides of a limit, so that a "
               "finding hangs on the reading. A stop is a factor of two, added up over the answers.")
    return [Table("light-readings", "What to measure first", columns, tuple(map(_row, found[:MOST_ROWS])), caption)]


def _row(row: Reading) -> tuple[Cell, ...]:
    place = f"measured: what {row.method}, of {row.of}" + (f", state {row.state}" if row.state else "")
    if row.table == "habits":
        place = f"measured: what {row.method}, of the LED that you tried it on"
    example = f"{row.most}: from {_times(row.before)} to {_times(row.after)}"
    return (sentence(guess_words(row.table, row.row, row.column)), sentence(row.measure), row.touched, row.undecided,
            row.stops, example, place)


def _times(value: Range) -> str:
    """How far apart the ends of a range lie, as a factor; beyond a thousand it is only told to be."""
    if value.low <= 0 or value.high / value.low > 1000:
        return "over 1000 times"
    return f"{amount(value.high / value.low)} times" if value.high > 1.01 * value.low else "one value"
