"""Own resistors or strings in series: the lengths of string side by side."""

from __future__ import annotations

import math

from rushlight.model.design import Design
from rushlight.model.design_power import SeriesTrade
from rushlight.model.sheet import Cell, Column, Note, Table
from rushlight.sheets.amounts import amount, compressed

CAPTION = (
    "Each row is these LEDs alone on the supply. Takes: at the nominal supply. Runs: about, in the state that takes "
    "most, with all else as planned. Flat: the dimmest LED's share of the current that it is meant to take, when the "
    "supply is flat and the LED's voltage high. Fresh: the brightest one's, on a fresh supply, its voltage low. Left: "
    "what is left for the resistor on the flat supply. Wire: roughly, without the way to the bay. A "
    "string has one resistor and goes dark as a whole when one LED or joint fails. "
    "To choose, hold leds_in_series under pinned: the most in one string; 1 keeps a resistor each. Nothing is strung "
    "that the flat supply does not bear."
)


def series_table(design: Design) -> Table:
    """Every group of like LEDs, by the length of string."""
    columns = (
        Column("circuit", "Circuit"), Column("leds", "LEDs", wide=True),
        Column("in_series", "In series", align="right", decimals=0),
        Column("resistors", "Resistors", align="right", decimals=0), Column("current_ma", "Takes", "mA", "right"),
        Column("run_h", "Runs", "h", "right"),
        Column("flat", "Flat", align="right"), Column("fresh", "Fresh", align="right"),
        Column("left_v", "Left", "V", "right"), Column("wire_m", "Wire", "m", "right"),
        Column("said", "Verdict"),
    )
    first: set[tuple[str, tuple[str, ...]]] = set()
    rows: list[tuple[Cell, ...]] = []
    for trade in design.power.series:
        group = (trade.circuit, trade.emitters)
        rows.append(_row(trade, run_words_of(design, trade), head=group not in first))
        first.add(group)
    return Table("series", "A resistor each, or LEDs in series", columns, tuple(rows), CAPTION)


def run_words_of(design: Design, trade: SeriesTrade) -> str:
    """About how long the cells would last in the state that takes most of those that light the circuit [h].

    The state's own run time, in proportion to the current that it would then take; nothing for a supply that does not
    run down.
    """
    lit = {name for row in design.circuits if row.name == trade.circuit for name in row.states}
    states = [row for row in design.power.states if row.state in lit and row.supply_a.typical > 0]
    now = [row for row in design.power.series if row.built and row.emitters == trade.emitters]
    if not states or not now:
        return ""
    most = max(states, key=lambda row: row.supply_a.typical)
    share = (most.supply_a.typical - now[0].supply_a + trade.supply_a) / most.supply_a.typical
    hours = most.run_time_h.typical / share if share > 0 else math.inf
    return amount(hours) if math.isfinite(hours) else ""


def _row(trade: SeriesTrade, runs: str, *, head: bool) -> tuple[Cell, ...]:
    return (
        trade.circuit if head else "", compressed(trade.emitters) if head else "", trade.in_series, trade.resistors,
        1000 * trade.supply_a, runs, f"{trade.flat_share:.0%}", f"{trade.fresh_share:.0%}", amount(trade.left_v),
        trade.wire_mm / 1000, _said(trade),
    )


def _said(trade: SeriesTrade) -> str:
    """Whether it is planned, advised, or more than the supply bears."""
    words = [word for word, holds in (("planned", trade.built), ("advised", trade.best)) if holds]
    return ", ".join(words) if trade.bears else "too long"


def why_note(design: Design) -> Note:
    """Why each group is advised what it is."""
    lines = [
        f"Circuit {row.circuit}, {compressed(row.emitters)}: {_advice(row)}, as {row.why}."
        for row in design.power.series if row.best
    ]
    return Note("\n\n".join(lines), "What is advised")


def _advice(trade: SeriesTrade) -> str:
    return "a resistor each" if trade.in_series == 1 else f"{trade.in_series} in series"
