"""Resistors, switch, supply, fuse and run times."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.electric.supply import lithium_board
from rushlight.model.design import Design
from rushlight.model.design_power import StatePower
from rushlight.model.drawer import SwitchPart
from rushlight.model.sheet import Block, Cell, Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, compressed, ma_words, resistor_text, run_words, sentence
from rushlight.sheets.evening import evening_blocks
from rushlight.sheets.maker_wiring import solder_words, stages_of
from rushlight.sheets.regulators import feed_table, regulator_table
from rushlight.sheets.resistor_bands import Painted, band_blocks, band_words, tolerance_of
from rushlight.sheets.series import series_table, why_note
from rushlight.sheets.warming import warming_table
from rushlight.stages.at_hand import switches_to_buy
from rushlight.stages.supply_choice import SupplyChoice, supplies_that_do, wanted_of

MOST_CHOICES = 8


def draw(design: Design) -> tuple[Sheet, ...]:
    """Resistors; then supply and switch with run times."""
    table = resistor_table(design)
    trades = (series_table(design), why_note(design)) if design.series else ()
    feeds: tuple[Table, ...] = (feed_table(design),) if design.power.feeds else ()
    fitted = (table,) if table.rows else ()
    regulators = (regulator_table(design),) if design.power.regulators else ()
    warming = warming_table(design)
    warm = (warming,) if warming.rows else ()
    blocks = (*fitted, *regulators, *(warm if fitted or regulators else ()), *trades, *feeds,
              *band_blocks(_painted(design)))
    title = " and ".join([*(["resistors"] if fitted else []), *(["regulators"] if regulators else [])]).capitalize()
    resistors = (Sheet("resistors", title, blocks),) if title else ()
    supply: tuple[Block, ...] = (
        *_faults(design), supply_table(design), *choice_blocks(design), *_switch(design), run_table(design),
        *(() if title else warm),
    )
    evening = evening_blocks(design)
    shown = (Sheet("evening", "The evening", evening),) if evening else ()
    return (*resistors, Sheet("switch-and-supply", "Switch and supply", supply), *shown)


# --- resistors ----------------------------------------------------------------------------------------------------


def resistor_table(design: Design) -> Table:
    """One line for each value, with the emitters that get it."""
    columns = (
        Column("value_ohm", "Value"), Column("bands", "Colour bands", wide=True),
        Column("count", "Count", align="right", decimals=0),
        Column("kind", "Kind"), Column("dissipated_mw", "Turns to heat", "mW", "right", 0),
        Column("for", "In the plus lead of", wide=True),
    )
    values = sorted({(row.value_ohm, row.size, row.made_of_ohm) for row in design.power.resistors})
    rows = tuple(_resistor_row(design, value) for value in values)
    caption = "Bands are read from the end where they crowd; the last, set apart, is the tolerance."
    return Table("resistors", "Values", columns, rows, caption)


def _resistor_row(design: Design, value: tuple[float, str, tuple[float, ...]]) -> tuple[Cell, ...]:
    own = [row for row in design.power.resistors if (row.value_ohm, row.size, row.made_of_ohm) == value]
    return (
        resistor_text(own[0]), band_words(design, own[0]), len(own), value[1],
        1000 * max(row.dissipated_w for row in own), compressed(row.emitter for row in own),
    )


def _painted(design: Design) -> list[Painted]:
    """Every value with its tolerance and count, the smallest first; chips carry no bands."""
    found: dict[tuple[float, float], int] = {}
    for row in design.power.resistors:
        if row.size.startswith("axial"):
            for ohm in row.made_of_ohm or (row.value_ohm,):
                key = (ohm, tolerance_of(design, row))
                found[key] = found.get(key, 0) + 1
    return [Painted(ohm, tolerance, count) for (ohm, tolerance), count in sorted(found.items())]


# --- supply -------------------------------------------------------------------------------------------------------


def _faults(design: Design) -> tuple[Note, ...]:
    if not design.power.faults:
        return ()
    return (Note("\n\n".join(sentence(fault) for fault in design.power.faults), "Why it should not be switched on"),)


def supply_table(design: Design) -> Table:
    """What feeds the loom."""
    columns = (Column("what", "What"), Column("value", "Value", wide=True))
    supply = design.power.supply
    if supply is None:
        return Table("supply", "Supply", columns, (("Supply", "none chosen yet: add one to the plan"),))
    thin = amount(1000 * supply.thinnest_wire_a, "mA")
    rows: tuple[tuple[str, str], ...] = (
        ("Supply", supply.name),
        ("Voltage", f"{amount(supply.nominal_v, 'V')}; at most {amount(supply.fresh_v, 'V')}, "
                    f"at least {amount(supply.flat_v, 'V')}"),
        ("Holds", amount(supply.capacity_mah, "mAh", 3) if supply.capacity_mah else ""),
        ("May give", amount(supply.limit_a, "A") if math.isfinite(supply.limit_a) else ""),
        ("Sits in", _bay_words(supply.bay, supply.fits_bay)),
        ("Fuse", f"{supply.fuse}, at the plus of the supply, before everything else" if supply.fuse else "none needed"),
        ("In a dead short", f"it would give {amount(supply.short_a, 'A')}; the thinnest wire bears {thin} in a loom"),
        ("When spent", _board_words(design)),
    )
    return Table("supply", "Supply and fuse", columns, tuple(row for row in rows if row[1]))


def _board_words(design: Design) -> str:
    """What the protection board of lithium cells does; nothing for other supplies."""
    own = design.plan.supply
    cell = design.drawer.cell(own.cell) if own is not None and own.kind == "cells" else None
    if own is None or cell is None or not (cell.rechargeable and cell.chemistry.startswith("lithium")):
        return ""
    cut, trip = lithium_board("cut_v"), lithium_board("trip_a")
    volts = f"{amount(own.in_series * cut.low, 'V')} to {amount(own.in_series * cut.high, 'V')}"
    return (f"the cells' protection board puts all lamps out at once, at {volts}, and they stay out until charged "
            f"(run times here end at the upper one). It does the same over some {amount(trip.typical, 'A')}")


def choice_blocks(design: Design) -> tuple[Table, ...]:
    """Cells that would do as well, where there are any."""
    found = supplies_that_do(design)
    if len(found) < 2:
        return ()
    hours, mean_a, _ = wanted_of(design)
    cheapest = min((row for row in found if row.runs_h >= hours), key=lambda row: row.price_eur, default=None)
    columns = (
        Column("cells", "Cells"), Column("nominal_v", "Gives", "V", "right", 1),
        Column("runs_h", "Runs about", "h", "right"), Column("weight_g", "Weight", "g", "right", 0),
        Column("price_eur", "Price", "euro", "right", 1),
        Column("says", "Note", wide=True),
    )
    rows = tuple(_choice_row(row, lightest=row is found[0], cheapest=row is cheapest, hours=hours)
                 for row in found[:MOST_CHOICES] if row.runs_h > 0)
    caption = (f"Sets of nearly this voltage that run {amount(hours)} h at {amount(1000 * mean_a, 'mA')} and go into "
               "the bay, the lightest first. Weights and prices are usual ones, from memory.")
    return (Table("supply-choices", "Cells that would do", columns, rows, caption),)


def _choice_row(row: SupplyChoice, *, lightest: bool, cheapest: bool, hours: float) -> tuple[Cell, ...]:
    says = ["as planned"] if row.own else []
    says += ["does not last as asked"] if row.runs_h < hours else []
    says += ["does not fit"] if row.fits is False else []
    good = row.runs_h >= hours and row.fits is not False
    says += ["lightest"] if lightest and good else []
    says += ["cheapest"] if cheapest and good else []
    return (row.name, row.nominal_v, row.runs_h, row.weight_g, row.price_eur, ", ".join(says))


def _bay_words(bay: str | None, fits: bool | None) -> str:
    if bay is None:
        return ""
    return bay if fits is None else f"{bay}, {'it fits' if fits else 'where it does not fit'}"


# --- switch -------------------------------------------------------------------------------------------------------


def _switch(design: Design) -> tuple[Block, ...]:
    plan = design.power.switch
    if plan is None:
        return ()
    diodes = f", with {plan.diodes} steering diodes" if plan.diodes and not plan.proved else ""  # else the why says so
    proved = "Every position was solved and lights what it should." if plan.proved else "It is not proved."
    bought = switches_to_buy(design.plan, plan.parts)
    short = f" What is at hand does not do it: {plan.short.why}." if plan.short else ""
    buy = f" To buy: {', '.join(f'{count} x {part}' for part, count in bought.items())}." if plan.short else ""
    note = Note(f"{sentence(plan.name)}{diodes}: {plan.why}. {proved}{short}{buy}{_reed(design, plan.parts)}", "Switch")
    stuck = stuck_table(design)
    return (note, position_table(design), solder_table(design), *((stuck,) if stuck.rows else ()))


REED = (
    " {name} is worked by a magnet from outside, through the closed hull. A small strong magnet reaches about 5 to 15 "
    "mm (from memory, typical), less beside iron and ballast: try it through the very wall before you glue it in. "
    "{how} Its thin contacts weld at a surge, so keep boards and strips with capacitors behind a resistor of a few ohm."
)
HELD_BY_POLES = "One pole of the magnet closes it, the other opens it, and it stays so; mark the poles."
CHANGED_OVER = (
    "One pole of the magnet brings it over to contact 1, the other to contact 2, and it stays so; mark the poles, and "
    "find out with a meter which contact is which: C is the lead that stands alone at its end."
)
WHILE_NEAR = "It is closed only while the magnet is near, so the magnet has to stay there while the lamps burn."


STEPPED = {
    "button": " Each press is a step to the next state; where a sheet says 'switch at', press until that state is lit.",
    "reed": " Each pass of a magnet near the reed is a step to the next state; where a sheet says 'switch at', pass it "
            "until that state is lit. A small strong magnet reaches about 5 to 15 mm (from memory, typical), less "
            "beside iron and ballast: try it through the very wall before you glue the reed in.",
}


def _reed(design: Design, parts: Sequence[str]) -> str:
    """How a reed among the switch's parts is worked; nothing where there is none."""
    if design.power.switch is not None and design.power.switch.stepped_by:
        return STEPPED.get(design.power.switch.stepped_by, "")
    reeds = {row.name: row for row in design.drawer.switches if row.kind == "reed"}
    own = design.power.switch.part_row if design.power.switch else None
    return "".join(REED.format(name=sentence(name), how=_worked(reeds[name], name == own))
                   for name in dict.fromkeys(parts) if name in reeds)


