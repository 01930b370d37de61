"""Glued shut without a dry fit with everything wired."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return pair_troubles(design, "wired_dry_fit", "close")


RULE = Rule(
    key="build.dryfit-wired",
    grade=Grade.DOUBTFUL,
    title="No dry fit with everything wired",
    unit="",
    why="What went together bare may not go together with leads and bundles in it.",
    cure="Next time tape it shut once with everything in it; now test all states before going on.",
    source=PRACTICE,
    practice="dryfit_wired",
    look=_look,
)
