"""A lamp that was to be as bright as another and is not."""

from __future__ import annotations

from statistics import fmean

from rushlight.findings._lights import brightest
from rushlight.findings._words import Entry, entries, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    most = design.drawer.habit("equal").high or 1.5
    means = _means(design)
    found = []
    for entry in entries(design):
        like = entry.brightness.like
        if like is None or like not in means or entry.name not in means or means[like] <= 0:
            continue
        got = means[entry.name] / means[like] / entry.brightness.ratio
        off = max(got, 1 / got) if got > 0 else 1e6
        if off > most * (1 + 1e-9):
            found.append(_trouble(design, entry, got=got, off=min(off, 1e6), most=most))
    return tuple(found)


def _means(design: Design) -> dict[str, float]:
    """Mean intensity of each lamp, row or strip, each lamp in its brightest state."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    groups: dict[str, list[float]] = {}
    for name, light in brightest(design).items():
        groups.setdefault(group_of[name], []).append(light.intensity_cd.typical)
    return {group: fmean(values) for group, values in groups.items()}


def _trouble(design: Design, entry: Entry, *, got: float, off: float, most: float) -> Trouble:
    asked = entry.brightness.ratio
    times = "as bright as" if asked == 1 else f"{plain(asked)} times as bright as"
    word = "brighter" if got > 1 else "dimmer"
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name), number=off, limit=most,
        says=f"'{entry.name}' should be {times} '{entry.brightness.like}' and comes out {plain(off)} times {word}; "
             f"{plain(most)} times is hardly seen.",
        cure=f"Give it {plain(1 / got, 2) if got > 0 else 'more'} times its current (current_ma under pinned).",
    )


RULE = Rule(
    key="light.like-mismatch",
    grade=Grade.DOUBTFUL,
    title="Not as bright as its like",
    unit="times",
    why="The two were meant to look alike, and side by side the eye sees the difference.",
    cure="Change the current of one of them.",
    source="the plan's own wish; habit equal",
    look=_look,
)
