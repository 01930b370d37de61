"""Gates: what a meter should show before a step that cannot be undone, with room to write what it showed."""

from __future__ import annotations

from rushlight.model.design import Design, PredictedReading, Step
from rushlight.model.plan import Plan
from rushlight.model.sheet import Block, Cautions, Cell, Column, Drawing, Note, Sheet, Table
from rushlight.sheets.amounts import amount, sentence
from rushlight.sheets.led_trial import trial_blocks
from rushlight.sheets.meter import meter_drawings
from rushlight.sheets.meter_use import MeterUse, expect_words, use_of_reading
from rushlight.sheets.order import caution_of

HOW = (
    "Set the dial, hold the probes as told, read, and write it into the empty column. Inside the interval is good. "
    "Outside it: stop, and look before you go on; a reading of nothing is mostly a lead on the wrong terminal."
)

METER = (
    "A hand meter has a display, a dial and three or four sockets. The black lead stays in COM. The red lead is "
    "in V for volts, ohms and the diode test, in mA or 10 A for a current. The dial's letters with a straight "
    "line over dashes are direct current, all that this model has; the wave is for the mains: leave it alone. "
    "Where you do not know what comes, begin at the highest range and go down until figures fill the display. A "
    "meter that finds its range by itself has the letter alone. OL, or a 1 alone at the left, means more than the "
    "range holds; a minus sign, that red and black are swapped."
)

SIGNS = (
    "Plus of an LED: the longer leg; the flat of the rim, the shorter leg and (mostly) the larger piece inside are "
    "the return. In the diode test it glows only with red on plus. A cell's plus is its button.\n\n"
    "A good joint runs out thin onto the wires and shows the strands under it; it stays put when you pull at both "
    "leads. Round as a pearl, or with a ring about the wire, it is cold: heat it again with flux. (Leaded solder "
    "shines when it is good, lead-free stays dull.) The meter shows less than half an ohm through a good one: "
    "200 ohm, supply out; hold the probes together first and take that off.\n\n"
    "Without a meter: switch each state on in turn and tick the lamps of the list. One dark lamp is its own LED, "
    "resistor or lead; all beyond a splice are that splice or the lead before it; all of one circuit are the "
    "switch or its feed; all dim alike are the cells. An LED out of the loom lights on a 3 V coin cell through "
    "470 ohm, the long leg on plus."
)
"""Common practice, no source."""

LED_GATE = "test_parts"
"""The gate at which LEDs are tried; one without a data sheet is read there."""

BY_EYE = "No meter is needed; write the day on which it was passed."


def draw(design: Design) -> tuple[Sheet, ...]:
    """One form a gate."""
    gates = [step for step in design.order.steps if step.kind == "gate"]
    read = as_read(design.plan)
    forms: list[Block] = [block for step in gates if step.readings
                          for block in (gate_table(step, read), gate_drawing(step),
                           *(trial_blocks(design) if step.key == LED_GATE else ()))]
    by_eye = by_eye_table(tuple(step for step in gates if not step.readings))
    blocks = (Note(HOW), *(how_to_meter() if forms else ()), *forms, *((by_eye,) if by_eye.rows else ()))
    return (Sheet("gates", "Gates", blocks),)


def how_to_meter() -> tuple[Block, ...]:
    """For somebody who never held one (common practice, no source)."""
    return (Note(METER, "If you never held a meter"), Cautions((caution_of("meter_current"),)),
            Note(SIGNS, "Plus, a good joint, and no meter at all"))


def gate_drawing(step: Step) -> Drawing:
    """The meter as it is set at a gate: each setting once, with the first of its readings."""
    uses: dict[tuple[str, str], MeterUse] = {}
    for use in map(use_of_reading, step.readings):
        uses.setdefault((use.setting.key, use.where), use)
    once = "Each setting is drawn once, with the first reading that needs it."
    more = "" if len(uses) == len(step.readings) else f" {once}"
    return meter_drawings(tuple(uses.values()), key=f"gate-{step.number}-meter", title=f"Step {step.number}: the meter",
                          caption=f"Below the display stands what to expect.{more}")


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
    return expect_words(reading.reading.low, reading.reading.high, reading.unit)
