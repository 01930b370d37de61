"""A point lamp whose current lies outside what the trade runs such lamps at."""

from __future__ import annotations

from rushlight.findings._lights import currents_a
from rushlight.findings._words import listed, plain
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble

Loaded = tuple[float, Emitter]
"""A point lamp with its current in mA."""

WIDE_MM = 3.3
"""Point lamps are those of 3 mm or chips; a 5 mm LED is a lamp of its own kind."""


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("dim")
    low, high = habit.low or 0.0, habit.high or float("inf")
    others = {lamp.name for lamp in design.plan.lamps
              if lamp.lights_mm is not None or lamp.brightness.seen_in == "beacon"}
    floods = {row.name for row in design.plan.rows if row.lights_mm is not None}
    others |= {lamp.name for lamp in design.lamps if lamp.group in floods}
    amps = {name: 1000 * amps for name, amps in currents_a(design).items()}
    points = [
        emitter for emitter in design.loom.emitters
        if emitter.kind == "led" and emitter.name not in others
        and design.drawer.led(emitter.part_row).face_mm <= WIDE_MM
    ]
    over = [(amps.get(row.name, 0.0), row) for row in points if amps.get(row.name, 0.0) > high * 1.05]
    short = starved(design)  # no choice of LED helps where the supply is too low: that has its own finding
    under = [(amps[row.name], row) for row in points if 0 < amps.get(row.name, 0.0) < low * 0.8 and row not in short]
    found = [_trouble(over, max(over, key=_milliamps), high, "more")] if over else []
    return (*found, *([_trouble(under, min(under, key=_milliamps), low, "less")] if under else []))


def _milliamps(pair: Loaded) -> float:
    return pair[0]


def _trouble(all_of: list[Loaded], worst: Loaded, limit: float, word: str) -> Trouble:
    milliamps, emitter = worst
    names = [f"'{row.name}'" for _, row in all_of]
    cure = (
        "If it is really too dim at that, take a clear LED or a larger one instead of more current."
        if word == "more" else "Take a diffused or weaker LED at 1 mA or more: LEDs differ much at less."
    )
    runs = "runs at" if len(names) == 1 else "run at up to" if word == "more" else "run at as little as"
    return Trouble(
        item=emitter.name, spot=emitter.spot, number=milliamps, limit=limit, cure=cure,
        says=f"{listed(names)} {runs} {plain(milliamps)} mA, {word} than the {plain(limit)} mA of the habit.",
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
