"""What to measure first: the guesses that the answers hang on most."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Cell, Column, Table
from rushlight.sheets.amounts import amount, range_words, sentence
from rushlight.stages.aside import ASIDE, BEAD
from rushlight.stages.measured import found_by, reckoned_in_order
from rushlight.stages.measured_found import Found
from rushlight.stages.measured_places import put_in
from rushlight.stages.reading_answers import UNLIKELY, Gain
from rushlight.stages.readings import Reading, every_reading, first_by_question, worth_first
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


BENCH_WORDS = {
    "led voltage": "{row}: forward voltage at the current that it is told for",
    "light aside": "{row}: what it sends to its side, over what it sends ahead",
    "fibre end": "A fibre's {row} end: loss", "fibre length": "{row}: loss in its length",
    "fibre bend": "{row}: what its bends lose, in times of the law",
    "room paint": "Paint of rooms boxed in: what it throws back", "lamp": "Light of {row}",
    "seam gap": "Gap at the seams of '{row}'", "lip lap": "Lip behind the seams of '{row}': how far it laps",
    "post gap": "Gap round posts in the wall of '{row}'",
    "post root": "Thin paint at the roots of posts of '{row}': how wide",
    "post paint": "Roots of posts of '{row}': light through them over that through the painted wall",
    "hole play": "Holes: how much wider than their drill",
    "hull warmth": "How warm '{row}' gets: kelvin over the room", "hull power": "Power burnt in '{row}'",
    "feed power": "Power that all lamps of '{row}' take together",
    "bundle width": "Bundles tied by hand ({row}): width over the ideal one",
    "adapter volts": "{row}: what it gives with nothing on it",
    "adapter resistance": "{row}: how far it falls by an ampere",
    "cell capacity": "{row}: charge that it holds, in times of the usual",
    "cell resistance": "{row}: inner resistance, in times of the usual",
    "bank energy": "Power bank of {row}: share of its print that comes out of the port",
    "bank load": "Power bank: the load under which it switches off",
    "pulse rate": "Pulses with which the controller dims",
    "camera readout": "Camera: time from a picture's first line to its last",
    "room light": "Light on the model where it is shown",
}
"""What stands in no table of parts, by the method that reads it."""

QUESTION_WORDS = {
    "bright": "How bright is it?", "stray": "Does light show where it should not?", "warm": "Does it stay cool enough?",
    "fit": "Does the bundle fit?", "lasts": "How long does it last?",
    "awake": "Does the power bank stay awake?", "film": "Does dimming show on film?",
}

ANSWER_UNITS = {"warm": "K", "fit": "mm", "lasts": "h"}
"""Answers that are told with their ends; the others are told by how far these lie apart."""


def _named(row: str, column: str) -> str:
    if column == ASIDE and row == BEAD:
        return "A fibre's end melted and matted"
    return row.replace("_", " ") if column == "fibre end" else row


def guess_words(table: str, row: str, column: str) -> str:
    """A guess in plain words."""
    if table == "habits":
        return "What a joint of LED and bundle keeps"
    if column in BENCH_WORDS:
        return BENCH_WORDS[column].format(row=_named(row, column))
    if table == "bench":
        return f"Light set free inside by {STRAY[row]}"
    return f"{row}: {WORDS.get(column, column)}"


def reading_blocks(design: Design) -> list[Block]:
    """What to measure first, a form to write it down on, and what was read; nothing where nothing is left to guess."""
    every = every_reading(design)
    found, taken = worth_first(every)[:MOST_ROWS], taken_words(design)
    blocks: list[Block] = [_single(found), _first(found), _asked(every), _form(found)] if found else []
    return [*blocks, _taken(taken)] if taken else blocks


def to_begin_with(found: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """The single reading to take now; after it, where it is worth more, the one to take once the lamps are lit."""
    if not found:
        return ()
    now, best = next((row for row in found if row.at_once), None), found[0]
    return (best,) if now is None or now is best else (now, best)


def first_words(found: tuple[Reading, ...]) -> str:
    """The single reading to take now, and what it is worth; what would be worth more once the lamps are lit."""
    heads = {True: "Measure this first", False: "Once the lamps are lit"}
    return " ".join(f"{heads[row.at_once]}: {reading_words(row)}. {_worth(row)}" for row in to_begin_with(found))


def _single(found: tuple[Reading, ...]) -> Table:
    columns = (Column("when", "When"), Column("measure", "Measure", wide=True),
               Column("worth", "What it is worth", wide=True))
    rows = tuple((sentence(_when(row)), sentence(reading_words(row)), _worth(row)) for row in to_begin_with(found))
    return Table("light-readings-one", "Measure this first", columns, rows)


def reading_words(row: Reading) -> str:
    """The guess; of an LED's light with the current at which it is best read."""
    at_ma = dict(row.usual).get("at_ma") if row.column == "intensity_mcd" else None
    return guess_words(row.table, row.row, row.column) + (f" at {amount(float(at_ma), 'mA')}" if at_ma else "")


