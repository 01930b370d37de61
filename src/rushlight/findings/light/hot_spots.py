"""Windows whose light is seen to be uneven."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.strip_cures import strip_cures
from rushlight.stages.strip_words import cure_words, ratio_words
from rushlight.stages.strips import LOOKING

PLAINLY = 2 * LOOKING
"""Twice the upper end of ordinary looking (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    strips: dict[str, list[StripLight]] = {}
    for row in design.light.strips:
        if row.times_spots >= LOOKING:
            strips.setdefault(row.strip, []).append(row)
    return tuple(_trouble(design, name, rows) for name, rows in strips.items())


def _trouble(design: Design, name: str, rows: list[StripLight]) -> Trouble:
    worst = max(rows, key=lambda row: row.times_spots)
    windows = [f"'{row.opening}'" for row in rows]
    return Trouble(
        item=name, spot=design.lamp(worst.lamp).spot, number=worst.times_spots, limit=LOOKING,
        grade=None if worst.times_spots >= PLAINLY else Grade.COULD_BE_BETTER,
        cure=cure_words(strip_cures(design, name)),
        says=f"{listed(windows)} of '{name}': from where one looks the light swings {plain(worst.times_spots)} times "
             f"as much as a trained eye just sees (brightest to darkest {ratio_words(worst.ratio_spots)}); under "
             f"{plain(LOOKING)} times ordinary looking passes over it.",
    )


RULE = Rule(
    key="light.hot-spots",
    grade=Grade.DOUBTFUL,
    title="Windows unevenly lit",
    unit="times",
    why="The LEDs show as spots, or a window fades to one side: no lit room looks like that.",
    cure="Move the strip, let it run on, set it back, or put a second sheet: as it was tried.",
    source="light of the real LEDs behind the sheets, weighed by what contrast an eye sees; the words for "
           "it are a project proposal; each cure tried so on the plan as it lies",
    look=_look,
)
