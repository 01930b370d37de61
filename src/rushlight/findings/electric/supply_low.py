"""A supply that stands under an LED's own forward voltage: nothing is left for its resistor."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import by_part
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import led_law_range


def starved(design: Design) -> tuple[Emitter, ...]:
    """Emitters for which no resistance is small enough."""
    none_left = {row.emitter for row in design.power.resistors if row.exact_ohm <= 0}
    return tuple(emitter for emitter in design.loom.emitters if emitter.name in none_left)


def _look(design: Design) -> tuple[Trouble, ...]:
    leds = (emitter for emitter in starved(design) if emitter.kind != "strip")  # a strip's voltage has its own finding
    return tuple(_trouble(design, emitters) for emitters in by_part(leds).values())


def _trouble(design: Design, emitters: list[Emitter]) -> Trouble:
    first = emitters[0]
    wanted = led_law_range(design.drawer.led(first.part_row), first.aim_current_a)
    resistor = design.power.resistor(first.name)
    there_v = wanted.typical + (resistor.exact_ohm if resistor else 0.0) * first.aim_current_a
    names = listed([emitter.name for emitter in emitters])
    return Trouble(
        item=first.name, spot=first.spot, number=there_v, limit=wanted.typical,
        says=capital(f"{names}: {plain(there_v)} V arrive, and the {first.part_row} LED alone takes "
                     f"{plain(wanted.typical)} V at {plain(first.aim_current_a * 1000)} mA."),
        cure=f"Use {volts_words(design, first)}.",
    )


def volts_words(design: Design, emitter: Emitter) -> str:
    """The supply with which a starved LED gets its current: so many cells of the plan's kind, or so many volts."""
    least_v = _least_v(design, emitter)
    supply = design.plan.supply
    if supply is None or supply.kind != "cells":
        return f"a supply of {plain(least_v)} V or more"
    count = math.ceil(least_v / design.drawer.cell(supply.cell).nominal_v)
    return f"{count} cells of this kind in series, or another supply of {plain(least_v)} V or more"


def _least_v(design: Design, emitter: Emitter) -> float:
    """What an LED of high forward voltage takes, with the share left over that its resistor needs [V]."""
    forward = led_law_range(design.drawer.led(emitter.part_row), emitter.aim_current_a)
    return forward.high / (design.drawer.habit("series_headroom").high or 0.8)


RULE = Rule(
    key="electric.supply-low",
    grade=Grade.WILL_FAIL,
    title="Supply too low for an LED",
    unit="V",
    why="Below its forward voltage an LED hardly conducts: it stays dark, or glows faintly while the cells are fresh.",
    cure="Use a supply of a higher voltage, or an LED of a lower forward voltage (red, yellow).",
    source=NETWORK,
    look=_look,
)
