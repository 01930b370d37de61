"""The supply that lasts as asked, fits the bay and is lightest or cheapest: others worked out beside the plan's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.plan_bench import Supply
from rushlight.stages.pipeline import Progress
from rushlight.stages.supply_offers import Offer, Offers, next_heavier, offers
from rushlight.stages.supply_trial import SupplyTrial, own_trial, reached_by, tried_supply

MOST_TRIED = 6
"""Other supplies that are worked out whole."""

STAGES_EACH = 5
"""Words of progress that one usually takes."""

HOW_REACHED = {
    "plug outside": "let its plug come into the bay '{}' from outside",
    "screwed hatch": "give the bay '{}' a screwed hatch, so that the cells come out again",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SuppliesTried:
    """The plan's own supply first, then others worked out whole; `out` are those that never could, with the reason."""

    rows: tuple[SupplyTrial, ...]
    out: tuple[Offer, ...]

    @property
    def lightest(self) -> SupplyTrial | None:
        """Of those that do and travel with the model the lightest."""
        inside = [row for row in self.rows if row.does and row.weight_g is not None]
        return min(inside, key=lambda row: (row.weight_g, row.price_eur), default=None)

    @property
    def cheapest(self) -> SupplyTrial | None:
        """Of those that do the cheapest."""
        return min((row for row in self.rows if row.does), key=lambda row: row.price_eur, default=None)


def supplies_tried(design: Design, *, progress: Progress | None = None, most: int = MOST_TRIED) -> SuppliesTried:
    """Other supplies beside the plan's own, each with the loom that it needs.

    Parameters
    ----------
    design : Design
        A whole design.
    progress : callable, optional
        Told what is tried, and each stage as it starts; it may raise to stop.
    most : int
        So many others at the most.
    Returns
    -------
    SuppliesTried
        No rows where the plan names no supply or nothing is wired.
    Notes
    -----
    Which cells are tried goes by the present currents; where one then does not last as it seemed, the next heavier of
    its voltage is tried.
    """
    if design.plan.supply is None or not design.power.states or design.power.supply is None:
        return SuppliesTried(rows=(), out=())
    found = offers(design)
    waiting = _in_turn(found)
    rows, tell = [own_trial(design)], progress or _silent
    while waiting and len(rows) <= most:
        offer = waiting.pop(0)
        tell("another supply")
        rows.append(tried_supply(design, offer, progress=progress))
        waiting = [*_instead(design, found, rows), *waiting]
    return SuppliesTried(rows=tuple(rows), out=found.out)


def _in_turn(found: Offers) -> list[Supply]:
    """The first of the plan's own voltage, then finished units, then the first of each other voltage."""
    firsts = [rows[0].supply for rows in found.classes]
    return [*firsts[:1], *(row.supply for row in found.units), *firsts[1:]]


def _instead(design: Design, found: Offers, rows: Sequence[SupplyTrial]) -> list[Supply]:
    """What to try after cells that do not do: the next heavier of their voltage, else the next of their class."""
    last, known = rows[-1], [row.supply for row in rows]
    if last.does or last.weight_g is None:
        return []
    if not last.bars and last.fits is not False:
        solved = replace(design, plan=replace(design.plan, supply=last.supply), power=last.power)
        more = next_heavier(solved, last.supply, last.weight_g)
        if more is not None and more not in known:
            return [more]
    own = next((group for group in found.classes if any(row.supply == last.supply for row in group)), ())
    return [row.supply for row in own if row.supply not in known][:1]


def take_supply(design: Design, trial: SupplyTrial) -> Edit:
    """The edit that makes a tried supply the plan's: the supply, and how its bay is reached where that changes."""
    made, usual, own = trial.supply, Supply(kind=trial.supply.kind), design.plan.supply
    keys = ("kind", "cell", "in_series", "in_parallel", "adapter_v", "limit_a", "bank_mah", "fuse_a")
    values = {
        key: getattr(made, key) if key == "kind" or getattr(made, key) != getattr(usual, key) else None
        for key in keys
        if own is None or getattr(made, key) != getattr(own, key)
    }
    changes = [Change("set", "supply", "", values)]
    says = f"feed the model from {trial.name}"
    if reached := reached_by(design, made):
        part, bay, access = reached
        changes.append(Change("set", "parts", part, {"access": access}, inner_list="bays", inner=bay))
        says += f", and {HOW_REACHED[access].format(bay)}"
    return Edit(tuple(changes), f"{says[0].upper()}{says[1:]}.")


def _silent(stage: str) -> None:
    """Progress that nobody asked for."""
