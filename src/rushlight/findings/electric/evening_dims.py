"""Lamps that fade or part before the evening that the plan describes is over."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

SAYS = {"half": "have less than half of their first light", "out": "are as good as out",
        "uneven": "are further apart than lamps that should match"}


def _look(design: Design) -> tuple[Trouble, ...]:
    evening = design.power.evening
    if evening is None or starved(design):
        return ()
    early = [mark for mark in evening.marks if mark.kind in SAYS and mark.at_h.typical < evening.hours]
    if not early:
        return ()
    first = early[0]
    others = sorted({lamp for mark in early for lamp in mark.lamps} - set(first.lamps))
    more = f"; {len(others)} more follow" if others else ""
    return (Trouble(
        item=first.lamps[0], number=first.at_h.typical, limit=evening.hours,
        says=f"After {plain(first.at_h.typical)} h of an evening of {plain(evening.hours)} h, in '{first.state}', "
             f"{', '.join(repr(name) for name in first.lamps[:3])} {SAYS[first.kind]}{more}.",
        cure="Use larger cells, one more in series with the resistors for it, or show the heavy states for a shorter "
             "time.",
    ),)


RULE = Rule(
    key="electric.evening-dims",
    grade=Grade.COULD_BE_BETTER,
    title="Lamps fade before the evening is over",
    unit="h",
    why="Cells fall in voltage as they empty. LEDs with a high forward voltage lose light first, so that colours part.",
    cure="Use larger cells, or one more in series.",
    source="electric.evening: the solved loom at every age of the cells",
    look=_look,
)
