"""Gates: what a meter should show before a step that cannot be undone, with room to write what it showed."""

from __future__ import annotations

import math

from rushlight.model.design import Design, PredictedReading, Step
from rushlight.model.plan import Plan
from rushlight.model.sheet import Block, Cell, Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, sentence, span

HOW = (
    "Set the dial, hold the probes as told, read, and write it into the empty column. Inside the interval is good. "
    "Outside it: stop, and look before you go on; a reading of nothing is mostly a lead on the wrong terminal."
)

BY_EYE = "No meter is needed; write the day on which it was passed."


def draw(design: Design) -> tuple[Sheet, ...]:
    """One form a gate."""
    gates = [step for step in design.order.steps if step.kind == "gate"]
    read = as_read(design.plan)
    blocks: list[Block] = [gate_table(step, read) for step in gates if step.readings]
    by_eye = by_eye_table(tuple(step for step in gates if not step.readings))
    return (Sheet("gates", "Gates", (Note(HOW), *blocks, *((by_eye,) if by_eye.rows else ()))),)


def by_eye_table(gates: tuple[Step, ...]) -> Table:
    """Gates that are judged by eye and hand."""
    columns = (Column("step", "Step", align="right", decimals=0), Column("gate", "Gate", wide=True),
               Column("passed", "Passed on"), Column("note", "What you saw", wide=True))
    rows = tuple((step.number, sentence(step.title) + (f": {step.part}" if step.part else ""), "",
                  "") for step in gates)
    return Table("gates-by-eye", "Gates by eye and hand", columns, rows, BY_EYE)


Read = dict[tuple[str, str], float]
"""What was read at the bench: by the gate's key or title, and the reading's name, both in small letters."""


def as_read(plan: Plan) -> Read:
    """Readings that the plan already holds."""
    rows = (reading for done in plan.as_built for reading in done.readings)
    return {(row.gate.casefold(), row.what.casefold()): row.value for row in rows}


def gate_table(step: Step, read: Read) -> Table:
    """The form of one gate, with what the plan says was read already."""
    title = f"Step {step.number}: {step.title}" + (f", {step.part}" if step.part else "")
    columns = (
        Column("switch_at", "Switch at"), Column("measure", "Measure", wide=True), Column("dial", "Dial"),
        Column("red_probe", "Red probe", wide=True), Column("black_probe", "Black probe", wide=True),
        Column("expect", "Expect", align="right"), Column("found", "Found by you"),
    )
    rows = tuple(_row(reading, _found(step, reading, read)) for reading in step.readings)
    return Table(f"gate-{step.number}", title, columns, rows)


def _found(step: Step, reading: PredictedReading, read: Read) -> str:
    """What was read, or an empty cell to write in."""
    what = reading.name.casefold()
    values = (read.get((name.casefold(), what)) for name in (step.key, step.title))
    value = next((value for value in values if value is not None), None)
    return "" if value is None else amount(value, reading.unit, 3)


def _row(reading: PredictedReading, found: str) -> tuple[Cell, ...]:
    return (
        reading.state or "off", sentence(reading.name), reading.dial, sentence(reading.red_probe),
        sentence(reading.black_probe), expected(reading), found,
    )


def expected(reading: PredictedReading) -> str:
    """The interval in words: '152 to 231 mA', 'more than 20 kohm'."""
    value, unit = reading.reading, reading.unit
    if unit == "ohm" and value.low >= 1000:
        return span(value.low / 1000, value.high / 1000, "kohm", 3)
    if math.isinf(value.high):
        return f"more than {amount(value.low, unit, 3)}"
    return span(value.low, value.high, unit, 3)
