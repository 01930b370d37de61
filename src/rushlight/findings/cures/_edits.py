"""Making edits: one item set to new values, a held choice taken out or put in, and the sentence that says so."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import MISSING, fields, is_dataclass
from typing import Any

from rushlight.findings._words import Entry, capital
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.plan_bench import Pin
from rushlight.model.plan_part import Bay, Opening, Part

KINDS = ("lamps", "rows", "strips")


def edit(kind: str, name: str, values: dict[str, Any], says: str) -> Edit:
    """One item with new values."""
    return Edit((Change("set", kind, name, values),), capital(says))


def moved_mm(of: tuple[str, str, str], was_mm: float, new_mm: float, what: str) -> Edit:
    """One length of an item (its kind, name and key) from what it is to what it should be."""
    kind, name, key = of
    return edit(kind, name, {key: new_mm}, f"set {what} of '{name}' from {was_mm:g} to {new_mm:g} mm.")


def up(value: float, step: float) -> float:
    """The next whole step at or above a value, as a modeller would write it."""
    return round(math.ceil(value / step - 1e-9) * step, 6)


def entry_of(design: Design, name: str) -> tuple[str, Entry] | None:
    """The list and the entry of a lamp, row or strip, by its own name or that of one of its lamps."""
    group = next((lamp.group for lamp in design.lamps if lamp.name == name), name)
    for kind in KINDS:
        for entry in getattr(design.plan, kind):
            if entry.name == group:
                return kind, entry
    return None


def part_of(design: Design, name: str) -> Part | None:
    """The part of that name."""
    return next((part for part in design.plan.parts if part.name == name), None)


def bay_set(design: Design, name: str, values: dict[str, Any], says: str) -> Edit | None:
    """A bay with new values."""
    for part in design.plan.parts:
        if any(bay.name == name for bay in part.bays):
            return edit("parts", part.name, {"bays": [_renewed(bay, name, values) for bay in part.bays]}, says)
    return None


def openings_set(part: Part, renewed: dict[str, dict[str, Any]], says: str) -> Edit:
    """Openings of a part with new values, by name."""
    rows = [{**written(row), **renewed.get(row.name, {})} for row in part.openings]
    return edit("parts", part.name, {"openings": rows}, says)


def _renewed(bay: Bay | Opening, name: str, values: dict[str, Any]) -> dict[str, Any]:
    return {**written(bay), **values} if bay.name == name else written(bay)


def written(value: Any) -> Any:
    """A plan's item as plain values, what stands at its default left out."""
    if is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: written(getattr(value, field.name)) for field in fields(value)
            if field.default is MISSING or getattr(value, field.name) != field.default
        }
    if isinstance(value, tuple):
        return [written(inner) for inner in value]
    return value


# --- held choices -------------------------------------------------------------------------------------------------


def names_of(design: Design, emitters: Iterable[Emitter]) -> set[str]:
    """Every name under which a choice may be held for some emitters."""
    rows = list(emitters)
    lamps = {lamp for row in rows for lamp in row.lamps}
    groups = {lamp.group for lamp in design.lamps if lamp.name in lamps}
    return {row.name for row in rows} | {row.circuit for row in rows} | lamps | groups


def pins_out(design: Design, choices: tuple[str, ...], names: Iterable[str]) -> Edit | None:
    """The held choices of some names taken out, so that the design chooses; None where nothing is held."""
    known = set(names)
    gone = [pin for pin in design.plan.pinned if pin.choice in choices and pin.of in known]
    if not gone:
        return None
    told = ", ".join(f"{_choice(pin)} for '{pin.of}'" for pin in gone)
    return _pins([pin for pin in design.plan.pinned if pin not in gone],
                 f"let the design choose again: no longer hold {told}.")


def pin_in(design: Design, of: str, choice: str, value: float | str) -> Edit:
    """A choice held, in place of one that was held for the same name."""
    pin = Pin(of=of, choice=choice, value=value if isinstance(value, str) else f"{value:g}")
    kept = [row for row in design.plan.pinned if (row.of, row.choice) != (of, choice)]
    return _pins([*kept, pin], f"hold {_choice(pin)} for '{of}'.")


UNITS = {"current_ma": ("", " mA"), "resistor_ohm": ("a resistor of ", " ohm"), "led": ("the LED ", ""),
         "illuminator_part": ("the part ", ""),
         "fibres_per_led": ("", " fibres an LED"), "gauge_awg": ("wire of ", " AWG"),
         "leds_in_series": ("at most ", " LEDs in series"), "regulator": ("the regulator ", ""),
         "fibre_mm": ("fibre of ", " mm"), "bundle": ("the bundle ", ""),
         "fibre_inlet": ("the LED's end ", ""), "bundle_joint": ("the joint ", ""),
         "led_dome": ("the LED's dome ", ""), "bundle_gap_mm": ("a gap of ", " mm at the LED")}
"""Words before and behind a held value."""


def _choice(pin: Pin) -> str:
    before, behind = UNITS[pin.choice]
    return f"{before}{pin.value}{behind}"


def _pins(pins: list[Pin], says: str) -> Edit:
    return edit("plan", "", {"pinned": [written(pin) for pin in pins] or None}, says)
