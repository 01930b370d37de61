"""Which other supplies are worth working out: of each usual voltage the lightest and the cheapest that may last."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.drawer import CellPart
from rushlight.model.plan_bench import Supply
from rushlight.stages.layouts import find_bay
from rushlight.stages.power import DIM_SHARE
from rushlight.stages.series import like_leds, most_in_series
from rushlight.stages.supplies import supply_ages, supply_fits
from rushlight.stages.supply_bars import barred_by_voltage, flat_share_about
from rushlight.stages.supply_choice import runs_h, wanted_of, weight_g
from rushlight.stages.supply_limits import least_side_mm, pouch_needs_mm
from rushlight.stages.supply_units import supply_price_eur, usual_units

CLASSES_V = (1.5, 3.0, 3.7, 4.5, 6.0, 9.0, 12.0)
"""Nominal voltages that sets of cells are told by: one to eight 1.5 V cells, and one lithium cell."""

WALL_V = 12.0
"""The usual voltage of an adapter for a model; 5 V comes from USB."""

MOST_PARALLEL = 3
HEADROOM = 1.25
"""A finished unit is taken so much stronger than the lamps ask (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A supply that may do, or why none of its voltage can.

    `hours_h` is how long it would run at the present currents, at most (no end for what does not run down); `dims`: an
    LED would probably be as good as out when it is flat; `why_not` is empty where it is worth solving.
    """

    supply: Supply
    class_v: float
    nominal_v: float
    hours_h: float
    weight_g: float
    price_eur: float
    dims: bool = False
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offers:
    """Finished units, and of each class of voltage the sets of cells that may do, the most promising first.

    `out` holds of what cannot do one for each class of voltage.
    """

    units: tuple[Offer, ...]
    classes: tuple[tuple[Offer, ...], ...]
    out: tuple[Offer, ...]


def offers(design: Design) -> Offers:
    """Supplies to work out.

    Parameters
    ----------
    design : Design
        A whole design with a supply and something lit.
    Returns
    -------
    Offers
        The plan's own is left out; classes go by their first set's weight, the plan's own voltage first.
    """
    units, found = _finished(design), [_of_class(design, volts) for volts in CLASSES_V]
    open_ = [rows for rows in found if rows and not rows[0].why_not]
    own_v = supply_ages(design.plan, design.drawer)[1].emf_v
    open_.sort(key=lambda rows: (abs(_class_of(own_v) - rows[0].class_v) > 0.01, rows[0].dims, rows[0].weight_g))
    return Offers(
        units=tuple(row for row in units if not row.why_not),
        classes=tuple(tuple(rows) for rows in open_),
        out=tuple(row for row in (*units, *(rows[0] for rows in found if rows)) if row.why_not),
    )


# --- finished units -----------------------------------------------------------------------------------------------


def _finished(design: Design) -> list[Offer]:
    """A USB adapter, an adapter of the usual voltage and a USB power bank, each strong enough."""
    hours, mean_a, most_a = wanted_of(design)
    made = []
    for kind, volts in (("usb adapter", 5.0), ("adapter", WALL_V), ("usb power bank", 5.0)):
        units = [row for row in usual_units() if (row.kind, row.nominal_v) == (kind, volts)]
        strong = [row for row in units if row.limit_a >= most_a * HEADROOM] or units[-1:]
        if kind == "usb power bank":
            strong = [row for row in strong if _bank_h(row.bank_mah, mean_a) >= hours] or strong[-1:]
        unit = min(strong, key=lambda row: row.price_eur)
        supply = _as_unit(design, kind, volts, unit.limit_a, unit.bank_mah)
        if not same_supply(supply, _own(design)):
            made.append(
                Offer(
                    supply=supply,
                    class_v=volts,
                    nominal_v=volts,
                    hours_h=float("inf"),
                    weight_g=0.0,
                    price_eur=unit.price_eur,
                    why_not=barred_by_voltage(design, supply),
                )
            )
    return made


def _bank_h(bank_mah: float, mean_a: float) -> float:
    from rushlight.electric.supply import bank_run_time_h

    return bank_run_time_h(bank_mah, min(max(mean_a, 1e-3), 5.0)).typical


def _as_unit(design: Design, kind: str, volts: float, limit_a: float, bank_mah: float) -> Supply:
    usual, own = Supply(kind=kind), _own(design)
    return replace(
        usual,
        adapter_v=volts if kind == "adapter" else usual.adapter_v,
        limit_a=limit_a,
        bank_mah=bank_mah or usual.bank_mah,
        bay=own.bay,
        run_h=own.run_h,
        master=own.master,
        fuse_a=own.fuse_a,
    )


def same_supply(a: Supply, b: Supply) -> bool:
    """Whether two supplies give the same, whatever their rating."""
    if a.kind != b.kind:
        return False
    if a.kind == "cells":
        return (a.cell, a.in_series, a.in_parallel) == (b.cell, b.in_series, b.in_parallel)
    return a.kind != "adapter" or a.adapter_v == b.adapter_v


def _own(design: Design) -> Supply:
    assert design.plan.supply is not None
    return design.plan.supply


# --- cells --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Cells:
    """A set of cells with what it may do."""

    offer: Offer
    bears: bool
    lasts: bool
    fits: bool

    @property
    def good(self) -> bool:
        return self.bears and self.lasts and self.fits


def _of_class(design: Design, volts: float) -> list[Offer]:
    """Of each chemistry and exact voltage in a class the lightest and the cheapest set; or one, with why none does."""
    sets = [supply for supply in _sets(design) if _class_v(design, supply) == volts]
    if not sets:
        return []
    by_cell = {(row.cell, row.in_series): barred_by_voltage(design, row) for row in sets if row.in_parallel == 1}
    open_ = [row for row in sets if not by_cell[row.cell, row.in_series]]
    if not open_:
        best = min((row for row in sets if row.in_parallel == 1), key=lambda row: abs(_volts(design, row) - volts))
        return [_offer(design, best, volts, why_not=by_cell[best.cell, best.in_series])]
    tried = [_cells(design, supply, volts) for supply in open_]
    good = [row.offer for row in tried if row.good]
    if not good:
        return [_nearest(design, tried)]
    kinds: dict[tuple[str, float], list[Offer]] = {}
    for row in good:
        if not same_supply(row.supply, _own(design)):
            kind = (design.drawer.cell(row.supply.cell).chemistry, _volts(design, row.supply))
            kinds.setdefault(kind, []).append(row)
    best_of = [_least(rows) for rows in kinds.values()]
    firsts = sorted((rows[0] for rows in best_of), key=lambda row: (row.dims, row.weight_g))
    cheap = sorted((rows[1] for rows in best_of), key=lambda row: (row.dims, row.price_eur))
    return list(dict.fromkeys((*firsts[:1], *cheap[:1], *firsts[1:], *cheap[1:])))


def _least(rows: Sequence[Offer]) -> tuple[Offer, Offer]:
    """The lightest and the cheapest."""
    return (
        min(rows, key=lambda row: (row.weight_g, row.price_eur)),
        min(rows, key=lambda row: (row.price_eur, row.weight_g)),
    )


def _sets(design: Design) -> Iterable[Supply]:
    own = _own(design)
    for part in design.drawer.cells:
        most_series = 1 if _lithium(part) else int(max(CLASSES_V) * 1.1 / part.nominal_v)
        side = MOST_PARALLEL if part.rechargeable and not _lithium(part) else 1
        if part.coin:
            continue
        for series in range(1, most_series + 1):
            for parallel in range(1, side + 1):
                yield replace(
                    Supply(kind="cells"),
                    cell=part.name,
                    in_series=series,
                    in_parallel=parallel,
                    bay=own.bay,
                    run_h=own.run_h,
                    master=own.master,
                    fuse_a=own.fuse_a,
                )


def _lithium(part: CellPart) -> bool:
    """Rechargeable lithium: one cell with its own protection, never a set."""
    return part.rechargeable and part.chemistry.startswith("lithium")


def _class_v(design: Design, supply: Supply) -> float:
    return _class_of(_volts(design, supply))


def _class_of(nominal_v: float) -> float:
    return min(CLASSES_V, key=lambda at: max(at / nominal_v, nominal_v / at))


def _volts(design: Design, supply: Supply) -> float:
    return design.drawer.cell(supply.cell).nominal_v * supply.in_series


def _cells(design: Design, supply: Supply, volts: float, *, spares: float | None = None) -> _Cells:
    hours, _, most_a = wanted_of(design)
    part, bay = design.drawer.cell(supply.cell), find_bay(design.plan)
    times = _spares(design, supply) if spares is None else spares
    offer = _offer(design, supply, volts, spares=times)
    room = bay is None or (supply_fits(design.drawer, supply, bay[1]) and pouch_needs_mm(part) <= least_side_mm(bay[1]))
    bears = part.drain_limit_ma * supply.in_parallel / 1000 >= most_a / times
    return _Cells(offer, bears, offer.hours_h >= hours, room)


def _offer(design: Design, supply: Supply, volts: float, *, why_not: str = "", spares: float = 1.0) -> Offer:
    part, (_, mean_a, _) = design.drawer.cell(supply.cell), wanted_of(design)
    ages = supply_ages(replace(design.plan, supply=supply), design.drawer)
    return Offer(
        supply=supply,
        class_v=volts,
        nominal_v=_volts(design, supply),
        hours_h=runs_h(part, supply, mean_a / spares),
        dims=flat_share_about(design, ages) < DIM_SHARE,
        weight_g=supply.in_series * supply.in_parallel * weight_g(part),
        price_eur=supply_price_eur(design.drawer, supply),
        why_not=why_not,
    )


def _spares(design: Design, supply: Supply) -> float:
    """How many times less the lamps could take at the most if as many as go stood in series."""
    if design.loom.strings:
        return 2.0
    plan = replace(design.plan, supply=supply)
    alike = like_leds(design.plan, design.drawer, design.circuits, design.loom.emitters)
    return float(max((min(most_in_series(plan, design.drawer, like), len(like.emitters)) for like in alike), default=1))


def next_heavier(design: Design, supply: Supply, weight_g: float) -> Supply | None:
    """The lightest heavier set of a set's voltage that lasts at the currents that its own loom takes.

    Parameters
    ----------
    design : Design
        With the power that was worked out for that set.
    supply : Supply
        The set that did not last.
    weight_g : float
        Its weight [g].
    Returns
    -------
    Supply or None
        None where no set that goes into the bay lasts.
    """
    volts = _class_v(design, supply)
    near = [row for row in _sets(design) if _volts(design, row) == _volts(design, supply)]
    sets = [_cells(design, row, volts, spares=1.0) for row in near if not barred_by_voltage(design, row)]
    good = [row.offer for row in sets if row.good and row.offer.weight_g > weight_g]
    return min(good, key=lambda row: (row.weight_g, row.price_eur)).supply if good else None


def _nearest(design: Design, tried: Sequence[_Cells]) -> Offer:
    """Of a class in which none does, the one that does most, and what it lacks."""
    hours, _, most_a = wanted_of(design)
    if not any(row.fits for row in tried):
        enough = [row for row in tried if row.bears and row.lasts] or tried
        return replace(
            min(enough, key=lambda row: row.offer.weight_g).offer,
            why_not="no set of about this voltage that lasts goes into the bay"
            if len(enough) < len(tried)
            else "no set of about this voltage goes into the bay",
        )
    best = max((row for row in tried if row.fits), key=lambda row: (row.bears, row.offer.hours_h, -row.offer.weight_g))
    why = (
        f"of what goes into the bay none bears {1000 * most_a:.3g} mA"
        if not best.bears
        else f"of what goes into the bay none lasts {hours:.3g} h; this one lasts about {best.offer.hours_h:.2g} h"
    )
    return replace(best.offer, why_not=why)
