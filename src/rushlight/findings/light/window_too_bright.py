"""Windows that a strip makes far brighter than lit windows look."""

from __future__ import annotations

from rushlight.findings._windows import SPREAD, StripWindow, strip_windows
from rushlight.findings._words import LEAST_SHEET_PERCENT, percent_words, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.wanted_look import TOO_BRIGHT


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, row) for row in strip_windows(design, brightest=True)
        if row.is_cd_m2 > row.wanted_cd_m2 * SPREAD
    )


def _trouble(design: Design, row: StripWindow) -> Trouble:
    gives, sure = row.told(row.wanted_cd_m2 * SPREAD, TOO_BRIGHT)
    share = 100 * row.wanted_cd_m2 / row.is_cd_m2
    return Trouble(
        item=row.strip, spot=design.lamp(row.light.lamp).spot, number=row.is_cd_m2, limit=row.wanted_cd_m2 * SPREAD,
        says=f"The windows of '{row.strip}' will have {gives}; in a {row.room} a lit window looks right at "
             f"{plain(row.wanted_cd_m2)}, up to {plain(row.wanted_cd_m2 * SPREAD)} cd/m2: {sure}.",
        cure=_cure(share),
    )


def _cure(percent: float) -> str:
    small = "light the room with one small LED instead"
    if percent < LEAST_SHEET_PERCENT:
        return f"To {percent_words(percent)} neither a dimmer nor a sheet brings it: {small}."
    return (f"Dim the strip to {plain(percent)} % (a dimmer or a series resistor), hang white paper or grey film "
            f"behind the windows, or {small}.")


RULE = Rule(
    key="light.window-too-bright",
    grade=Grade.COULD_BE_BETTER,
    title="Windows too bright",
    unit="cd/m2",
    why="Strips are made to light rooms of our own size: behind small windows they glare and outshine every lamp.",
    cure="Dim the strip.",
    source="light of the real LEDs through the sheets; usual brightness of things in a room, to a factor of three",
    look=_look,
)
