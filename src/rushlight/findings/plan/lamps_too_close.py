"""Two holes that run into each other, or leave too thin a web between them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rushlight.findings._words import plain
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble

Hole = tuple[PlacedLamp, float]


def _look(design: Design) -> tuple[Trouble, ...]:
    least = design.drawer.habit("hole_web").low or 0.0
    worst: dict[tuple[str, str], tuple[float, PlacedLamp, PlacedLamp]] = {}
    for web, first, second in _close_pairs(_holes(design), least):
        groups = (min(first.group, second.group), max(first.group, second.group))
        if groups not in worst or web < worst[groups][0]:
            worst[groups] = (web, first, second)
    return tuple(_trouble(web, first, second, least=least) for web, first, second in worst.values())


def _holes(design: Design) -> list[Hole]:
    size = {source.lamp: source.hole_mm for source in design.sources if source.hole_mm}
    return [(lamp, size[lamp.name]) for lamp in design.lamps if lamp.spot and lamp.name in size]


def _close_pairs(holes: list[Hole], least_mm: float) -> Iterator[tuple[float, PlacedLamp, PlacedLamp]]:
    """Pairs on one part whose web is under the least, swept from left to right."""
    parts: dict[str, list[Hole]] = {}
    for lamp, hole in holes:
        parts.setdefault(lamp.spot.part if lamp.spot else "", []).append((lamp, hole))
    for own in parts.values():
        own.sort(key=lambda pair: (pair[0].spot.x_mm if pair[0].spot else 0.0, pair[0].name))
        widest = max(hole for _, hole in own)
        for place, (lamp, hole) in enumerate(own):
            for other, other_hole in own[place + 1:]:
                if lamp.spot is None or other.spot is None:
                    continue
                if other.spot.x_mm - lamp.spot.x_mm > widest + least_mm:
                    break
                web = math.dist(lamp.spot.at_mm, other.spot.at_mm) - (hole + other_hole) / 2
                if web < least_mm - 1e-9:
                    yield web, lamp, other


def _trouble(web: float, first: PlacedLamp, second: PlacedLamp, *, least: float) -> Trouble:
    overlap = web <= 0
    left = f"overlap by {plain(-web)} mm" if overlap else f"leave {plain(web)} mm of wall between them"
    return Trouble(
        item=first.name, spot=first.spot, number=web, limit=least, grade=Grade.WILL_FAIL if overlap else None,
        says=f"The holes of '{first.name}' and '{second.name}' {left}; {plain(least)} mm should stay.",
        cure=f"Move them {plain(least - web)} mm further apart, or make them from thinner fibre.",
    )


RULE = Rule(
    key="plan.lamps-too-close",
    grade=Grade.DOUBTFUL,
    title="Holes too close together",
    unit="mm",
    why="A thin web breaks out under the drill, and two holes become one slot.",
    cure="Move the lamps apart, or make them from thinner fibre.",
    source="habit hole_web (from memory, typical)",
    look=_look,
)
