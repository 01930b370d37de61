"""Lights of the rule that hang too close together in their vertical line."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.rule_places import Gap, vertical_gaps

ROUNDING = 0.995
"""Half a percent is let pass: places are read off in tenths of a millimetre."""


def _look(design: Design) -> tuple[Trouble, ...]:
    told: dict[tuple[str, str], Gap] = {}
    for gap in vertical_gaps(design.plan, design.lamps):
        if gap.gap_m < gap.least_m * ROUNDING:
            told.setdefault((gap.upper, gap.lower), gap)
    return tuple(_trouble(design, gap) for gap in told.values())


def _trouble(design: Design, gap: Gap) -> Trouble:
    scale = design.plan.subject.scale
    model_mm = 1000 * gap.least_m / scale
    return Trouble(
        item=gap.upper, spot=design.lamp(gap.upper).spot, number=gap.gap_m, limit=gap.least_m,
        says=f"'{gap.upper}' hangs {plain(gap.gap_m, 3)} m over '{gap.lower}' on the subject; in '{gap.state}' the "
             f"rule asks for {plain(gap.least_m)} m.",
        cure=f"Move it to {plain(model_mm, 3)} mm over '{gap.lower}' on the model.",
    )


RULE = Rule(
    key="plan.rule-light-spacing",
    grade=Grade.DOUBTFUL,
    title="Lights too close in their vertical line",
    unit="m",
    why="From a distance two lights of one line must be told apart; at scale one sees it at once.",
    cure="Move them apart.",
    source="COLREGs 1972 Annex I 2(i), for a model only; the part is taken to be drawn upright",
    look=_look,
)
