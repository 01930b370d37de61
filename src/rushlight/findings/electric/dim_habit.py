"""Point lamps outside the current that modellers usually run them at."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import worst_currents
from rushlight.findings.electric._words import PRACTICE
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design, Emitter
from rushlight.model.finding import Grade, Rule, Trouble

E24_STEP = 1.1
"""Resistors come in steps of 10 %, so a current may fall so far under its aim."""


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("dim")
    low, high = (habit.low or 1.0) / E24_STEP, habit.high or 5.0
    told = {emitter.name for emitter in starved(design)}
    worst = worst_currents(design)
    points = [
        (emitter, worst[emitter.name].current_a.typical * 1000) for emitter in design.loom.emitters
        if emitter.kind == "led" and emitter.name in worst and emitter.name not in told and not _floods(design, emitter)
    ]
    over = [pair for pair in points if pair[1] > high]
    under = [pair for pair in points if pair[1] < low]
    made = []
    if over:
        made.append(_trouble(over, high, "bright", max(over, key=lambda pair: pair[1])))
    if under:
        made.append(_trouble(under, low, "dim", min(under, key=lambda pair: pair[1])))
    return tuple(made)


def _floods(design: Design, emitter: Emitter) -> bool:
    """Whether an emitter is there to light something, not to be looked at."""
    lit = {lamp.name: lamp.lights_mm for lamp in design.plan.lamps}
    return any(lit.get(name) is not None for name in emitter.lamps)


def _trouble(pairs: list[tuple[Emitter, float]], limit: float, how: str, worst: tuple[Emitter, float]) -> Trouble:
    names = listed([emitter.name for emitter, _ in pairs])
    return Trouble(
        item=worst[0].name, spot=worst[0].spot, number=worst[1], limit=limit,
        says=capital(f"{names}: {plain(worst[1])} mA, where {plain(limit)} mA is the usual end: likely too {how}."),
        cure="Look at it on the bench in the room where the model will stand, then change the resistor in proportion.",
    )


RULE = Rule(
    key="electric.dim-habit",
    grade=Grade.COULD_BE_BETTER,
    title="Point lamp outside the usual current",
    unit="mA",
    why="Lamps usually look too bright on a model; far under a milliampere an LED's light can hardly be foretold.",
    cure="Change the resistor after a look on the bench.",
    source=PRACTICE,
    practice="dim",
    look=_look,
)
