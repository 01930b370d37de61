"""Other supplies side by side: does every lamp light, how long it lasts, room, weight, price, what else is built.

Every supply here was worked out whole, so the sheet takes some seconds: it is drawn for the book and when asked for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Caution, Cautions, Cell, Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, run_words, sentence
from rushlight.sheets.order import caution_of
from rushlight.stages.supply_offers import Offer
from rushlight.stages.supply_trial import SupplyTrial
from rushlight.stages.supply_trials import MOST_TRIED, SuppliesTried, supplies_tried

CAPTION = (
    "Each row is the whole loom with this supply: strings, resistors, switch and fuse chosen anew, every state solved "
    "with the supply fresh and flat. Dimmest: the share of its current that the dimmest lamp keeps, with usual LEDs. "
    "Runs: the state that runs shortest. Weights are the cells' alone, prices one set with its holder or the finished "
    "unit; both are usual ones, from memory."
)

MOST_SOLVED = 600
"""LEDs times supplies that the book waits for: a model of more than a hundred LEDs has fewer on its sheet."""

DOES = "every lamp lights, it lasts and fits"
DOES_OUTSIDE = "every lamp lights, and it lasts"


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet where the plan names a supply and something is wired."""
    most = min(MOST_TRIED, max(1, MOST_SOLVED // max(1, len(design.loom.emitters))))
    blocks = supply_blocks(design, supplies_tried(design, most=most))
    return (Sheet("other-supplies", "Other supplies", blocks),) if blocks else ()


def supply_blocks(design: Design, found: SuppliesTried) -> tuple[Block, ...]:
    """What was tried side by side, what each changes, what cannot feed the model, and the cautions that go with it.

    Parameters
    ----------
    design : Design
        The design as it stands.
    found : SuppliesTried
        What was worked out beside it.
    Returns
    -------
    tuple of Block
        Nothing where nothing was tried.
    """
    if not found.rows:
        return ()
    changes, out = change_table(found), out_table(design, found)
    return (
        Note(best_words(found), "Lightest and cheapest"), side_by_side(found),
        *((changes,) if changes.rows else ()), *((out,) if out.rows else ()), Cautions(_cautions(design, found)),
    )


def best_words(found: SuppliesTried) -> str:
    """Which supply that does is the lightest and which the cheapest."""
    light, cheap = found.lightest, found.cheapest
    if cheap is None:
        return "Of what was worked out none lights every lamp, lasts as asked and fits."
    cheapest = f"Cheapest: {cheap.name}, {amount(cheap.price_eur, 'euro')}{_now(cheap)}."
    if light is None:
        return f"No cells do. {cheapest}"
    return f"Lightest in the model: {light.name}, {amount(light.weight_g or 0.0, 'g')}{_now(light)}. {cheapest}"


def _now(row: SupplyTrial) -> str:
    return ", as planned" if row.own else ""


def side_by_side(found: SuppliesTried) -> Table:
    """One row for each supply that was worked out, the plan's own first."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("supply", "Supply", wide=True),
        Column("volts_v", "Gives", "V", "right"), Column("flat_percent", "Dimmest, flat", "%", "right", 0),
        Column("runs", "Runs for"), Column("fits", "Fits"), Column("weight_g", "Weight", "g", "right", 0),
        Column("price_eur", "Price", "euro", "right", 1), Column("verdict", "Verdict", wide=True),
    )
    rows = tuple(_row(number, row, found) for number, row in enumerate(found.rows, 1))
    return Table("other-supplies", "Supplies side by side", columns, rows, CAPTION)


def _row(number: int, row: SupplyTrial, found: SuppliesTried) -> tuple[Cell, ...]:
    gives = f"{amount(row.flat_v)} to {amount(row.fresh_v)}"
    return (number, row.name, gives, 100 * row.flat_share, run_words(row.run_h), fits_words(row),
            row.weight_g, row.price_eur, sentence(verdict_words(row, found)))


def fits_words(row: SupplyTrial) -> str:
    """Whether it goes into the bay."""
    if row.weight_g is None:
        return "outside"
    return "no bay" if row.fits is None else "yes" if row.fits else "no"


def verdict_words(row: SupplyTrial, found: SuppliesTried) -> str:
    """Whether it does, and all that stands against it where it does not."""
    marks = [*(["as planned"] if row.own else []), *(["lightest"] if row is found.lightest else []),
             *(["cheapest"] if row is found.cheapest else [])]
    told = "; ".join(against_words(row)) or (DOES if row.weight_g is not None else DOES_OUTSIDE)
    return f"{', '.join(marks)}: {told}" if marks else told


def against_words(row: SupplyTrial) -> list[str]:
    """What stands against a supply; empty where it does."""
    said = [*row.bars, *([row.overload] if row.overload else [])]
    said += ["it does not go into the bay"] if row.fits is False else []
    return said + ([] if row.lasts else [short_words(row)])


def short_words(row: SupplyTrial) -> str:
    """By how much it does not last."""
    if row.run_h.typical < row.asked_h:
        return f"'{row.run_state}' runs about {amount(row.run_h.typical, 'h')} of {amount(row.asked_h, 'h')} asked"
    ends = row.evening_h.typical if row.evening_h else math.inf
    return f"the evening of {amount(row.evening_asked_h, 'h')} ends after about {amount(ends, 'h')}"


# --- what changes -------------------------------------------------------------------------------------------------


def change_table(found: SuppliesTried) -> Table:
    """What each other supply changes in the parts and in the light."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("supply", "Supply"),
        Column("dim", "Dimmest lamp"), Column("wall_c", "Warmest wall", "degC", "right", 0),
        Column("changes", "To be built or bought otherwise", wide=True),
    )
    rows = tuple(
        (number, row.name, f"{row.dim_lamp}: {row.flat_share:.0%} flat, {row.fresh_share:.0%} fresh" if row.dim_lamp
         else "", row.wall_c, sentence(changes_words(row)))
        for number, row in enumerate(found.rows, 1) if not row.own
    )
    return Table("supply-changes", "What each changes", columns, rows,
                 "An LED of high voltage from the same bag may keep less on the flat supply than the usual one.")


def changes_words(row: SupplyTrial) -> str:
    """What has to be built or bought otherwise."""
    return "; ".join(row.changes) or "nothing but the supply"


# --- what cannot --------------------------------------------------------------------------------------------------


def out_table(design: Design, found: SuppliesTried) -> Table:
    """Supplies that cannot feed the model, those with one reason together."""
    columns = (Column("supply", "Supply", wide=True), Column("why", "Why it cannot", wide=True))
    rows: dict[str, list[Offer]] = {}
    for row in found.out:
        rows.setdefault(row.why_not, []).append(row)
    return Table("supply-out", "What cannot feed it", columns,
                 tuple((out_names(same), sentence(why)) for why, same in rows.items()))


def out_names(rows: Sequence[Offer]) -> str:
    """Supplies with one reason, by name."""
    return ", ".join(_out_name(row) for row in rows)


def _out_name(row: Offer) -> str:
    supply = row.supply
    if supply.kind == "cells":
        return f"{supply.in_series} x {supply.cell} ({row.nominal_v:.3g} V)"
    return f"adapter of {supply.adapter_v:g} V" if supply.kind == "adapter" else f"{supply.kind}, 5 V"


def _cautions(design: Design, found: SuppliesTried) -> tuple[Caution, ...]:
    """Mains for finished units; charging for lithium cells."""
    cells = [design.drawer.cell(row.supply.cell) for row in found.rows if row.supply.kind == "cells"]
    lithium = any(cell.rechargeable and cell.chemistry.startswith("lithium") for cell in cells)
    return tuple(caution_of(key) for key in ("mains", *(["liion_charge"] if lithium else [])))
