"""Constant-current regulators: which stand where, and a resistor beside them."""

from __future__ import annotations

import math

from rushlight.model.design import Design
from rushlight.model.design_power import FeedTrade, Regulator
from rushlight.model.sheet import Cell, Column, Table
from rushlight.sheets.amounts import amount, compressed
from rushlight.stages.parts_law import light_ratio

CAPTION = (
    "A regulator has two leads and a way round: its anode (+) to the supply, its cathode, the end with the ring, to "
    "the LED's plus. Turned round it passes current like a diode and guards nothing. Several stand side by side, all "
    "the same way round. Heat, volts and junction: at the worst, on a fresh supply, each one's in the warmest room. "
    "Flat: the share of its own current that is left on the flat supply at the worst. Warm: what warmth leaves of the "
    "stated current on the nominal supply, just switched on and once it has settled."
)
FEEDS_CAPTION = (
    "Each row is one LED, or one string, alone on the supply. Nominal: over the spread of LEDs and regulators. Fades: "
    "stops of light from the fresh supply to the flat one; a minus sign would be brighter when flat. Draws: on the "
    "nominal supply; both waste what the LEDs do not take. Heat: the most that the resistor or the regulators bear. "
    "To choose, hold a regulator for a circuit or for all: nearest, none, or one of the drawer (plan file: regulator "
    "under pinned)."
)


def regulator_words(row: Regulator) -> str:
    """'linear regulator 20 mA', '2 x linear regulator 10 mA side by side'."""
    return row.part if row.count == 1 else f"{row.count} x {row.part} side by side"


def regulator_table(design: Design) -> Table:
    """One line for each kind and count, with the emitters that get it."""
    columns = (
        Column("regulator", "Regulator", wide=True), Column("count", "Pieces", align="right", decimals=0),
        Column("current_ma", "Gives", "mA", "right"), Column("most_v", "Volts across", "V", "right"),
        Column("heat_mw", "Heat each", "mW", "right", 0), Column("junction_c", "Junction", "degC", "right", 0),
        Column("warm", "Warm", align="right"), Column("flat", "Flat", align="right"),
        Column("for", "In the plus lead of", wide=True),
    )
    kinds = dict.fromkeys((row.part, row.count) for row in design.power.regulators)
    return Table("regulators", "Constant-current regulators", columns,
                 tuple(_row(design, [row for row in design.power.regulators if (row.part, row.count) == kind])
                       for kind in kinds), CAPTION)


def _row(design: Design, own: list[Regulator]) -> tuple[Cell, ...]:
    first = own[0]
    amps = first.current_a
    return (
        regulator_words(first), len(own) * first.count,
        f"{amount(1000 * amps.low)} .. {amount(1000 * amps.typical)} .. {amount(1000 * amps.high)}",
        max(row.most_v for row in own), 1000 * max(row.dissipated_w / row.count for row in own),
        design.heat.room_c.high + max(row.rise_k for row in own),
        f"{max(row.cold_share for row in own):.0%} .. {min(row.warm_share for row in own):.0%}",
        f"{min(row.flat_share for row in own):.0%}",
        compressed(row.emitter for row in own),
    )


def feed_table(design: Design) -> Table:
    """A resistor each beside regulators, for every group of like LEDs or strings."""
    columns = (
        Column("circuit", "Circuit"), Column("leds", "LEDs", wide=True),
        Column("in_series", "In series", align="right", decimals=0), Column("by", "Current set by", wide=True),
        Column("current_ma", "Nominal", "mA", "right"), Column("fades", "Fades", "stops", "right"),
        Column("power_mw", "Draws", "mW", "right", 0), Column("heat_mw", "Heat", "mW", "right", 0),
        Column("said", "Verdict"),
    )
    return Table("feeds", "A resistor, or a regulator", columns,
                 tuple(_feed(design, row) for row in design.power.feeds), FEEDS_CAPTION)


def _feed(design: Design, row: FeedTrade) -> tuple[Cell, ...]:
    head = row.kind == "resistor"
    named = row.part if row.count == 1 else f"{row.count} x {row.part}"
    amps = row.current_a
    fades = light_ratio(design.drawer, design.loom.emitter(row.emitters[0]), row.fresh_a, max(row.flat_a, 1e-9))
    return (
        row.circuit if head else "", compressed(row.emitters) if head else "", row.in_series,
        "a resistor" if head else named, f"{amount(1000 * amps.low)} .. {amount(1000 * amps.high)}",
        f"{math.log2(fades):.1f}", 1000 * row.supply_w, 1000 * row.heat_w,
        "planned" if row.built else "",
    )
