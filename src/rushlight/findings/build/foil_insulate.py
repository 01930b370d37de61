"""Joints on a part that is lined with foil."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_part import Part


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for part in design.plan.parts:
        joints = _joints(design, part) if _bare_foil(design, part) else 0
        if joints:
            what = "LED or splice sits" if joints == 1 else "LEDs and splices sit"
            found.append(Trouble(item=part.name, says=f"'{part.name}' is lined with foil, and {joints} {what} on it."))
    return tuple(found)


def _bare_foil(design: Design, part: Part) -> bool:
    """Whether foil is the last coat, so that nothing covers it."""
    return bool(part.coats) and design.drawer.coat(part.coats[-1]).kind == "foil"


def _joints(design: Design, part: Part) -> int:
    spots = [emitter.spot for emitter in design.loom.emitters] + [splice.spot for splice in design.loom.splices]
    return sum(1 for spot in spots if spot.part == part.name)


RULE = Rule(
    key="build.foil-insulate",
    grade=Grade.DOUBTFUL,
    title="Joints on foil",
    unit="",
    why="Foil conducts: one bare leg or one burst sleeve on it shorts the supply.",
    cure="Paint over the foil, or sleeve every joint and LED leg and lay tape under it.",
    source=PRACTICE,
    practice="foil_insulate",
    look=_look,
)
