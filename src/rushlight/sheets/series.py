"""Each LED by itself or strings in series: the lengths of string side by side."""

from __future__ import annotations

import math

from rushlight.model.design import Design
from rushlight.model.design_power import SeriesTrade
from rushlight.model.sheet import Cell, Column, Note, Table
from rushlight.sheets.amounts import amount, compressed

CAPTION = (
    "Each row is the whole loom, laid and solved with these LEDs so and all others alone. Takes: these LEDs, at the "
    "nominal supply, in the state that takes most. Runs: that state. At the worst of LEDs and resistors: "
    "Flat, the dimmest LED's share of the light that it is meant to give on the flat supply; Match, the brightest "
    "over the dimmest there; Fresh, the brightest one's share on a fresh supply. Left: for the resistor on the flat "
    "supply, or for the regulator, which drops out under about two volts. Wire: all leads of the loom. Dark: LEDs of a "
    "state that one open joint darkens, at most. "
    "A string is taken by itself only where all that holds; to overrule it hold the most LEDs in one string (1 keeps "
    "each by itself; plan file: leds_in_series under pinned). Nothing is strung that the flat supply does not bear."
)


def series_table(design: Design) -> Table:
    """Every group of like LEDs, by the length of string."""
    columns = (
        Column("circuit", "Circuit"), Column("leds", "LEDs", wide=True),
        Column("in_series", "In series", align="right", decimals=0),
        Column("set_by", "Set by", align="right"), Column("current_ma", "Takes", "mA", "right"),
        Column("run_h", "Runs", "h", "right"),
        Column("flat", "Flat", align="right"), Column("match", "Match", align="right"),
        Column("fresh", "Fresh", align="right"),
        Column("left_v", "Left", "V", "right"), Column("wire_m", "Wire", "m", "right"),
        Column("dark", "Dark", align="right"),
        Column("said", "Verdict"),
    )
    first: set[tuple[str, tuple[str, ...]]] = set()
    rows: list[tuple[Cell, ...]] = []
    for trade in design.series:
        group = (trade.circuit, trade.emitters)
        rows.append(_row(trade, head=group not in first))
        first.add(group)
    kinds = " or ".join(sorted({trade.by for trade in design.series}, reverse=True))
    return Table("series", f"A {kinds} each, or LEDs in series", columns, tuple(rows), CAPTION)


def _row(trade: SeriesTrade, *, head: bool) -> tuple[Cell, ...]:
    runs = amount(trade.run_h) if math.isfinite(trade.run_h) else ""
    return (
        trade.circuit if head else "", compressed(trade.emitters) if head else "", trade.in_series, _parts(trade),
        1000 * trade.supply_a, runs, f"{trade.flat_share:.0%}", amount(trade.match), f"{trade.fresh_share:.0%}",
        amount(trade.left_v), trade.wire_mm / 1000, f"{trade.dark_share:.0%}", _said(trade),
    )


def _parts(trade: SeriesTrade) -> str:
    return f"{trade.resistors} {trade.by}{'' if trade.resistors == 1 else 's'}"


def _said(trade: SeriesTrade) -> str:
    """Whether it is planned, and what the rule would take where another is held."""
    if trade.built:
        return "planned" if trade.best else "planned, held"
    return "the rule's" if trade.best else ""


def why_note(design: Design) -> Note:
    """Why each group is built as it is, and why no other length was taken."""
    return Note("\n\n".join(why_lines(design)), "Why so")


def why_lines(design: Design) -> list[str]:
    """A line for each group of like LEDs: what the rule takes, why, and what is held in its place."""
    built = {(row.circuit, row.emitters): row for row in design.series if row.built}
    return [
        f"Circuit {row.circuit}, {compressed(row.emitters)}: {_taken(row)}, as {row.why}."
        + ("" if row.built else f" You hold {_taken(built[row.circuit, row.emitters])}.")
        for row in design.series if row.best
    ]


def _taken(trade: SeriesTrade) -> str:
    return f"a {trade.by} each" if trade.in_series == 1 else f"{trade.in_series} in series"
