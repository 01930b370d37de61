"""Cabins that are all lit, or nearly all dark."""

from __future__ import annotations

import re

from rushlight.findings._words import plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Row

CABINS = re.compile(r"cabin|port(light|hole)s?|scuttle|window|bedroom|berth|flat|house|hotel|office", re.IGNORECASE)
FEWEST = 6
"""A row of fewer windows says nothing about how many are awake (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("random_windows")
    low, high = habit.low or 0.0, habit.high or 1.0
    found = []
    for row in design.plan.rows:
        lamps = [lamp for lamp in design.lamps if lamp.group == row.name]
        if len(lamps) < FEWEST or row.rule or row.rhythm != "steady" or not _is_cabins(row) or not row.states:
            continue
        dark = sum(lamp.dark for lamp in lamps)
        share = 1 - dark / len(lamps)
        if not _near(low, share, high, len(lamps)):
            found.append(_trouble(design, row, share, low=low, high=high))
    return tuple(found)


def _is_cabins(row: Row) -> bool:
    return row.dark_share > 0 or CABINS.search(row.name) is not None


def _near(low: float, share: float, high: float, count: int) -> bool:
    """Within the interval, or as near as whole lamps come to it."""
    return low - 0.5 / count <= share <= high + 0.5 / count


def _trouble(design: Design, row: Row, share: float, *, low: float, high: float) -> Trouble:
    limit = low if share < low else high
    return Trouble(
        item=row.name, spot=spot_of(design, row.name), number=100 * share, limit=100 * limit,
        says=f"{plain(100 * share)} % of '{row.name}' are lit; at night {plain(100 * low)} to {plain(100 * high)} % "
             "looks lived in.",
        cure=f"Leave {plain(100 - 50 * (low + high))} % of them dark (plan file: dark_share): they are drilled all the "
             "same, and shut from behind with black, so that the light inside does not show in them.",
    )


RULE = Rule(
    key="light.windows-lit",
    grade=Grade.COULD_BE_BETTER,
    title="All cabins lit",
    unit="%",
    why="Nobody lights all cabins: a row without gaps looks like a string of fairy lights.",
    cure="Leave some dark.",
    source="habit random_windows: common practice, no source",
    practice="random_windows",
    look=_look,
)
