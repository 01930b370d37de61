"""Fuming superglue in a space with clear parts."""

from __future__ import annotations

import re

from rushlight.findings._as_built import Logged, log
from rushlight.findings._words import listed
from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

FUMES = re.compile(r"cyano|super ?glue|\bca\b|instant glue", re.IGNORECASE)


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for row in log(design):
        used = row.done.used or ""
        clear = _clear_near(design, row) if FUMES.search(used) and "non-fuming" not in used.casefold() else []
        if clear:
            found.append(Trouble(
                item=row.done.part or row.done.step,
                says=f"'{used}' was used at '{row.done.step}', in one space with the clear parts of {listed(clear)}."))
    return tuple(found)


def _clear_near(design: Design, row: Logged) -> list[str]:
    """Parts with clear openings on the entry's part or in one space with it; all of them where it names no part."""
    part = row.done.part
    near = {name for space in design.plan.spaces if part in space.parts for name in space.parts} | {part}
    return [
        f"'{one.name}'" for one in design.plan.parts
        if (part is None or one.name in near) and any(opening.clear for opening in one.openings)
    ]


RULE = Rule(
    key="build.no-ca-near-clear",
    grade=Grade.DOUBTFUL,
    title="Fuming glue near clear parts",
    unit="",
    why="Superglue vapour settles as a white bloom on clear parts and fibre ends, worst in a closed model.",
    cure="Air it well and polish what can be reached; near clear parts use a non-fuming or a canopy glue.",
    source=PRACTICE + "; maker safety data sheets (from memory)",
    practice="no_ca_near_clear",
    caution="ca_fumes",
    look=_look,
)
