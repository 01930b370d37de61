"""Within what an LED's current is chosen, and what the modeller holds it to."""

from __future__ import annotations

from rushlight.model.drawer import Drawer, LedPart
from rushlight.model.plan import Plan
from rushlight.stages.pins import held_number

MOST_A = 0.02
"""Rated current of the usual small LED (data sheets); dearer ones bear more, which their own row then allows."""

DERATE = 0.75
"""Share of an LED's rated current that is used at most (common practice, no source)."""


def least_a(drawer: Drawer) -> float:
    """The least current that an LED is run at (habit `dim`)."""
    return (drawer.habit("dim").low or 1.0) / 1000


def sensible_a(drawer: Drawer, led: LedPart, wanted_a: float) -> float:
    """The wanted current, held between the least of the habit and the derated most of the LED."""
    return min(max(wanted_a, least_a(drawer)), led.max_ma * DERATE / 1000)


def pinned_a(plan: Plan, current_a: float, *names: str) -> float:
    """The current that the modeller holds for a circuit, row or lamp, else the one worked out."""
    value = held_number(plan, "current_ma", *names)
    return current_a if value is None else value / 1000
