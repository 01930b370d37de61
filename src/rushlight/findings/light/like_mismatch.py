"""A lamp that was to be as bright as another and is not."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean

from rushlight.findings._words import Entry, entries, plain, spot_of
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
        if worst is not None and worst.off > most * (1 + 1e-9):
            found.append(_trouble(design, entry, worst, most))
    return tuple(found)


def _means(design: Design, *, by_luminance: bool) -> dict[str, dict[str, float]]:
    """Mean effective intensity of each lamp, row or strip in each state that lights it; of windows alone the effective
    luminance, by which they look alike whatever their size."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    kinds = {source.lamp: source.kind for source in design.sources} if by_luminance else {}
    groups: dict[str, dict[str, list[float]]] = {}
    for light in design.light.lamps:
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
        says=f"'{entry.name}' should be {times} '{entry.brightness.like}' and comes out {plain(worst.off)} times "
             f"{word}{where}; {plain(most)} times is hardly seen.",
        cure=_cure(design, worst),
    )


def _cure(design: Design, worst: _Off) -> str:
    switch = design.power.switch
    if worst.steered and switch is not None and switch.diodes:
        return ("A steering diode takes some 0.7 V of one of them in some states only. Take a supply of more volts "
                "(each makes them more alike), a switch with a pole for each circuit, or a regulator for each circuit.")
    times = plain(1 / worst.got, 2) if worst.got > 0 else "more"
    return f"Give it {times} times its current, held (plan file: current_ma under pinned)."


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
