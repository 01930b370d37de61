"""A lamp that was to be as bright as another and is not."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean

from rushlight.findings._lights import emitters_of, times_current
from rushlight.findings._words import (
    LEAST_SHEET_PERCENT,
    Entry,
    entries,
    percent_words,
    plain,
    spot_of,
    times_words,
)
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.aim import WINDOWS
from rushlight.stages.parts_law import most_apart

MOST_TOLD = 1e6

STEERED = 1.1
"""A lamp whose light changes by more than this share between states passes a steering diode in some."""


@dataclass(frozen=True, slots=True)
class _Off:
    """How far an entry is from its like in the state where it is farthest: what it gives over what was asked."""

    state: str
    got: float
    off: float
    steered: bool


def _look(design: Design) -> tuple[Trouble, ...]:
    most = most_apart(design.drawer)
    candelas, luminances = _means(design, by_luminance=False), _means(design, by_luminance=True)
    found = []
    for entry in entries(design):
        like = entry.brightness.like
        means = luminances if {entry.name, like} <= luminances.keys() else candelas
        worst = _worst(means.get(entry.name, {}), means.get(like or "", {}), entry.brightness.ratio)
        if worst is not None and worst.off > most * (1 + 1e-9) and not _compared(design, entry):
            found.append(_trouble(design, entry, worst, most))
    return tuple(found)


def _of_one_source(design: Design, entry: Entry) -> bool:
    """Whether an entry and the one that it should be like are lit by the very same LEDs."""
    feeds, group_of = emitters_of(design), {lamp.name: lamp.group for lamp in design.lamps}
    own, like = ({feeds[lamp].name for lamp, group in group_of.items() if group == name and lamp in feeds}
                 for name in (entry.name, entry.brightness.like))
    return bool(own) and own == like


def _compared(design: Design, entry: Entry) -> bool:
    """Whether they are windows of one source that are compared with each other: light.windows-differ tells of them."""
    if not _of_one_source(design, entry):
        return False
    groups = {lamp.name: lamp.group for lamp in design.lamps}
    return any({entry.name, entry.brightness.like} <= {groups[lamp] for lamp, _ in row.over_dimmest}
               for row in design.light.alike if row.kind != "like")


def _means(design: Design, *, by_luminance: bool) -> dict[str, dict[str, float]]:
    """Mean effective intensity of each lamp, row or strip in each state that lights it; of windows alone the effective
    luminance, by which they look alike whatever their size."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    kinds = {source.lamp: source.kind for source in design.sources} if by_luminance else {}
    groups: dict[str, dict[str, list[float]]] = {}
    for light in (light.looked_at for light in design.light.lamps):
        if not by_luminance or kinds[light.lamp] in WINDOWS:
            share = light.effective_cd / light.intensity_cd.typical if light.intensity_cd.typical > 0 else 0.0
            value = share * light.luminance_cd_m2.typical if by_luminance else light.effective_cd
            groups.setdefault(group_of[light.lamp], {}).setdefault(light.state, []).append(value)
    return {name: {state: fmean(values) for state, values in states.items()} for name, states in groups.items()}


def _worst(own: dict[str, float], like: dict[str, float], ratio: float) -> _Off | None:
    """The state in which both are lit and differ most; where none lights both, each in its brightest."""
    both = {state: (own[state], like[state]) for state in own if like.get(state, 0.0) > 0}
    if not both and own and max(like.values(), default=0.0) > 0:
        both = {"": (max(own.values()), max(like.values()))}
    if not both:
        return None
    got = {state: one / other / ratio for state, (one, other) in both.items()}
    off = {state: min(max(value, 1 / value), MOST_TOLD) if value > 0 else MOST_TOLD for state, value in got.items()}
    state = max(off, key=lambda name: off[name])
    return _Off(state, got[state], off[state], max(off.values()) > STEERED * min(off.values()) or _steps(own, like))


def _steps(own: dict[str, float], like: dict[str, float]) -> bool:
    """Whether one of the two changes from state to state: a steering diode lies in its feed in some of them."""
    return any(max(row.values()) > STEERED * min(row.values()) > 0 for row in (own, like) if row)


def _trouble(design: Design, entry: Entry, worst: _Off, most: float) -> Trouble:
    asked = entry.brightness.ratio
    times = "as bright as" if asked == 1 else f"{plain(asked)} times as bright as"
    word = "brighter" if worst.got > 1 else "dimmer"
    where = f" in '{worst.state}'" if worst.state else ""
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name), number=worst.off, limit=most,
        says=f"'{entry.name}' should be {times} '{entry.brightness.like}' and comes out {times_words(worst.off)} times "
             f"{word}{where}; {plain(most)} times is hardly seen.",
        cure=_cure(design, entry, worst),
    )


def _cure(design: Design, entry: Entry, worst: _Off) -> str:
    if _of_one_source(design, entry):
        return _apart_words(design, entry, worst)
    switch = design.power.switch
    if worst.steered and switch is not None and switch.diodes:
        return ("A steering diode takes some 0.7 V of one of them in some states only. Take a supply of more volts "
                "(each makes them more alike), a switch with a pole for each circuit, or a regulator for each circuit.")
    lamp = next(row.name for row in design.lamps if row.group == entry.name)
    times = plain(times_current(design, lamp, 1 / worst.got), 2) if worst.got > 0 else "more"
    return f"Give it {times} times its current, held (plan file: current_ma under pinned)."


def _apart_words(design: Design, entry: Entry, worst: _Off) -> str:
    """What sets two lamps of one LED apart, as no current can."""
    brighter = entry.name if worst.got > 1 else entry.brightness.like
    feeds, left = emitters_of(design), 100 / worst.off
    tails = [lamp.name for lamp in design.lamps if lamp.group == brighter and feeds[lamp.name].kind == "illuminator"]
    both = "One LED lights both, so no current sets them apart"
    if tails:
        own = ("an LED of its own (plan file: bundle under pinned): no fibre for it is thin enough, its area would "
               f"have to be {percent_words(left)} of what it is")
        return f"{both}: give '{brighter}' {_thinner(design, tails[0], left / 100) or own}."
    if left < LEAST_SHEET_PERCENT:
        return (f"{both}: give each a room and an LED of its own; no sheet would do, it would have to let "
                f"{percent_words(left)} of the light of '{brighter}' through.")
    return (f"{both}: hang a sheet behind '{brighter}' that lets {percent_words(left)} of its light through, or give "
            "each a room and an LED of its own.")


def _thinner(design: Design, lamp: str, share: float) -> str | None:
    """The fibre of the drawer whose core has about that share of the area; None where all are too wide."""
    now_mm = design.drawer.fibre(design.source(lamp).fibre_mm or 0.0).core_mm
    even = most_apart(design.drawer)
    fits = [(abs(math.log(left / share)), row, left) for row in design.drawer.fibres
            if (left := (row.core_mm / now_mm) ** 2) < 1.0 and 1 / even <= left / share <= even]
    if not fits:
        return None
    _, row, left = min(fits, key=lambda one: (one[0], one[1].diameter_mm))
    return f"fibre of {plain(row.diameter_mm)} mm ({plain(100 * left)} % of the area), or an LED of its own"


RULE = Rule(
    key="light.like-mismatch",
    grade=Grade.DOUBTFUL,
    title="Not as bright as its like",
    unit="times",
    why="The two were meant to look alike, and side by side the eye sees the difference.",
    cure="Change the current of one of them.",
    source="the plan's own wish, in each state that lights both; habit equal",
    look=_look,
)
