"""How warm closed spaces get over the described evening."""

from __future__ import annotations

from collections.abc import Sequence

from rushlight.model.design import Design
from rushlight.model.design_light import HeatPoint, SpaceEvening
from rushlight.model.sheet import Block, Column, Drawing, Ink, Mark, Pattern, Table, Text
from rushlight.sheets.evening import axis, bands, framed_chart, line, panel
from rushlight.sheets.words import shortened

PANEL_MM = (9.5, 62.0)
LEAST_SHOWN_K = 1.0
"""Spaces that warm less than this are in the table alone."""

PATTERNS: tuple[Pattern, ...] = ("solid", "dashed", "chain", "dotted")
"""One for each space in the chart, the warmest first."""


def heat_blocks(design: Design) -> tuple[Block, ...]:
    """The table, and the chart of the warmest spaces.

    Returns
    -------
    tuple of Block
        Nothing where no evening is described or no closed space is warmed.
    """
    rows = sorted(design.heat.evening, key=lambda row: -max(point.air_high_c for point in row.points))
    if not rows:
        return ()
    room_c = design.heat.room_c.high
    warm = [row for row in rows if max(point.air_high_c for point in row.points) > room_c + LEAST_SHOWN_K]
    chart = (_chart(design, warm[: len(PATTERNS)]),) if warm else ()
    return (_table(design, rows), *chart)


def _table(design: Design, rows: Sequence[SpaceEvening]) -> Table:
    columns = (
        Column("space", "Space", wide=True), Column("wall_c", "Wall at most", "°C", "right", 0),
        Column("air_c", "Air at most", "°C", "right", 0), Column("settles_min", "Settles in", "min", "right", 0),
        Column("over", "Wall over what is advised", wide=True),
    )
    caption = ("Safe ends of the law, from a cold start. What the wall stores slows it; wiring and cells, which slow "
               "it further, are left out. The steady figures above hold for a state that is left on.")
    return Table("heat-evening", "Over the evening", columns, tuple(_row(row) for row in rows), caption)


def _row(row: SpaceEvening) -> tuple[str | float | None, ...]:
    over = "never" if row.advise_h is None else f"after {60 * row.advise_h:.0f} min"
    if row.stop_h is not None:
        over += f", past its limit after {60 * row.stop_h:.0f} min"
    return (row.space, max(point.wall_high_c for point in row.points), max(point.air_high_c for point in row.points),
            60 * row.settles_h, over)


def _chart(design: Design, rows: Sequence[SpaceEvening]) -> Drawing:
    points = rows[0].points
    longest = points[-1].hour_h
    room_c = design.heat.room_c.high
    most = max(point.air_high_c for row in rows for point in row.points)
    span = (room_c - 1.0, most + 0.08 * (most - room_c))

    def drawn(right: float) -> list[Mark]:
        marks: list[Mark] = [*bands(_stretches(points), longest, PANEL_MM, right_mm=right),
                             *axis(longest, right_mm=right), *panel(PANEL_MM, *span, "°C", right_mm=right)]
        for row, pattern in zip(rows, PATTERNS, strict=False):
            hours = [point.hour_h for point in row.points]
            for values, ink in (([point.air_high_c for point in row.points], Ink("edge", pattern, "accent")),
                                ([point.wall_high_c for point in row.points], Ink("detail", pattern, "ink"))):
                marks.append(line(hours, values, longest, PANEL_MM, span=span, ink=ink, right_mm=right))
            marks.append(_named(row, row.points[-1].air_high_c, span, right))
        return marks

    caption = ("Thick: the air inside; thin: the wall's outside; each at its safe end. " + "; ".join(
        f"{row.space} {pattern}" for row, pattern in zip(rows, PATTERNS, strict=False)) + ".")
    return framed_chart("heat-evening", "Inside, over the evening", caption, drawn, PANEL_MM[1] + 2.0)


def _named(row: SpaceEvening, air_c: float, span: tuple[float, float], right_mm: float) -> Text:
    """The space's name at the right end of its curve."""
    low, high = span
    y = PANEL_MM[0] + (PANEL_MM[1] - PANEL_MM[0]) * (air_c - low) / (high - low)
    return Text((right_mm - 1.0, y + 0.8), shortened(row.space, 24), 2, "se")


def _stretches(points: Sequence[HeatPoint]) -> list[tuple[str, float, float]]:
    """State, from, to: a stretch begins at the moment at which the one before ends."""
    found: list[tuple[str, float, float]] = []
    for point in points:
        if found and found[-1][0] == point.state and point.hour_h > found[-1][2]:
            found[-1] = (point.state, found[-1][1], point.hour_h)
        else:
            found.append((point.state, point.hour_h, point.hour_h))
    return found
