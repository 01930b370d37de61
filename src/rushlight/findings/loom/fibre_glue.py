"""A glue that attacks the fibre was used."""

from __future__ import annotations

import re

from rushlight.findings._as_built import log
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

ATTACKS = re.compile(
    r"solvent|cement|hot.?melt|hot glue|cyano|\bca\b|super ?glue|polystyrene glue|thinner|acetone", re.IGNORECASE
)
STEPS = ("glue_fibre", "feed_fibre", "join_bundle", "cut_fibre")


def attacks(used: str) -> bool:
    """Whether what was used harms acrylic."""
    return bool(ATTACKS.search(used)) and "non-fuming" not in used.casefold()


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=row.done.part or row.done.step,
                says=f"The log of '{row.done.step}' says '{row.done.used}' was used on fibre.")
        for row in log(design)
        if row.key in STEPS and attacks(row.done.used or "")
    )


RULE = Rule(
    key="loom.fibre-glue",
    grade=Grade.WILL_FAIL,
    title="Glue that attacks the fibre",
    unit="",
    why="Cement, strong thinners, hot glue and fuming superglue soften, craze or cut acrylic fibre, often days later.",
    cure="Hold fibre with canopy glue, PVA or slow epoxy; light each tail again and renew those that went dim.",
    source=PRACTICE + "; public material pages on PMMA",
    practice="fibre_glue",
    caution="solvent_cement",
    look=_look,
)