def _worth(row: Reading) -> str:
    """What one reading may be expected to do, in a sentence."""
    if not row.undecided:
        return f"No verdict hangs on it; it narrows {row.most}: {_example(row.best)}."
    if row.settles < UNLIKELY * row.undecided + 1e-9:
        which = "One verdict hangs" if row.undecided == 1 else f"{row.undecided} verdicts hang"
        return f"{which} on it, at the outside alone: what is likely lies on one side already."
    if row.undecided == 1:
        return f"One verdict hangs on it, which it settles in {10 * row.settles:.0f} cases of 10."
    return f"{row.undecided} verdicts hang on it; it may be expected to settle {amount(row.settles)} of them."


def _first(found: tuple[Reading, ...]) -> Table:
    columns = (
        Column("measure", "Measure", wide=True), Column("how", "How", wide=True), Column("when", "When"),
        Column("undecided", "Verdicts open", align="right", decimals=0),
        Column("settles", "Settles", align="right", decimals=1),
        Column("stops", "Narrows by", "stops", "right", 1), Column("example", "Such as", wide=True),
        Column("place", "Where it goes", wide=True),
    )
    caption = ("Verdicts open: answers (lamps, parts, spaces, bundles, states) that it narrows and whose range at the "
               "outside lies on both sides of a limit, so that a finding hangs on the reading. Settles: how many of "
               "them it may be expected to close; one that what is likely closes already counts a twentieth. A stop "
               "is a factor of two by which what is likely narrows, added up over the answers. Once lit: it waits for "
               "the lamps. An LED is best read at the current that it will have: then nothing is left to guess of how "
               "its light goes with current.")
    return Table("light-readings", "What to measure first", columns, tuple(map(_row, found)), caption)


def _asked(every: tuple[Reading, ...]) -> Table:
    """Of each question the reading that narrows it most, of those at once and of those that wait for the lamps."""
    columns = (
        Column("question", "Question", wide=True), Column("measure", "Measure at once", wide=True),
        Column("undecided", "Verdicts open", align="right", decimals=0),
        Column("settles", "Settles", align="right", decimals=1), Column("example", "Such as", wide=True),
        Column("lit", "Once the lamps are lit", wide=True),
    )
    rows = tuple(_question(question, found) for question, found in first_by_question(every).items())
    caption = "Where no verdict of a question is open, its readings narrow it all the same."
    return Table("light-readings-asked", "What to measure for each question", columns, rows, caption)


def _question(question: str, found: tuple[Reading, ...]) -> tuple[Cell, ...]:
    now, lit = (next((row for row in found if row.at_once is wanted), None) for wanted in (True, False))
    best = now or found[0]
    gain = best.gain_in(question)
    assert gain is not None, "it is ranked in this question"
    return (QUESTION_WORDS[question], sentence(reading_words(now)) if now else "Nothing at once", gain.undecided,
            gain.settles, f"{gain.most}: {_example(gain)}", sentence(reading_words(lit)) if lit else "")


def _when(row: Reading) -> str:
    return row_by("bench_methods", "what", row.method)["when"]


def _example(gain: Gain) -> str:
    """An answer today and once the reading is in."""
    unit, before, after = ANSWER_UNITS.get(gain.question), gain.before, gain.after
    if unit:
        digits = 3 if before.high < 2 * before.low else 2
        return f"{range_words(before, unit, digits=digits)} now, then {range_words(after, unit, digits=digits)}"
    outside, likely = _less(before, after), _less(gain.likely_before, gain.likely_after)
    return outside if likely == outside else f"likely {likely}, at the outside {outside}"


