"""Lamps of one row that do not look alike."""

from __future__ import annotations

from rushlight.findings._lights import emitters_of, times_current
from rushlight.findings._words import plain, times_words
from rushlight.model.design import Design
from rushlight.model.design_light import RowLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import most_apart


def _look(design: Design) -> tuple[Trouble, ...]:
    most = most_apart(design.drawer)
    return tuple(_trouble(design, row, most) for row in design.light.rows if row.ratio > most)


def _trouble(design: Design, row: RowLight, most: float) -> Trouble:
    feeds = emitters_of(design)
    first, second = feeds.get(row.brightest), feeds.get(row.dimmest)
    same = first is not None and second is not None and first.name == second.name
    wide = sorted({mm for name in (row.brightest, row.dimmest) if (mm := design.source(name).fibre_mm)})
    more = plain(times_current(design, row.dimmest, row.ratio))
    cure = (
        f"Their fibres are {plain(wide[0])} and {plain(wide[1])} mm wide: take one width for the row, held (plan "
        "file: fibre_mm under pinned)." if len(wide) > 1 and same else
        "Put fewer fibres on the LED (plan file: fibres_per_led under pinned), or take a wider one: the outer ring of "
        "their bundle lies at the edge of what shines."
        if same else
        f"They hang on two LEDs: give the one of '{row.dimmest}' {more} times the current."
    )
    ratio = min(row.ratio, 1e6)
    return Trouble(
        item=row.group, spot=design.lamp(row.dimmest).spot, number=ratio, limit=most, cure=cure,
        says=f"In the row '{row.group}' '{row.brightest}' is {times_words(ratio)} times as bright as "
             f"'{row.dimmest}' in '{row.state}'; {plain(most)} times at most looks even.",
    )


RULE = Rule(
    key="light.row-uneven",
    grade=Grade.DOUBTFUL,
    title="Row looks uneven",
    unit="times",
    why="The eye compares neighbours: a dim one in a row looks like a fault.",
    cure="Feed the row from fewer fibres an LED.",
    source="habit equal: common practice; the rules' own limit between parts of a sector is 1.5 too",
    practice="equal",
    look=_look,
)
