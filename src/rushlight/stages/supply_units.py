"""Finished units that feed a model, and holders for cells: what they give, weigh and cost."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import Supply
from rushlight.tables import row_by, rows


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualUnit:
    """A finished unit as it is sold: printed voltage [V], rated current [A], printed charge of a bank [mAh]."""

    kind: str
    nominal_v: float
    limit_a: float
    bank_mah: float
    weight_g: float
    price_eur: float


def usual_units() -> tuple[UsualUnit, ...]:
    """Every unit of supply_units.csv, in its order."""
    return tuple(
        UsualUnit(
            kind=row["kind"],
            nominal_v=float(row["nominal_v"]),
            limit_a=float(row["limit_a"]),
            bank_mah=float(row["bank_mah"] or 0),
            weight_g=float(row["weight_g"]),
            price_eur=float(row["price_eur"]),
        )
        for row in rows("supply_units")
        if row["kind"] != "holder"
    )


def adapter_volts() -> tuple[float, ...]:
    """Usual voltages of finished adapters [V], the lowest first."""
    return tuple(sorted({row.nominal_v for row in usual_units() if row.kind == "adapter"}))


def holder_price_eur() -> float:
    """Price of a holder for a set of cells [euro]."""
    return float(row_by("supply_units", "kind", "holder")["price_eur"])


def unit_of(supply: Supply) -> UsualUnit:
    """The usual unit nearest to a planned one: the cheapest that gives as much, else the strongest of its kind."""
    alike = [row for row in usual_units() if row.kind == supply.kind]
    if supply.kind == "adapter":
        volts = min((row.nominal_v for row in alike), key=lambda v: abs(v - supply.adapter_v))
        alike = [row for row in alike if row.nominal_v == volts]
    enough = [row for row in alike if row.limit_a >= supply.limit_a and row.bank_mah >= _charge_mah(supply)]
    return min(enough, key=lambda row: row.price_eur) if enough else max(alike, key=lambda row: row.price_eur)


def _charge_mah(supply: Supply) -> float:
    return supply.bank_mah if supply.kind == "usb power bank" else 0.0


def supply_price_eur(drawer: Drawer, supply: Supply) -> float:
    """Usual price of a supply [euro]: one set of cells with its holder, or the finished unit."""
    if supply.kind != "cells":
        return unit_of(supply).price_eur
    return supply.in_series * supply.in_parallel * drawer.cell(supply.cell).price_eur + holder_price_eur()
