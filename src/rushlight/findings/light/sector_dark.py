"""Sector and all-round lights whose lamp does not reach the edges of what it should show over."""

from __future__ import annotations

from rushlight.findings._sectors import SectorLamp, sector_lamps
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

LEAST = 0.1
"""Light at a bearing that still counts as shown (project proposal)."""

DOME = "a diffused LED, or a fibre's end melted to a bead and matted"


def _look(design: Design) -> tuple[Trouble, ...]:
    short = [row for row in sector_lamps(design) if row.inside < LEAST]
    if not short:
        return ()
    worst = min(short, key=lambda row: row.inside)
    one = "the lamp" if len(short) == 1 else f"'{worst.name}'"
    names = [f"'{row.name}'" for row in short]
    return (Trouble(
        item=worst.name, spot=worst.spot, number=100 * worst.inside, limit=100 * LEAST, cure=_cure(worst),
        says=f"{listed(names, 4)} {'does' if len(names) == 1 else 'do'} not reach over the whole sector: where it is "
             f"dimmest in the {plain(worst.width_deg, 4)} degrees {one} gives {plain(100 * worst.inside)} % of its "
             "light.",
    ),)


def _cure(worst: SectorLamp) -> str:
    if worst.upright:
        return f"What points up or down is seen from the side by its dome alone: take {DOME}."
    if worst.width_deg > 180.0:
        return ("A lamp on a wall is dark behind it: stand it free, tip up (plan file: facing: up), with a dome: "
                f"{DOME}. A screen then cuts its sector.")
    return ("Let a fibre's end stand proud of the wall, melted to a bead and matted: it sends a quarter aside. Or "
            f"stand the lamp tip up (plan file: facing: up) with a dome: {DOME}.")


RULE = Rule(
    key="light.sector-dark",
    grade=Grade.COULD_BE_BETTER,
    title="Sector only partly lit",
    unit="%",
    why="Seen from the side the lamp is dark, where the subject's lamp is in plain view.",
    cure="Give the lamp a dome that is seen from the side.",
    source="cos^m law of the beam; what a dome sends to its side: tables of LEDs and of fibre ends",
    look=_look,
)
