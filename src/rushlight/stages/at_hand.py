"""Parts that the modeller owns: where a table has any, what the design chooses by itself is chosen among them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.electric.resistor import series_values, value_not_above, value_not_below
from rushlight.electric.resistor_pairs import ResistorPair, pair_not_below
from rushlight.model.drawer import Drawer, RegulatorPart, ResistorPart
from rushlight.model.plan import Plan


def pieces(plan: Plan, table: str) -> dict[str, int]:
    """How many of each row of a table are at hand, as the plan says; empty where it says nothing of that table.

    Parameters
    ----------
    plan : Plan
        The checked plan.
    table : str
        switches, regulators or resistors.
    Returns
    -------
    dict
        Pieces by the row's name, in the order of the plan.
    """
    found: dict[str, int] = {}
    for own in plan.at_hand:
        if own.table == table:
            found[own.row] = found.get(own.row, 0) + own.count
    return found


def regulators_offered(plan: Plan, drawer: Drawer) -> tuple[RegulatorPart, ...]:
    """The regulators among which the nearest is sought: those at hand; the whole drawer where none are named."""
    own = pieces(plan, "regulators")
    return tuple(part for part in drawer.regulators if not own or part.name in own)


USUAL_SERIES = "E24"
USUAL_RESISTOR = "axial 0.25 W, E24 5 %"
"""What a resistor at hand is taken for where the plan names no row of the drawer."""

NEAR_SHARE = 0.15
"""So far may a value lie over the wanted one: E24 steps by a tenth, and an eye tells a sixth at best (project rule)."""

MOST_TIMES = 2.0
"""A resistor at hand of more than so many times the wanted value is not near enough: under half of the light is left
(project rule)."""


@dataclass(frozen=True, slots=True)
class Offered:
    """Resistors of one kind: every value of its series, or only some values [ohm], rising."""

    part: ResistorPart
    only_ohm: tuple[float, ...] = ()

    @property
    def steps(self) -> int:
        """Values in a decade of the series."""
        return int(self.part.series.removeprefix("E"))

    def not_below(self, wanted_ohm: float) -> float | None:
        """The least value that is not below the wanted one; None where there is none."""
        if not self.only_ohm:
            return value_not_below(wanted_ohm, self.steps)
        return next((ohm for ohm in self.only_ohm if ohm >= wanted_ohm * (1 - 1e-9)), None)

    def not_above(self, wanted_ohm: float) -> float | None:
        """The greatest value that is not above the wanted one; None where there is none."""
        if not self.only_ohm:
            return value_not_above(wanted_ohm, self.steps)
        return next((ohm for ohm in reversed(self.only_ohm) if ohm <= wanted_ohm * (1 + 1e-9)), None)

    def around(self, ohm: float) -> tuple[float, ...]:
        """All values but those that lie so far off that they would add nothing."""
        if self.only_ohm:
            return self.only_ohm
        power = math.floor(math.log10(ohm)) - (1 if self.steps <= 24 else 2)
        return tuple(float(f"{value}e{power + up}") for up in (-1, 0, 1) for value in series_values(self.steps))

    def has(self, ohm: float) -> bool:
        """Whether a value is among them."""
        found = self.not_below(ohm)
        return found is not None and found <= ohm * (1 + 1e-9)


def resistors_offered(plan: Plan, drawer: Drawer) -> tuple[Offered, ...]:
    """The resistors among which values are chosen: those at hand; else leaded ones of E24."""
    return resistors_at_hand(plan, drawer) or resistors_sold(drawer)


def resistors_sold(drawer: Drawer) -> tuple[Offered, ...]:
    """The usual resistors to buy: leaded ones of E24."""
    return tuple(Offered(part) for part in drawer.resistors
                 if part.name.startswith("axial") and part.series == USUAL_SERIES)


def resistors_at_hand(plan: Plan, drawer: Drawer) -> tuple[Offered, ...]:
    """Assortments and single values at hand; of a row that is named both ways, the assortment has them all."""
    only: dict[str, tuple[float, ...]] = {}
    for own in plan.at_hand:
        if own.table == "resistors":
            row = own.row or USUAL_RESISTOR
            more = only.get(row, own.values_ohm)
            only[row] = tuple(sorted({*more, *own.values_ohm})) if more and own.values_ohm else ()
    return tuple(Offered(part, only[part.name]) for part in drawer.resistors if part.name in only)


def value_offered(offered: tuple[Offered, ...], wanted_ohm: float) -> float:
    """The resistance to fit where one is wanted.

    Parameters
    ----------
    offered : tuple of Offered
        What is at hand or on sale.
    wanted_ohm : float
        Exact resistance [ohm].
    Returns
    -------
    float
        The least value not below it [ohm], so that never more current flows; where that is more than twice the wanted
        one, or there is none, the value of E24, to buy.
    """
    found = [ohm for own in offered if (ohm := own.not_below(wanted_ohm)) is not None]
    near = min(found, default=wanted_ohm * (MOST_TIMES + 1))
    return near if near <= MOST_TIMES * wanted_ohm else value_not_below(wanted_ohm)


def pair_offered(held: tuple[Offered, ...], wanted_ohm: float) -> tuple[ResistorPart, ResistorPair] | None:
    """Two resistors of one kind at hand that come near enough to a wanted value, and never below it; None without."""
    found = [(own.part, pair) for own in held if (pair := pair_not_below(wanted_ohm, own.around(wanted_ohm)))]
    near = min(found, key=lambda one: one[1].ohm, default=None)
    return near if near and near[1].ohm <= (1 + NEAR_SHARE) * wanted_ohm else None


def switches_to_buy(plan: Plan, parts: tuple[str, ...]) -> dict[str, int]:
    """Of the switches that a design takes, those that are not at hand, with their pieces."""
    left, found = pieces(plan, "switches"), dict[str, int]()
    for part in parts:
        if left.get(part, 0):
            left[part] -= 1
        else:
            found[part] = found.get(part, 0) + 1
    return found
