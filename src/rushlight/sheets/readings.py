"""What to measure first: the guesses that the answers hang on most."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Cell, Column, Table
from rushlight.sheets.amounts import amount, range_words, sentence
from rushlight.stages.measured import Found, found_by, put_in, reckoned_in_order
from rushlight.stages.readings import Reading, readings_of
from rushlight.tables import row_by
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
    if column == "led voltage":
        return f"{row}: forward voltage at the current that it is told for"
    if column == "fibre end":
        return f"A fibre's {row.replace('_', ' ')} end: loss"
    if column == "fibre length":
        return f"{row}: loss in its length"
    if column == "fibre bend":
        return f"{row}: what its bends lose, in times of the law"
    if column == "room paint":
        return "Paint of rooms boxed in: what it throws back"
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
    """What to measure first, a form to write it down on, and what was read; nothing where nothing is left to guess."""
    found = readings_of(design)[:MOST_ROWS]
    taken = taken_words(design)
    blocks: list[Block] = [_first(found), _form(found)] if found else []
    return [*blocks, _taken(taken)] if taken else blocks


def _first(found: tuple[Reading, ...]) -> Table:
    columns = (
        Column("measure", "Measure", wide=True), Column("how", "How", wide=True),
        Column("lamps", "Answers", align="right", decimals=0),
        Column("undecided", "Undecided", align="right", decimals=0),
        Column("stops", "Narrows by", "stops", "right", 1), Column("example", "Such as", wide=True),
        Column("place", "Where it goes", wide=True),
    )
    caption = ("The first narrows the answers most. Answers: how many it narrows. Undecided: those of which the "
               "range lies on both sides of a limit, so that a finding hangs on the reading. A stop is a factor of "
               "two, added up over the answers.")
    return Table("light-readings", "What to measure first", columns, tuple(map(_row, found)), caption)


def _form(found: tuple[Reading, ...]) -> Table:
    """Empty cells to write into with a pencil; what is measured is named at its first line."""
    columns = (Column("measure", "Measure", wide=True), Column("write", "Write down", wide=True),
               Column("read", "Read", wide=True), Column("error", "Error of the method", wide=True))
    cells = [(sentence(guess_words(row.table, row.row, row.column)) if number == 0 else "", what, "", error)
             for row in found for number, (what, error) in enumerate(_to_write(row))]
    return Table("light-readings-form", "To write down at the bench", columns, tuple(cells))


def _to_write(row: Reading) -> list[tuple[str, str]]:
    """What one measurement asks to be written down, a line each; its error stands at the first."""
    method = row_by("bench_methods", "what", row.method)
    words = [method[key] for key in ("readings", "against") if method[key]]
    words += ["lux through two sheets"] if "two" in method["may"].split(";") else []
    words += [NEEDS[key] for key in method["must"].split(";") if key and key != "state"]
    return [(sentence(word), sentence(method["error"]) if n == 0 else "") for n, word in enumerate(words)]


NEEDS = {
    "distance_mm": "distance to the meter, mm", "length_mm": "length, mm", "thickness_mm": "thickness, mm",
    "fibre_mm": "width of the test piece, mm", "count": "how many coats", "led": "the LED that lit it",
    "series_ohm": "the resistors, ohm, in the same order", "radius_mm": "radius of the bend, mm",
    "turn_deg": "how far it turned, degrees",
    "power_w": "volts times amperes of the feed",
}


def reading_lines(design: Design) -> list[str]:
    """What to measure first and what was measured, as lines for a terminal."""
    found, lines = readings_of(design)[:MOST_ROWS], []
    if not found:
        lines.append("No guess is left that a reading would narrow.")
    for number, row in enumerate(found, 1):
        *_, example, place = map(str, _row(row))
        lines += [f"{number}. {sentence(guess_words(row.table, row.row, row.column))}", f"   {row.measure}",
                  f"   Narrows {example}; in all by {amount(row.stops)} stops. Goes into the plan under {place}."]
    for what, read, comes in taken_words(design):
        lines.append(f"Measured: {what}, {read}. {'; '.join(comes)}.")
    return lines


def taken_words(design: Design) -> list[tuple[str, str, tuple[str, ...]]]:
    """Of each reading of the plan, in its order: what was measured of what, what the meter showed, what it comes to."""
    comes: dict[int, list[str]] = {}
    drawer = design.drawer
    for place in reckoned_in_order(design.plan.measured):
        for found in found_by(drawer, design.plan.measured[place]):
            drawer = put_in(drawer, found)
            comes.setdefault(place, []).append(found_words(found))
    return [(f"{one.what} of {one.of}", ", ".join(f"{value:g}" for value in one.readings), tuple(comes[place]))
            for place, one in enumerate(design.plan.measured)]


def found_words(found: Found) -> str:
    """What a reading comes to, with its range and unit."""
    unit = UNITS.get(found.column, "")
    value = range_words(found.value, unit)
    return f"{sentence(guess_words(found.table, found.row, found.column))}: {value}"


UNITS = {
    "intensity_mcd": "mcd", "flux_lm_per_m": "lm/m", "half_angle_deg": "degrees", "fibre end": "dB",
    "fibre length": "dB/m", "lamp": "cd", "hull warmth": "K", "hull power": "W", "led voltage": "V",
}


def _taken(taken: list[tuple[str, str, tuple[str, ...]]]) -> Table:
    columns = (Column("what", "Measured", wide=True), Column("read", "The meter showed", wide=True),
               Column("comes", "Which comes to", wide=True))
    rows = tuple((sentence(what), read, "; ".join(comes)) for what, read, comes in taken)
    return Table("light-readings-taken", "What you measured", columns, rows,
                 "The whole design reckons with these ranges in place of its guesses.")


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
