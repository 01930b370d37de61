"""`rushlight supplies`: other supplies worked out beside the plan's own, and one of them taken."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight.errors import OutOfRange

if TYPE_CHECKING:
    from rushlight.open_plan import OpenPlan
    from rushlight.stages.supply_trial import SupplyTrial
    from rushlight.stages.supply_trials import SuppliesTried

NO_SUPPLY = "The plan names no supply, or nothing is wired: there is nothing to compare."


def add_arguments(command: Any) -> None:
    """Words of the command."""
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--take", type=int, default=None, metavar="NUMBER",
                         help="make this one of the list the plan's supply (the history keeps what was)")
    command.add_argument("--json", action="store_true", help="for programs")


def answer(opened: OpenPlan, found: SuppliesTried, asked: argparse.Namespace) -> list[str]:
    """What is printed; with --take the plan is changed first."""
    taken = _taken(opened, found, asked.take) if asked.take is not None else []
    if asked.json:
        return [json.dumps(supplies_json(opened, found), indent=2, allow_nan=False)]
    return [*supply_lines(opened, found), *taken]


def supply_lines(opened: OpenPlan, found: SuppliesTried) -> list[str]:
    """Every supply with what it comes to, for a terminal."""
    from rushlight.sheets.amounts import amount, run_words
    from rushlight.sheets.supplies import best_words, changes_words, fits_words, out_table, verdict_words

    if not found.rows:
        return [NO_SUPPLY]
    lines = []
    for number, row in enumerate(found.rows, 1):
        inside = f"{amount(row.weight_g or 0.0, 'g')}, fits: {fits_words(row)}"
        weight = "outside the model" if row.weight_g is None else inside
        lines += [f"{number}. {row.name}: {verdict_words(row, found)}",
                  f"   '{row.run_state}' runs {run_words(row.run_h)}; {weight}; {amount(row.price_eur, 'euro')}",
                  f"   dimmest on the flat supply: {row.dim_lamp}, {row.flat_share:.0%} of its light"]
        lines += [] if row.own else [f"   otherwise: {changes_words(row)}"]
    for names, why in out_table(opened.design, found).rows:
        lines.append(f"-  {names}: {why}")
    return [*lines, "", best_words(found), "Mains is never wired: an adapter is a finished, approved unit."]


def _taken(opened: OpenPlan, found: SuppliesTried, number: int) -> list[str]:
    """The plan changed and saved; what stands against the supply is said, and does not hinder."""
    from rushlight.sheets.supplies import against_words
    from rushlight.stages.supply_trials import take_supply
    from rushlight.working_plan import make_changes, start_work

    row = _numbered(found, number)
    if row.own:
        return ["", "It is the plan's own supply already; nothing was changed."]
    edit = take_supply(opened.design, row)
    make_changes(start_work(opened.folder), edit.changes, seen=opened.read.revision_checksum, what=edit.says)
    return ["", f"Taken: {edit.says} `rushlight history` brings back what was.",
            *(f"Mind: {says}." for says in against_words(row))]


def _numbered(found: SuppliesTried, number: int) -> SupplyTrial:
    if not 1 <= number <= len(found.rows):
        raise OutOfRange("--take", number, f"a number of the list, 1 to {len(found.rows)}" if found.rows else
                         "a plan with a supply and something wired")
    return found.rows[number - 1]


def supplies_json(opened: OpenPlan, found: SuppliesTried) -> dict[str, Any]:
    """The same as plain data."""
    from rushlight.web.supplies_plain import supplies_plain

    return {"plan": opened.design.plan.subject.title, **supplies_plain(opened.design, found)}
