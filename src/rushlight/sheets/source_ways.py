"""What could make each lamp: the ways beside each other, in numbers."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Cell, Column, Table
from rushlight.stages.source_choice import Way, kind_words, times
from rushlight.stages.source_ways import source_ways

CAPTION = (
    "Each lamp or row weighed as if it were alone, the way that is built first. Light is what it gives over what is "
    "wanted, at the least and at the most sensible current; uneven is the brightest of a row over the dimmest, width "
    "the lit one over that at scale. A strip is thought so far behind its openings and a sheet that its LEDs do not "
    "show. Left out are "
    "floodlights, and what you insist on where no number speaks against it."
)


def ways_table(design: Design) -> Table:
    """One line a way: what it takes, what it gives, and what came of it."""
    columns = (
        Column("lamp", "Lamp or row", wide=True), Column("way", "Way"), Column("part", "LED or strip", wide=True),
        Column("leds", "LEDs", align="right", decimals=0), Column("tails", "Tails", align="right", decimals=0),
        Column("holes", "Holes", align="right", decimals=0), Column("light", "Light", "times", "right"),
        Column("uneven", "Uneven", "times", "right"), Column("width", "Width", "times", "right"),
        Column("verdict", "Which", wide=True),
    )
    alike: dict[tuple[tuple[Way, ...], tuple[str, ...]], list[str]] = {}
    for weighed in source_ways(design):
        if not weighed.settled:
            alike.setdefault((weighed.ways, weighed.verdicts), []).extend(weighed.groups)
    rows: list[tuple[Cell, ...]] = []
    for (ways, verdicts), groups in alike.items():
        names = (", ".join(groups), *[""] * (len(ways) - 1))
        rows += [_row(*one) for one in zip(names, ways, verdicts, strict=True)]
    return Table("lamp-ways", "What could make it", columns, tuple(rows), CAPTION)


def _row(name: str, way: Way, verdict: str) -> tuple[Cell, ...]:
    return (
        name, WAY_WORDS[way.kind], way.part, way.leds, way.tails or None, way.holes,
        f"{times(way.least)} to {times(way.enough)}", times(way.uneven) if way.holes > 1 else "",
        times(way.oversize) if way.oversize else "", verdict,
    )


WAY_WORDS = {"led": "LED", "fibre": "fibre", "room": "LED in the room", "strip": "strip behind"}


def way_words(way: Way) -> str:
    """A way and its numbers in one line."""
    return f"{kind_words(way)}, {way.part}: {way.numbers()}"
