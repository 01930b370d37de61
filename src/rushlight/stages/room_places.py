"""Windows that one LED in a room lights unlike each other: another place for it, and a second LED, as tried."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import combinations

from rushlight.model.design import Design
from rushlight.model.design_light import WindowsAlike
from rushlight.model.place import Point
from rushlight.model.plan import Plan, Space
from rushlight.stages.parts_law import most_apart
from rushlight.stages.room_match import Key, law_of, openings_of
from rushlight.stages.rooms import opening_named, shared_space, windows_of

ACROSS, DEEP = 6, 4
"""Places that are tried lie so many parts of the room's width and depth apart (project rule)."""

LEAST_MOVE_MM = 2.0
"""Lesser moves are not told: nobody glues an LED finer under a ceiling (project rule)."""

WALLS_SEEN = 2
"""A place is told by where one stands before the first window; of rooms with windows in further walls none is tried."""


@dataclass(frozen=True, slots=True)
class PlaceTrial:
    """An LED of a room elsewhere under its ceiling, or two: from the left and from the front as one stands before the
    first window [mm], and how far apart the windows then are."""

    space: str
    now_mm: Point
    places_mm: tuple[Point, ...]
    apart: float
    reaches: bool


def tried_places(design: Design, row: WindowsAlike) -> tuple[PlaceTrial, ...]:
    """The best other place of a room's LED, and the best two places for two.

    Parameters
    ----------
    design : Design
        The whole design.
    row : WindowsAlike
        Windows of an LED in a room.
    Returns
    -------
    tuple of PlaceTrial
        Of places that do the nearest to the present one, else the one that leaves least; of two LEDs, which share the
        current, those that leave least. Only what leaves less than now.
    Source
    ------
    `stages.rooms.room_light` at each place; the light of two LEDs adds up.
    """
    windows = openings_of(design, row) if row.kind == "room" else {}
    space = _space(design, windows)
    if space is None:
        return ()
    width, depth, _ = space.size_mm
    now = space.led_mm or (width / 2, depth / 2)
    grid = [(round(width * k / ACROSS, 1), round(depth * j / DEEP, 1)) for j in range(1, DEEP)
            for k in range(1, ACROSS)]
    lit = {place: _lit(design, row, windows, (space, place)) for place in dict.fromkeys([now, *grid])}
    singles = [_trial(design, row, (space, now), (place,), lit) for place in grid
               if math.dist(place, now) >= LEAST_MOVE_MM]
    middle = [place for place in grid if place[1] == round(depth / 2, 1)]
    pairs = [_trial(design, row, (space, now), pair, lit) for pair in combinations(middle, 2)]
    best = (min(singles, key=lambda one: (not one.reaches, math.dist(one.places_mm[0], now) if one.reaches
                                          else one.apart), default=None),
            min(pairs, key=lambda one: one.apart, default=None))
    return tuple(one for one in best if one is not None and one.apart < row.ratio / 1.02)


def _space(design: Design, windows: Mapping[str, Key]) -> Space | None:
    """The room of the windows, with windows in two walls at the most."""
    key = next(iter(windows.values()), None)
    space = shared_space(design.plan, opening_named(design.plan, *key)) if key else None
    if space is None:
        return None
    return space if len({part.name for part, _ in windows_of(design.plan, space)}) <= WALLS_SEEN else None


def _lit(design: Design, row: WindowsAlike, windows: Mapping[str, Key], hung: tuple[Space, Point]) -> dict[str, float]:
    """By window what the law gives with the LED at a place."""
    plan = _hung(design.plan, *hung)
    return {lamp: law_of(design, plan, key, row) for lamp, key in windows.items()}


def _hung(plan: Plan, space: Space, place: Point) -> Plan:
    return replace(plan, spaces=tuple(replace(own, led_mm=place) if own.name == space.name else own
                                      for own in plan.spaces))


def _trial(
    design: Design, row: WindowsAlike, now: tuple[Space, Point], places: tuple[Point, ...],
    lit: Mapping[Point, Mapping[str, float]],
) -> PlaceTrial:
    space, there = now
    given = dict(row.over_dimmest)
    times = {lamp: sum(lit[place][lamp] for place in places) / len(places) / was for lamp, was in lit[there].items()}
    seen = [given[lamp] * each for lamp, each in times.items()]
    apart = max(seen) / max(min(seen), 1e-12)
    return PlaceTrial(space.name, there, places, apart, apart <= most_apart(design.drawer))


def place_words(trial: PlaceTrial) -> str:
    """What is done: 'hang the LED 14 mm to the right, 52 mm from the left and 12 mm from the front of 'saloon''."""
    (x, y), there = trial.places_mm[0], f"of '{trial.space}'"
    if len(trial.places_mm) > 1:
        other = trial.places_mm[1][0]
        return (f"hang two of its LEDs, each with half the current, {x:.3g} and {other:.3g} mm from the left and "
                f"{y:.3g} mm from the front {there}; the plan holds one of them")
    told = [f"{abs(far):.3g} mm {ways[far < 0]}" for far, ways in (
        (x - trial.now_mm[0], ("to the right", "to the left")), (y - trial.now_mm[1], ("to the back", "to the front")))
        if abs(far) > 0.05]
    return f"hang the LED {' and '.join(told)}, {x:.3g} mm from the left and {y:.3g} mm from the front {there}"
