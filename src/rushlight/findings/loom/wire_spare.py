"""A lead or fibre that was cut too short."""

from __future__ import annotations

from rushlight.findings._as_built import cut_piece
from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for done in design.plan.as_built:
        piece = cut_piece(design, done)
        if isinstance(piece, Lead) and done.length_mm is not None:
            wanted = _wanted_mm(design, piece)
            if done.length_mm < wanted - 1e-6:
                found.append(_trouble(piece, done.length_mm, wanted))
    return tuple(found)


def _wanted_mm(design: Design, lead: Lead) -> float:
    habits = design.drawer.habit
    return lead.length_mm * (1 + (habits("wire_spare").low or 0.0)) + (habits("wire_spare_mm").low or 0.0)


def _trouble(lead: Lead, cut_mm: float, wanted_mm: float) -> Trouble:
    short = cut_mm < lead.length_mm
    effect = "it does not reach" if short else "little is left to strip and solder"
    first = lead.legs[0] if lead.legs else None
    return Trouble(
        item=lead.name, spot=Spot(first.part, *first.points_mm[0]) if first else None, number=cut_mm, limit=wanted_mm,
        grade=Grade.WILL_FAIL if short else None,
        says=capital(f"Lead {lead.name} was cut to {plain(cut_mm, 3)} mm; its way is {plain(lead.length_mm, 3)} mm, "
                     "and "
                     f"{plain(wanted_mm, 3)} mm leaves enough for its ends: {effect}."),
        cure=f"Cut it anew, {lead.cut_mm:g} mm long." if short else "",
    )


RULE = Rule(
    key="loom.wire-spare",
    grade=Grade.DOUBTFUL,
    title="Lead cut too short",
    unit="mm",
    why="A lead that just reaches pulls at its joint and cannot be soldered a second time.",
    cure="Lay it first of all and see that it reaches; keep the next ones longer.",
    source=PRACTICE,
    practice="wire_spare",
    look=_look,
)
