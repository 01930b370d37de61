"""Whites that do not suit their place: cool ones in rooms, warm ones in floodlights."""

from __future__ import annotations

from rushlight.findings._words import by_group, plain
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.drawer import Habit
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.lamps import colour_of
from rushlight.stages.pools import flood_names


def _look(design: Design) -> tuple[Trouble, ...]:
    inside, outside = design.drawer.habit("warm_white"), design.drawer.habit("cool_white_outside")
    kinds = {source.lamp: source.kind for source in design.sources}
    floods = flood_names(design.plan)
    found = []
    for group, lamps in by_group(lamp for lamp in design.lamps if lamp.states and lamp.colour.cct_k).items():
        if kinds[lamps[0].name] in ("strip", "room"):
            found += _outside(design, lamps[0], inside, "a room")
        elif group in floods:
            found += _outside(design, lamps[0], outside, "a floodlight")
    return tuple(found)


def sold_white(design: Design, habit: Habit, limit_k: float) -> str:
    """The white of an LED on sale within a habit, nearest to its limit; the limit itself where none is."""
    low, high = habit.low or 0.0, habit.high or float("inf")
    colours = [colour_of(name) for name in sorted({row.colour for row in design.drawer.leds})]
    whites = [one for one in colours if one.cct_k is not None and low <= one.cct_k <= high]
    best = min(whites, key=lambda one: abs((one.cct_k or 0.0) - limit_k), default=None)
    return best.name if best else f"{limit_k:.0f} K"


def _outside(design: Design, lamp: PlacedLamp, habit: Habit, place: str) -> list[Trouble]:
    low, high = habit.low or 0.0, habit.high or float("inf")
    kelvin = lamp.colour.cct_k or 0.0
    if low <= kelvin <= high:
        return []
    limit = low if kelvin < low else high
    name = lamp.colour.name if lamp.colour.name.endswith("K") else f"{lamp.colour.name}, {plain(kelvin, 3)} K"
    return [Trouble(
        item=lamp.group, spot=lamp.spot, number=kelvin, limit=limit,
        says=f"'{lamp.group}' is {name}; in {place} {plain(low)} to {plain(high)} K looks right.",
        cure=f"Take {sold_white(design, habit, limit)}, unless the subject's own lamp is known to be so (an oil lamp, "
             "an old bulb, a tube).",
    )]


RULE = Rule(
    key="light.warm-white",
    grade=Grade.COULD_BE_BETTER,
    title="White of the wrong warmth",
    unit="K",
    why="The eye knows rooms as warm and modern floodlights as cool, and takes the other way round for a mistake.",
    cure="Take the other white.",
    source="habits warm_white and cool_white_outside: common practice, no source",
    practice="warm_white",
    look=_look,
)
