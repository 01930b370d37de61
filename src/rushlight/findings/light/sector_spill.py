"""Sector lights made by something that shines past their edges."""

from __future__ import annotations

from rushlight.findings._sectors import SectorLamp, sector_lamps
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.sector import spill_share

CUT_OFF = 0.1
"""Light beyond an edge that still counts as cut off (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    spilling = [(row, _spill(row)) for row in sector_lamps(design)]
    over = [(row, share) for row, share in spilling if share > CUT_OFF]
    if not over:
        return ()
    worst, share = max(over, key=lambda pair: pair[1])
    one = "the lamp" if len(over) == 1 else f"'{worst.name}'"
    names = [f"'{row.name}'" for row, _ in over]
    return (Trouble(
        item=worst.name, spot=worst.spot, number=100 * share, limit=100 * CUT_OFF,
        says=f"{listed(names, 4)} {'shines' if len(names) == 1 else 'shine'} past the edge of the sector: 5 degrees "
             f"beyond it {one} still gives {plain(100 * share)} % of its light.",
    ),)


def _spill(row: SectorLamp) -> float:
    if row.axis_deg is None:
        return 0.0 if row.width_deg >= 360 else 1.0
    return spill_share(row.order, axis_deg=row.axis_deg, from_deg=row.from_deg, to_deg=row.to_deg)


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