def _worked(reed: SwitchPart, own: bool) -> str:
    """How its magnet is used; `own`: it is the switch itself, not a master or one of several on-off switches."""
    if "latching" not in reed.name:
        return WHILE_NEAR
    return CHANGED_OVER if reed.throws == 2 and own else HELD_BY_POLES


def position_table(design: Design) -> Table:
    """Which circuits each position feeds."""
    columns = (
        Column("position", "Position", align="right", decimals=0), Column("state", "State"),
        Column("circuits", "Circuits fed"), Column("lamps", "Lamps lit", align="right", decimals=0),
        Column("current", "Supply gives", "mA", "right"),
    )
    plan = design.power.switch
    states = {row.state: row for row in design.power.states}
    positions = plan.positions if plan else ()
    rows = tuple(_position_row(design, number, name, states.get(name)) for number,
                 name in enumerate(positions, start=1))
    return Table("switch-positions", "What each position does", columns, rows)


def _position_row(design: Design, number: int, name: str, state: StatePower | None) -> tuple[Cell, ...]:
    fed = [circuit.name for circuit in design.circuits if name in circuit.states]
    lamps = sum(name in lamp.states and not lamp.dark for lamp in design.lamps)
    current = ma_words(state.supply_a).removesuffix(" mA") if state else "0"
    return (number, name, " ".join(fed) or "none", lamps, current)


