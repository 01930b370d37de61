"""Splices that lie on one another."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.loom._words import PRACTICE, spots_by_part
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("stagger").low or 15.0
    found = []
    for part, spots in spots_by_part((splice.name, splice.spot) for splice in design.loom.splices).items():
        close = _close_pairs(spots, limit)
        if close:
            found.append(_trouble(part, close, limit))
    return tuple(found)


def _close_pairs(spots: list[tuple[str, Spot]], limit: float) -> list[tuple[float, str, str, Spot]]:
    return [
        (apart, name, other, spot)
        for place, (name, spot) in enumerate(spots) for other, other_spot in spots[place + 1:]
        if (apart := math.dist(spot.at_mm, other_spot.at_mm)) < limit - 1e-6
    ]


def _trouble(part: str, close: list[tuple[float, str, str, Spot]], limit: float) -> Trouble:
    apart, _, _, spot = min(close, key=lambda pair: pair[0])
    pairs = listed([f"{name} with {other}" for _, name, other, _ in close])
    return Trouble(
        item=part, spot=spot, number=apart, limit=limit,
        says=capital(f"On '{part}' splices lie {plain(apart)} mm apart and more, under {plain(limit)} mm: {pairs}."),
        cure=f"Slide one of each pair {plain(limit - apart)} mm or more along its lead before you solder; "
             "the leads have length to spare.",
    )


RULE = Rule(
    key="loom.splice-stagger",
    grade=Grade.COULD_BE_BETTER,
    title="Splices on one another",
    unit="mm",
    why="Two joints side by side make a lump, and one bad sleeve shorts plus to return.",
    cure="Lay them apart along their leads.",
    source=PRACTICE,
    practice="stagger",
    look=_look,
)
