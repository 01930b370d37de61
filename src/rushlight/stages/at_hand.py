"""Parts that the modeller owns: where a table has any, what the design chooses by itself is chosen among them."""

from __future__ import annotations

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


def resistors_offered(plan: Plan, drawer: Drawer) -> tuple[ResistorPart, ...]:
    """The resistors among which values are chosen: assortments at hand; else leaded ones of E24."""
    own = pieces(plan, "resistors")
    if own:
        return tuple(part for part in drawer.resistors if part.name in own)
    return tuple(part for part in drawer.resistors if part.name.startswith("axial") and part.series == USUAL_SERIES)


def switches_to_buy(plan: Plan, parts: tuple[str, ...]) -> dict[str, int]:
    """Of the switches that a design takes, those that are not at hand, with their pieces."""
    left, found = pieces(plan, "switches"), dict[str, int]()
    for part in parts:
        if left.get(part, 0):
            left[part] -= 1
        else:
            found[part] = found.get(part, 0) + 1
    return found
