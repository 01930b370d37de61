"""An LED that drops much more or less at the bench than its colour does."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.drawer import BenchValue
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.measured_found import LED_VOLTAGE

APART_V = 0.05
"""So far apart may what was read, at its nearer end, and what is believed of the colour lie (project rule)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for read in design.drawer.bench:
        volts = _apart(read) if read.what == LED_VOLTAGE else 0.0
        if volts > APART_V and read.believed is not None:
            found.append(Trouble(
                item=read.of, number=volts, limit=APART_V,
                says=f"'{read.of}' came to {plain(read.value.typical, 3)} V at the bench; one of its colour has "
                     f"{plain(read.believed.low, 3)} to {plain(read.believed.high, 3)} V.",
            ))
    return tuple(found)


def _apart(read: BenchValue) -> float:
    if read.believed is None:
        return 0.0
    return max(0.0, read.value.low - read.believed.high, read.believed.low - read.value.high)


RULE = Rule(
    key="plan.led-read-odd",
    grade=Grade.DOUBTFUL,
    title="LED unlike its colour at the bench",
    unit="V",
    why="It is another kind of LED than the row says, then its light differs too; or a resistor or a reading is not "
        "what you took it for, and every resistor of these LEDs follows from it.",
    cure="Read the resistors at ohm, out of the circuit, and both voltages once more; if they stand, name the LED that "
         "it is.",
    source="usual spread of the colour's forward voltage; the limit is a project rule",
    look=_look,
)