def _less(before: Range, after: Range) -> str:
    """How far apart the ends of a range lie today, and once the reading is in."""
    if _times(before) == _times(after) == VAST and min(before.low, after.low) > 0:
        less = before.high / before.low / (after.high / after.low)
        return f"from {VAST} to {amount(less)} times less"
    return f"from {_times(before)} to {_times(after)}"


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
    words += [word for key in method["may"].split(";") for word in SPARE.get(key, ())]
    words += [COUNTED.get(row.method, NEEDS[key]) if key == "count" else NEEDS[key]
              for key in method["must"].split(";") if key and key != "state"]
    words += [f"the current that it had, mA, best {amount(float(value))}" for key, value in row.usual
              if key == "at_ma" and key in method["may"].split(";")]
    return [(sentence(word), sentence(method["error"]) if n == 0 else "") for n, word in enumerate(words)]


SPARE = {
    "two": ("lux through two sheets",),
    "against": ("volts with the model on it, if you can", "and what it takes then, mA"),
}
"""What may be left out, by its key."""

COUNTED = {"coat": "how many coats", "bundle width": "how many fibres"}

NEEDS = {
    "distance_mm": "distance to the meter, mm", "length_mm": "length, mm", "thickness_mm": "thickness, mm",
    "fibre_mm": "width of the test piece, mm", "count": "how many", "led": "the LED that lit it",
    "series_ohm": "the resistors, ohm, in the same order", "radius_mm": "radius of the bend, mm",
    "turn_deg": "how far it turned, degrees",
    "power_w": "volts times amperes of the feed", "at_ma": "the current that it gave, mA",
    "printed_mah": "capacity printed on it, mAh", "printed_v": "volts printed on it",
    "pulse_hz": "pulses of the lamp that it saw, Hz",
}


def reading_lines(design: Design) -> list[str]:
    """What to measure first and what was measured, as lines for a terminal."""
    every = every_reading(design)
    found = worth_first(every)[:MOST_ROWS]
    lines = [] if found else ["No guess is left that a reading would narrow."]
    for number, row in enumerate(found, 1):
        *_, example, place = map(str, _row(row))
        lines += [f"{number}. {sentence(reading_words(row))} ({_when(row)})", f"   {row.measure}",
                  f"   Narrows {example}; in all by {amount(row.stops)} stops. Goes into the plan under {place}."]
    lines += [first_words(found)] if found else []
    lines += [f"{question} {now}.{f' Once the lamps are lit: {lit}.' if lit else ''}"
              for question, now, *_, lit in _asked(every).rows]
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
    value = range_words(found.value, unit, digits=3 if found.column in CLOSE else 2)
    return f"{sentence(guess_words(found.table, found.row, found.column))}: {value}"


UNITS = {
    "intensity_mcd": "mcd", "flux_lm_per_m": "lm/m", "half_angle_deg": "degrees", "fibre end": "dB",
    "fibre length": "dB/m", "lamp": "cd", "hull warmth": "K", "hull power": "W", "led voltage": "V",
    "bank load": "mA", "adapter volts": "V", "adapter resistance": "ohm",
    **dict.fromkeys(("seam gap", "lip lap", "post gap", "post root", "hole play"), "mm"),
    "feed power": "W", "pulse rate": "Hz", "camera readout": "ms", "room light": "lx",
}


CLOSE = ("bundle width", "pulse rate", "camera readout", "feed power", "adapter volts")
"""What is known so well that two digits would not tell its ends apart."""


def _taken(taken: list[tuple[str, str, tuple[str, ...]]]) -> Table:
    columns = (Column("what", "Measured", wide=True), Column("read", "The meter showed", wide=True),
               Column("comes", "Which comes to", wide=True))
    rows = tuple((sentence(what), read, "; ".join(comes)) for what, read, comes in taken)
    return Table("light-readings-taken", "What you measured", columns, rows,
                 "The whole design reckons with these ranges in place of its guesses.")


def _row(row: Reading) -> tuple[Cell, ...]:
    place = f"measured: what {row.method}, of {row.of}" + "".join(
        f", {key} {amount(value) if isinstance(value, float) else value}" for key, value in row.usual)
    if row.table == "habits":
        place = f"measured: what {row.method}, of the LED that you tried it on"
    return (sentence(reading_words(row)), sentence(row.measure), _when(row), row.undecided, row.settles, row.stops,
            f"{row.most}: {_example(row.best)}", place)


VAST = "over 1000 times"


def _times(value: Range) -> str:
    """How far apart the ends of a range lie, as a factor; beyond a thousand it is only told to be."""
    if value.low <= 0 or value.high / value.low > 1000:
        return VAST
    return f"{amount(value.high / value.low)} times" if value.high > 1.01 * value.low else "one value"
