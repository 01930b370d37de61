"""Windows whose light is seen to be uneven."""

from __future__ import annotations

import math

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.sheet import second_sheet_factor
from rushlight.stages.strips import LOOKING

ASIDE_MM = 1.0
"""A strip this near to its window's middle lies behind it."""


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
        grade=None if worst.times_spots >= PLAINLY else Grade.COULD_BE_BETTER, cure=_cure(worst),
        says=f"{listed(windows)} of '{name}': from where one looks the light swings {plain(worst.times_spots)} times "
             f"as much as a trained eye just sees (along its middle by {plain(100 * worst.contrast)} %); under "
             f"{plain(LOOKING)} times ordinary looking passes over it.",
    )


def _cure(worst: StripLight) -> str:
    """Spots come from the gap; a slope comes from a strip that ends too soon, or lies beside the window."""
    if worst.gap_mm < worst.needed_gap_mm:
        return (f"Set the strip back from {plain(worst.gap_mm)} to {plain(worst.needed_gap_mm)} mm, or add a second "
                f"sheet {plain(_second_sheet_mm(worst))} mm behind the first, or take a strip with LEDs "
                f"{plain(worst.pitch_mm * worst.gap_mm / worst.needed_gap_mm)} mm apart.")
    aside = abs(worst.aside_mm)
    move = f"Move the strip {plain(aside)} mm, to the middle of the window, or let" if aside > ASIDE_MM else "Let"
    return (f"The gap is wide enough: it is the slope of the light that shows. {move} it run "
            f"{plain(worst.gap_mm)} mm past the last window, or paint the channel's ends white.")


def _second_sheet_mm(worst: StripLight) -> float:
    """Free gap of a second sheet that leaves as much of the pattern as ordinary looking passes over."""
    low, high = 0.0, 3.0 * worst.pitch_mm
    for _ in range(30):
        middle = (low + high) / 2
        left = second_sheet_factor(worst.pitch_mm, middle) * worst.times_spots
        low, high = (middle, high) if left > LOOKING else (low, middle)
    return math.ceil(2 * high) / 2


RULE = Rule(
    key="light.hot-spots",
    grade=Grade.DOUBTFUL,
    title="Windows unevenly lit",
    unit="times",
    why="The LEDs show as spots, or a window fades to one side: no lit room looks like that.",
    cure="Set the strip further back.",
    source="light of the real LEDs behind the sheets, weighed by what contrast an eye sees; the words for "
           "it are a project proposal",
    look=_look,
)
