"""How alike the windows look that one source lights, and windows of several sources of which the plan says so."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.design_light import LampLight, WindowsAlike
from rushlight.model.design_loom import Emitter
from rushlight.model.plan import Brightness, Lamp, Plan, Row, Strip
from rushlight.stages.aim import WINDOWS

Root = str | Brightness
"""What a window is to be as bright as: an entry of the plan, or the same words of brightness."""


@dataclass(frozen=True, slots=True)
class _Window:
    """A lit window in one state: its source, what it is to be as bright as, and its luminance over how many times."""

    lamp: str
    source: str
    kind: str
    root: Root
    state: str
    cd_m2: float


def windows_alike(
    plan: Plan, lamps: Sequence[PlacedLamp], sources: Iterable[Source], emitters: Iterable[Emitter],
    lights: Iterable[LampLight],
) -> tuple[WindowsAlike, ...]:
    """Windows that should look alike, each group in the state in which its windows are farthest apart.

    Parameters
    ----------
    plan : Plan
        What each entry should be as bright as.
    lamps, sources, emitters : sequence
        As they are built.
    lights : iterable of LampLight
        Every lit lamp in every state.
    Returns
    -------
    tuple of WindowsAlike
        Windows of one strip, or of one LED in a room, that the plan does not want apart; then windows of several
        sources that one entry is to be as bright as another for. By luminance over what is asked of each; windows whose
        doors are shut, and single ones, are left out.
    Source
    ------
    Habit `equal` judges by brightest over dimmest (common practice, no source).
    """
    windows = _windows(plan, lamps, {row.lamp: row.kind for row in sources}, emitters, lights)
    own = _groups(windows, lambda row: (row.source, row.root))
    likes = {row.like for row in _entries(plan).values()}
    several = [row for row in windows if isinstance(row.root, str) and row.root in likes]
    across = [group for group in _groups(several, lambda row: row.root) if len({row.source for row in group}) > 1]
    return (*(_worst(group[0].source, group[0].kind, group) for group in own),
            *(_worst(str(group[0].root), "like", group) for group in across))


def _windows(
    plan: Plan, lamps: Sequence[PlacedLamp], kinds: Mapping[str, str], emitters: Iterable[Emitter],
    lights: Iterable[LampLight],
) -> list[_Window]:
    group_of = {lamp.name: lamp.group for lamp in lamps}
    feeds = {lamp: row for row in emitters for lamp in row.lamps}
    entries = _entries(plan)
    likes = {row.like for row in entries.values() if row.like is not None}
    asked = {group: _asked(entries, likes, group) for group in set(group_of.values())}
    found = []
    for light in lights:
        if kinds[light.lamp] in WINDOWS and light.luminance_cd_m2.typical > 0.0:
            root, times = asked[group_of[light.lamp]]
            emitter = feeds[light.lamp]
            found.append(_Window(light.lamp, emitter.name, emitter.kind, root, light.state,
                                 light.luminance_cd_m2.typical / times))
    return found


def _entries(plan: Plan) -> dict[str, Brightness]:
    written: tuple[Lamp | Row | Strip, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    return {entry.name: entry.brightness for entry in written}


def _asked(entries: Mapping[str, Brightness], likes: Collection[str], group: str) -> tuple[Root, float]:
    """What an entry is to be as bright as, at the end of a chain of likes, and how many times as bright."""
    name, times = group, 1.0
    seen = {name}
    while (like := entries[name].like) is not None and like in entries and like not in seen:
        times, name = times * entries[name].ratio, like
        seen.add(name)
    return (name if name in likes else entries[name]), times


def _groups(windows: Iterable[_Window], key: Callable[[_Window], Hashable]) -> list[list[_Window]]:
    """Windows of one key, where there are several of them."""
    made: dict[Hashable, list[_Window]] = {}
    for row in windows:
        made.setdefault(key(row), []).append(row)
    return [group for group in made.values() if len({row.lamp for row in group}) > 1]


def _worst(name: str, kind: str, windows: list[_Window]) -> WindowsAlike:
    """The first of the states in which they are farthest apart."""
    states: dict[str, list[_Window]] = {}
    for row in windows:
        states.setdefault(row.state, []).append(row)
    return max((_in_state(name, kind, group) for group in states.values()), key=lambda row: round(row.ratio, 6))


def _in_state(name: str, kind: str, windows: list[_Window]) -> WindowsAlike:
    most, least = (find(windows, key=lambda row: row.cd_m2) for find in (max, min))
    return WindowsAlike(
        name=name, kind=kind, state=most.state, brightest=most.lamp, dimmest=least.lamp,
        ratio=most.cd_m2 / least.cd_m2, over_dimmest=tuple((row.lamp, row.cd_m2 / least.cd_m2) for row in windows),
    )
