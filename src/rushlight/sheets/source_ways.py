"""What could make each lamp: the ways beside each other, in numbers."""

from __future__ import annotations

from collections.abc import Sequence

from rushlight.model.design import Design
from rushlight.model.sheet import Cell, Column, Table
from rushlight.sheets.amounts import amount
from rushlight.stages.row_proposals import Proposal, row_proposals
from rushlight.stages.row_words import counted, short_words
from rushlight.stages.source_choice import Way, kind_words, times
from rushlight.stages.source_ways import Weighed, source_ways

CAPTION = (
    "Each lamp or row weighed as if it were alone, the way that is built first. Light is what it gives over what is "
    "wanted, at the least and at the most sensible current; uneven is the brightest of a row over the dimmest, width "
    "the lit one over that at scale. A strip is thought so far behind its openings and a sheet that its LEDs do not "
    "show. Left out are "
    "floodlights, and what you insist on where no number speaks against it."
)


PICKS = (
    "Lamps in holes that are weighed together: each row, and single lamps that are alike and near each other. Numbers "
    "are those of tails of shared LEDs, laid, bundled and lit as they would be built: the bundle as made by hand over "
    "the LED's width, the light over what is wanted with its range. LEDs fewer are those saved beside an LED in each "
    "hole, with their resistors; joints are four an LED."
)


def ways_tables(design: Design) -> tuple[Table, ...]:
    """What is proposed for rows and like lamps, and every way beside the others; those tables that have a line."""
    ways = source_ways(design)
    tables = (picks_table(row_proposals(design, ways)), ways_table(design, ways))
    return tuple(table for table in tables if table.rows)


def picks_table(proposals: Sequence[Proposal]) -> Table:
    """One line a row or group: what is proposed, what tails of shared LEDs take and give, and why."""
    columns = (
        Column("lamp", "Lamp or row", wide=True), Column("pick", "Proposed"), Column("tails", "Tails"),
        Column("fewer", "LEDs fewer", align="right", decimals=0),
        Column("cut", "Fibre", "m", "right"), Column("bundle", "Bundle / LED", "mm", "right"),
        Column("current", "Each LED", "mA", "right"), Column("light", "Light", "times", "right"),
        Column("why", "Why", wide=True),
    )
    return Table("lamp-picks", "LED each, tails of one LED or a strip", columns,
                 tuple(_pick_row(row) for row in proposals), PICKS)


def _pick_row(row: Proposal) -> tuple[Cell, ...]:
    pick = f"{PICK_WORDS[row.proposed]}{'' if row.proposed == row.built else ', not built so'}"
    tails = row.tails
    numbers: tuple[Cell, ...] = ("none", None, *[""] * 4)
    if tails is not None:
        light = tails.light
        numbers = (
            f"{tails.tails} of {tails.fibre_mm:g} mm on {counted(tails.leds, 'LED')}", row.leds_saved,
            amount(tails.cut_mm / 1000), f"{amount(tails.bundle_mm.typical)} / {amount(tails.face_mm)}",
            amount(1000 * tails.current_a), f"{times(light.typical)} ({times(light.low)} to {times(light.high)})",
        )
    return (", ".join(row.groups), pick, *numbers, short_words(row))


PICK_WORDS = {"led": "LED each", "fibre": "tails", "strip": "strip behind"}


def ways_table(design: Design, ways: Sequence[Weighed] | None = None) -> Table:
    """One line a way: what it takes, what it gives, and what came of it."""
    columns = (
        Column("lamp", "Lamp or row", wide=True), Column("way", "Way"), Column("part", "LED or strip", wide=True),
        Column("leds", "LEDs", align="right", decimals=0), Column("tails", "Tails", align="right", decimals=0),
        Column("holes", "Holes", align="right", decimals=0), Column("light", "Light", "times", "right"),
        Column("uneven", "Uneven", "times", "right"), Column("width", "Width", "times", "right"),
        Column("verdict", "Which", wide=True),
    )
    alike: dict[tuple[tuple[Way, ...], tuple[str, ...]], list[str]] = {}
    for weighed in source_ways(design) if ways is None else ways:
        if not weighed.settled:
            alike.setdefault((weighed.ways, weighed.verdicts), []).extend(weighed.groups)
    rows: list[tuple[Cell, ...]] = []
    for (kinds, verdicts), groups in alike.items():
        names = (", ".join(groups), *[""] * (len(kinds) - 1))
        rows += [_row(*one) for one in zip(names, kinds, verdicts, strict=True)]
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
