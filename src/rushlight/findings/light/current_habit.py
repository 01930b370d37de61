"""A point lamp whose current lies outside what the trade runs such lamps at."""

from __future__ import annotations

from rushlight.findings._lights import currents_a
from rushlight.findings._words import plain
from rushlight.model.design import Design, Emitter
from rushlight.model.finding import Grade, Rule, Trouble

WIDE_MM = 3.3
"""Point lamps are those of 3 mm or chips; a 5 mm LED is a lamp of its own kind."""


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("dim")
    low, high = habit.low or 0.0, habit.high or float("inf")
    others = {lamp.name for lamp in design.plan.lamps
              if lamp.lights_mm is not None or lamp.brightness.seen_in == "beacon"}
    amps = currents_a(design)
    found = []
    for emitter in design.loom.emitters:
        if emitter.kind != "led" or emitter.name in others or design.drawer.led(emitter.part_row).face_mm > WIDE_MM:
            continue
        milliamps = 1000 * amps.get(emitter.name, 0.0)
        if milliamps > high * 1.05:
            found.append(_trouble(emitter, milliamps, high, "more"))
        elif 0 < milliamps < low * 0.8:
            found.append(_trouble(emitter, milliamps, low, "less"))
    return tuple(found)


def _trouble(emitter: Emitter, milliamps: float, limit: float, word: str) -> Trouble:
    cure = (
        "If it is really too dim at that, take a clear LED or a larger one instead of more current."
        if word == "more" else "Take a diffused or weaker LED at 1 mA or more: LEDs differ much at less."
    )
    return Trouble(
        item=emitter.name, spot=emitter.spot, number=milliamps, limit=limit, cure=cure,
        says=f"'{emitter.name}' runs at {plain(milliamps)} mA, {word} than the {plain(limit)} mA of the habit.",
    )


RULE = Rule(
    key="light.current-habit",
    grade=Grade.COULD_BE_BETTER,
    title="Current of a point lamp out of habit",
    unit="mA",
    why="Point lamps on models are run at a few milliamperes: more looks harsh, less makes equal LEDs unequal.",
    cure="Stay within the habit.",
    source="habit dim: common practice, no source; 5 % above and 20 % below are let pass for steps of resistors",
    practice="dim",
    look=_look,
)