def solder_table(design: Design) -> Table:
    """What goes to each terminal."""
    columns = (Column("terminal", "Terminal"), Column("to", "Solder to it", wide=True), Column("done", "Done"))
    plan = design.power.switch
    points = plan.solder if plan else ()
    stages = stages_of(design)
    rows = tuple((row.terminal, f"{solder_words(row, stages)} {row.through}".strip(), "") for row in points)
    caption = ("'Feed of B' is the lead that leaves the bay for circuit B. Makers number terminals differently: find "
               "the commons with a meter before you solder.")
    return Table("switch-solder", "What to solder to the switch", columns, rows, caption)


def stuck_table(design: Design) -> Table:
    """What each contact would show if it stuck, to find it by."""
    columns = (Column("terminal", "Terminal"), Column("stuck", "Stuck"), Column("shows", "What shows", wide=True))
    points = design.power.switch.stuck if design.power.switch else ()
    rows = tuple((row.terminal, "welded closed" if row.welded else "never closes",
                  "; ".join((row.shows, *row.wrong))) for row in points)
    clean = not any(row.wrong for row in points)
    proved = "No lamp lights by a sneak path then, and no contact shorts the supply." if clean else ""
    caption = f"One contact at a time, every position solved; letters are circuits. {proved}".strip()
    return Table("switch-stuck", "If a contact of the switch sticks", columns, rows, caption)


# --- run times ----------------------------------------------------------------------------------------------------


def run_table(design: Design) -> Table:
    """How long each state runs."""
    columns = (
        Column("state", "State"), Column("current", "Current while lit", "mA", "right"),
        Column("mean_ma", "On average", "mA", "right"), Column("power_mw", "Power", "mW", "right", 0),
        Column("run", "Runs for", wide=True),
    )
    rows = tuple(
        (row.state, ma_words(row.supply_a).removesuffix(" mA"), 1000 * row.mean_a, 1000 * row.power_w,
         run_words(row.run_time_h))
        for row in design.power.states
    )
    evening = run_words(design.power.evening_h)
    caption = f"All states in the shares of a usual evening: {evening}." if design.power.evening_h else ""
    return Table("run-times", "Run times", columns, rows, caption)
