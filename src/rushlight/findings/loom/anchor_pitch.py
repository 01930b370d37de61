"""Leads held down too seldom along their way."""

from __future__ import annotations

from itertools import pairwise

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.loom._anchors import BESIDE_MM, held_at_mm, leg_mm
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Leg, Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("anchor_pitch").high or 40.0
    wide: dict[str, list[tuple[float, str, Spot]]] = {}
    for lead in design.loom.leads:
        for leg in lead.legs:
            gap = _widest_mm(design, leg)
            if gap > limit + BESIDE_MM:
                wide.setdefault(leg.part, []).append((gap, lead.name, Spot(leg.part, *leg.points_mm[0])))
    return tuple(_trouble(part, rows, limit) for part, rows in wide.items())


def _widest_mm(design: Design, leg: Leg) -> float:
    """The longest stretch of a leg without an anchor."""
    held = held_at_mm(design, leg)
    return max((b - a for a, b in pairwise(held)), default=0.0 if held else leg_mm(leg))


def _trouble(part: str, rows: list[tuple[float, str, Spot]], limit: float) -> Trouble:
    gap, _, spot = max(rows, key=lambda row: row[0])
    return Trouble(
        item=part, spot=spot, number=gap, limit=limit,
        says=capital(f"On '{part}' {listed([name for _, name, _ in rows])} lie free over {plain(gap)} mm; "
                     f"{plain(limit)} mm is the most."),
    )


RULE = Rule(
    key="loom.anchor-pitch",
    grade=Grade.COULD_BE_BETTER,
    title="Leads held down too seldom",
    unit="mm",
    why="A loose lead wanders into the light of a window, or over an edge when the model is closed.",
    cure="Tape or glue it down in between.",
    source=PRACTICE,
    practice="anchor_pitch",
    look=_look,
)
