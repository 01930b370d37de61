"""What the findings about the loom share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rushlight.model.design import Design
from rushlight.model.design_loom import Lead, Tail
from rushlight.model.place import Leg, Spot
from rushlight.model.plan import Crossing

PRACTICE = "common practice of the trade, no source"


def legs_on(design: Design, part: str) -> Iterator[tuple[str, Leg]]:
    """Every leg of a lead or a tail on a part, with its name."""
    runs: tuple[Lead | Tail, ...] = (*design.loom.leads, *design.loom.tails)
    for run in runs:
        for leg in run.legs:
            if leg.part == part and len(leg.points_mm) > 1:
                yield run.name, leg


def crossing_spot(crossing: Crossing) -> Spot:
    """The first end of a crossing."""
    end = crossing.ends[0]
    return Spot(end.part, *end.at_mm)


def runs_through(design: Design, crossing: Crossing) -> tuple[tuple[Lead, ...], tuple[Tail, ...]]:
    """Leads and tails that pass a crossing."""
    leads = tuple(lead for lead in design.loom.leads if crossing.name in lead.crossings)
    return leads, tuple(tail for tail in design.loom.tails if crossing.name in tail.crossings)


def used(design: Design, crossing: Crossing) -> bool:
    """Whether anything passes a crossing."""
    return any(runs_through(design, crossing))


def parts_of(crossing: Crossing) -> frozenset[str]:
    """The two parts that a crossing joins."""
    return frozenset(end.part for end in crossing.ends)


def spots_by_part(spots: Iterable[tuple[str, Spot]]) -> dict[str, list[tuple[str, Spot]]]:
    """Named spots under their part."""
    parts: dict[str, list[tuple[str, Spot]]] = {}
    for name, spot in spots:
        parts.setdefault(spot.part, []).append((name, spot))
    return parts
