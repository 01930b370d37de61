"""Other supplies side by side as plain data, each with the edit that takes it."""

from __future__ import annotations

from typing import Any

from rushlight.model.change import Change
from rushlight.model.design import Design
from rushlight.sheets.amounts import run_words, sentence
from rushlight.sheets.supplies import against_words, best_words, changes_words, fits_words, out_table, verdict_words
from rushlight.stages.supply_trial import SupplyTrial
from rushlight.stages.supply_trials import SuppliesTried, take_supply
from rushlight.web.plain import plain


def supplies_plain(design: Design, found: SuppliesTried) -> dict[str, Any]:
    """What was worked out beside the plan's own supply.

    Parameters
    ----------
    design : Design
        The design as it stands.
    found : SuppliesTried
        Of `supplies_tried`.
    Returns
    -------
    dict
        `rows` (the plan's own first, each with numbers, words and its edit), `out` (names and why), `best` in words.
    """
    return {
        "rows": [_row(design, found, row) for row in found.rows],
        "out": [{"supply": names, "why": why} for names, why in out_table(design, found).rows],
        "best": best_words(found) if found.rows else "",
    }


def _row(design: Design, found: SuppliesTried, row: SupplyTrial) -> dict[str, Any]:
    edit = None if row.own else take_supply(design, row)
    return {
        "name": row.name, "own": row.own, "does": row.does, "lightest": row is found.lightest,
        "cheapest": row is found.cheapest, "nominal_v": row.nominal_v, "fresh_v": row.fresh_v, "flat_v": row.flat_v,
        "fresh_percent": round(100 * row.fresh_share, 1), "flat_percent": round(100 * row.flat_share, 1),
        "dim_lamp": row.dim_lamp, "state": row.run_state, "run_h": plain(row.run_h), "asked_h": row.asked_h,
        "evening_h": plain(row.evening_h), "evening_asked_h": row.evening_asked_h, "runs": run_words(row.run_h),
        "fits": fits_words(row), "weight_g": row.weight_g, "price_eur": row.price_eur, "wall_c": row.wall_c,
        "verdict": sentence(verdict_words(row, found)), "against": against_words(row), "changes": changes_words(row),
        "edit": {"says": edit.says, "changes": [_change(change) for change in edit.changes]} if edit else None,
    }


def _change(change: Change) -> dict[str, Any]:
    """A change as the API takes it back, of an item of an item too."""
    inner = {"list": change.inner_list, "item": change.inner} if change.inner_list else {}
    return {"action": change.action, "kind": change.kind, "name": change.name, "values": plain(dict(change.values)),
            **inner}
