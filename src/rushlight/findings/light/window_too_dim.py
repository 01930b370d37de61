"""Windows that a strip does not make bright enough to look lit."""

from __future__ import annotations

from rushlight.findings._windows import SPREAD, StripWindow, strip_windows
from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.wanted_look import TOO_DIM


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, row) for row in strip_windows(design, brightest=False)
        if row.is_cd_m2 < row.wanted_cd_m2 / SPREAD
    )


def _trouble(design: Design, row: StripWindow) -> Trouble:
    least = row.wanted_cd_m2 / SPREAD
    gives, sure = row.told(least, TOO_DIM)
    return Trouble(
        item=row.strip, spot=design.lamp(row.light.lamp).spot, number=row.is_cd_m2, limit=least,
        says=f"'{row.light.lamp}' will have {gives}; in a {row.room} a lit window looks right at "
             f"{plain(row.wanted_cd_m2)}, down to {plain(least)} cd/m2: {sure}.",
    )


RULE = Rule(
    key="light.window-too-dim",
    grade=Grade.DOUBTFUL,
    title="Windows too dim",
    unit="cd/m2",
    why="A window no brighter than the wall round it looks dark.",
    cure="Let the strip run behind the window, bring it nearer, take a clearer sheet or fewer of them, and see that "
         "the strip gets its voltage.",
    source="light of the real LEDs through the sheets; usual brightness of things in a room, to a factor of three",
    look=_look,
)
