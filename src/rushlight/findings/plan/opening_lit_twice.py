"""An opening that two things light at once."""

from __future__ import annotations

from itertools import combinations

from rushlight.findings._words import listed
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble

Behind = dict[tuple[str, str], list[PlacedLamp]]


def _look(design: Design) -> tuple[Trouble, ...]:
    told: dict[tuple[str, ...], list[PlacedLamp]] = {}
    for lamps in _behind(design).values():
        together = _together(lamps)
        if together:
            told.setdefault(tuple(dict.fromkeys(lamp.group for lamp in together)), []).append(together[0])
    return tuple(_trouble(groups, firsts) for groups, firsts in told.items())


def _behind(design: Design) -> Behind:
    """The lamps behind each opening: strips, and LEDs in a room."""
    behind: Behind = {}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if source.kind in ("strip", "room") and lamp.opening is not None and lamp.spot is not None:
            behind.setdefault((lamp.spot.part, lamp.opening), []).append(lamp)
    return behind


def _together(lamps: list[PlacedLamp]) -> list[PlacedLamp]:
    """Those that are lit in one state with another, in the plan's order."""
    pairs = [pair for pair in combinations(lamps, 2) if set(pair[0].states) & set(pair[1].states)]
    lit = {lamp.name for pair in pairs for lamp in pair}
    return [lamp for lamp in lamps if lamp.name in lit]


def _trouble(groups: tuple[str, ...], firsts: list[PlacedLamp]) -> Trouble:
    openings = listed([f"'{lamp.opening}'" for lamp in firsts])
    names = listed([f"'{group}'" for group in groups])
    return Trouble(
        item=groups[0], spot=firsts[0].spot,
        says=f"{names} light {openings} at once; the light of each is worked out alone and not added.",
        cure=f"Let one of {names} light {'it' if len(firsts) == 1 else 'them'}, or light them in different states. If "
             "both are meant, reckon with the sum of their luminances.",
    )


RULE = Rule(
    key="plan.opening-lit-twice",
    grade=Grade.DOUBTFUL,
    title="Opening lit by two",
    unit="",
    why="The opening comes out brighter than wanted, and where colours differ it shows their mixture.",
    cure="Let one thing light the opening.",
    source="luminances of the lamps behind one opening add up; they are reckoned one by one here",
    look=_look,
)
