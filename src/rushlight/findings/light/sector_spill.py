"""Sector lights made by something that shines past their edges."""

from __future__ import annotations

from rushlight.findings._sectors import sector_lamps
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.long_screens import long_screen

CUT_OFF = 0.1
"""Light beyond an edge that still counts as cut off (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    over = [row for row in sector_lamps(design) if row.outside > CUT_OFF]
    if not over:
        return ()
    worst = max(over, key=lambda row: row.outside)
    one = "the lamp" if len(over) == 1 else f"'{worst.name}'"
    names = [f"'{row.name}'" for row in over]
    return (Trouble(
        item=worst.name, spot=worst.spot, number=100 * worst.outside, limit=100 * CUT_OFF,
        says=f"{listed(names, 4)} {'shines' if len(names) == 1 else 'shine'} past the edge of the sector: 5 degrees "
             f"beyond it {one} still gives {plain(100 * worst.outside)} % of its light.",
        cure=_cure(design, worst.name),
    ),)


def _cure(design: Design, name: str) -> str:
    """The screen; where that is long for the scale, what is shorter."""
    arc_deg, size_mm = design.lamp(name).arc_deg or (0.0, 0.0), design.source(name).seen_mm
    long = long_screen(design.drawer, design.plan.subject.scale, size_mm, arc_deg)
    return f"{RULE.cure} At this scale that is long: {long.words}" if long else ""


RULE = Rule(
    key="light.sector-spill",
    grade=Grade.COULD_BE_BETTER,
    title="Sector light without a sharp edge",
    unit="%",
    why="LEDs and fibres shine in a wide cone; on the subject screens cut the light off at the edges of its sector.",
    cure="Fold a matt black strip round each lamp, so that its flanks touch the lamp and lie along the edges of its "
         "sector; the sheet of screens has each at true size.",
    source="cos^m law of the beam without screens; 5 degrees: COLREGs 1972 Annex I 9(a)",
    look=_look,
)
