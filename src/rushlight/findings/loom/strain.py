"""A joint or an exit without an anchor near it."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.loom._anchors import BESIDE_MM, held_at_mm, leg_mm
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Leg, Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("strain").high or 15.0
    loose: dict[str, list[tuple[float, str, Spot]]] = {}
    for lead in design.loom.leads:
        for leg in lead.legs:
            free, spot = _free_mm(design, leg)
            if free > limit + BESIDE_MM:
                loose.setdefault(leg.part, []).append((free, lead.name, spot))
    return tuple(_trouble(part, rows, limit) for part, rows in loose.items())


def _free_mm(design: Design, leg: Leg) -> tuple[float, Spot]:
    """The longest free end of a leg; a leg without an anchor hangs free over half of its length."""
    held, length = held_at_mm(design, leg), leg_mm(leg)
    start, end = Spot(leg.part, *leg.points_mm[0]), Spot(leg.part, *leg.points_mm[-1])
    if not held:
        return length / 2, start
    return max((held[0], start), (length - held[-1], end), key=lambda pair: pair[0])


def _trouble(part: str, rows: list[tuple[float, str, Spot]], limit: float) -> Trouble:
    free, _, spot = max(rows, key=lambda row: row[0])
    names = listed([name for _, name, _ in rows])
    return Trouble(
        item=part, spot=spot, number=free, limit=limit,
        says=capital(f"On '{part}' the ends of {names} hang free over {plain(free)} mm; an anchor belongs within "
                     f"{plain(limit)} mm of every joint and exit."),
    )


RULE = Rule(
    key="loom.strain",
    grade=Grade.COULD_BE_BETTER,
    title="No strain relief at a joint",
    unit="mm",
    why="A pull at the lead ends at the solder joint, which breaks where the strands are stiff with solder.",
    cure="Hold the lead down with tape or a drop of glue next to the joint.",
    source=PRACTICE,
    practice="strain",
    look=_look,
)
