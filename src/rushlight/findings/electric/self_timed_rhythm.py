"""LEDs that time themselves, for a rhythm that such LEDs are not made in, or where no LED can be changed."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.rhythms import MadeRhythm, made_rhythms, value
from rushlight.timing.character import parse_rhythm


def _look(design: Design) -> tuple[Trouble, ...]:
    made = made_rhythms(design.plan, design.circuits, design.loom)
    return tuple(
        _trouble(design, row, why) for row in made if row.by == "self-timed led" and (why := _why_not(design, row))
    )


def _why_not(design: Design, row: MadeRhythm) -> str:
    strips = [each.name for each in design.loom.emitters if each.circuit == row.circuit.name and each.kind == "strip"]
    if strips:
        return f"{listed(strips)} {'is a strip' if len(strips) == 1 else 'are strips'}, whose LEDs are soldered on"
    return "" if _sold(row.circuit.rhythm) else f"none is sold that keeps '{row.circuit.rhythm}'"


def _sold(text: str) -> bool:
    """Flicker, or single flashes at a usual rate."""
    rhythm = parse_rhythm(text)
    if rhythm.kind == "flicker":
        return True
    levels = {step.level for step in rhythm.steps}
    usual = value("self_timed_least_s") <= rhythm.period_s <= value("self_timed_most_s")
    return rhythm.repeats and rhythm.flashes == 1 and levels == {0.0, 1.0} and usual


def _trouble(design: Design, row: MadeRhythm, why: str) -> Trouble:
    return Trouble(
        item=f"circuit {row.circuit.name}", spot=design.lamp(row.circuit.lamps[0]).spot,
        says=f"Circuit {row.circuit.name} is to be made by LEDs that time themselves: {why}.",
        cure=f"Let a controller or a flasher make '{row.circuit.rhythm}' (plan file: by, under rhythms).",
    )


RULE = Rule(
    key="electric.self-timed-rhythm",
    grade=Grade.DOUBTFUL,
    title="No LED keeps that rhythm by itself",
    unit="",
    why="LEDs that time themselves flicker like a candle or flash about once or twice a second, each at its own pace.",
    cure="Take a controller or a flasher.",
    source="usual flashers, self-timed LEDs and controllers (from memory, typical)",
    look=_look,
)
