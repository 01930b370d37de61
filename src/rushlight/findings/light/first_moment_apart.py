"""Lamps that match once they have settled and do not in the first moment."""

from __future__ import annotations

from statistics import fmean

from rushlight.findings._words import entries, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import most_apart


def _look(design: Design) -> tuple[Trouble, ...]:
    most = most_apart(design.drawer)
    return (*_rows(design, most), *_likes(design, most))


def _rows(design: Design, most: float) -> list[Trouble]:
    return [
        Trouble(item=row.group, spot=spot_of(design, row.group), number=row.first_ratio, limit=most,
                says=f"In the row '{row.group}' the brightest is {plain(row.first_ratio)} times the dimmest in the "
                     f"first moment of '{row.state}', and {plain(row.ratio)} times once they are warm; {plain(most)} "
                     "times looks even.")
        for row in design.light.rows if row.ratio <= most < row.first_ratio
    ]


def _likes(design: Design, most: float) -> list[Trouble]:
    """Entries that were to be as bright as others."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    lights: dict[tuple[str, str], list[LampLight]] = {}
    for light in design.light.lamps:
        lights.setdefault((group_of[light.lamp], light.state), []).append(light)
    found = []
    for entry in entries(design):
        like = entry.brightness.like or ""
        both = [state for group, state in lights if group == entry.name and (like, state) in lights]
        offs = {state: _off(lights, entry.name, like, state, entry.brightness.ratio) for state in both}
        worst = max(offs, key=lambda state: offs[state][1], default="")
        settled, first = offs.get(worst, (1.0, 1.0))
        if settled <= most < first:
            found.append(Trouble(
                item=entry.name, spot=spot_of(design, entry.name), number=first, limit=most,
                says=f"'{entry.name}' and '{like}' are {plain(first)} times off what was asked in the first moment of "
                     f"'{worst}', and {plain(settled)} times once they are warm; {plain(most)} times is hardly seen."))
    return found


def _off(
    lights: dict[tuple[str, str], list[LampLight]], name: str, like: str, state: str, ratio: float
) -> tuple[float, float]:
    """How many times off the asked ratio, settled and in the first moment; 1 where one of them is dark."""
    own, other = lights[name, state], lights[like, state]
    return (_times(fmean(row.effective_cd for row in own) / ratio, fmean(row.effective_cd for row in other)),
            _times(_first_cd(own) / ratio, _first_cd(other)))


def _first_cd(lights: list[LampLight]) -> float:
    return fmean(row.effective_cd * row.first_times for row in lights)


def _times(one: float, other: float) -> float:
    return max(one / other, other / one) if one > 0 and other > 0 else 1.0


RULE = Rule(
    key="light.first-moment-apart",
    grade=Grade.COULD_BE_BETTER,
    title="Alike when warm, not in the first moment",
    unit="times",
    why="Just switched on, LEDs that get hot later are brighter than planned: lamps that match when warm do not yet.",
    cure="Bring them nearer in warmth: less power in the hotter space, vents, or LEDs of one colour and kind for both.",
    source="the network's first moment at the room's temperature; light and warmth of LEDs; habit equal",
    look=_look,
)
