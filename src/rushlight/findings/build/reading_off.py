"""A meter reading outside what was foretold."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, plain
from rushlight.findings.build._readings import read_at_bench
from rushlight.model.design import Design, PredictedReading
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_bench import Reading


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for reading, _, told in read_at_bench(design):
        if told is not None and not told.reading.low <= reading.value <= told.reading.high:
            found.append(_trouble(reading, told))
    return tuple(found)


def _trouble(reading: Reading, told: PredictedReading) -> Trouble:
    under = reading.value < told.reading.low
    limit = told.reading.low if under else told.reading.high
    low, high, unit = plain(told.reading.low, 3), plain(told.reading.high, 3), told.unit
    span = f"{low} {unit} or more" if math.isinf(told.reading.high) else f"{low} to {high} {unit}"
    return Trouble(
        item=reading.what, number=reading.value, limit=limit,
        says=capital(f"{reading.what}: the meter showed {plain(reading.value, 3)} {unit}; {span} was foretold."),
        cure=_cure(unit, under),
    )


def _cure(unit: str, under: bool) -> str:
    if unit == "mA":
        return "Look for an LED that is dark, reversed or badly soldered." if under else \
            "Switch off; look for a short, a bridged joint or a resistor of a tenth of its value."
    if unit == "ohm":
        return "Do not connect the supply; look for a short between plus and return."
    return "Check the dial and the probes, the resistor's bands, and the joint; then measure again."


RULE = Rule(
    key="build.reading-off",
    grade=Grade.DOUBTFUL,
    title="Reading outside what was foretold",
    unit="as read",
    why="The interval holds every sound LED and a hand meter's error, so something is wired otherwise than planned.",
    cure="Find out why before the next step.",
    source="the DC network, solved with LEDs of low and high forward voltage",
    look=_look,
)
