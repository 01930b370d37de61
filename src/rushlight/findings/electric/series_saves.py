"""Like LEDs with a resistor each where strings in series would spare the cells."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.design_power import SeriesTrade
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.pins import held
from rushlight.stages.series import CHOICE
from rushlight.stages.series_trade import WORTH_SHARE

LEAST_OF_ALL = 0.1
"""Told where it spares the heaviest state at least this share of its current (project proposal)."""


def advised(design: Design) -> tuple[tuple[SeriesTrade, SeriesTrade], ...]:
    """Of every group without a held choice: its own resistors, and the string that is advised in their place."""
    most_a = max((state.supply_a.typical for state in design.power.states), default=0.0)
    alone = {(row.circuit, row.emitters): row for row in design.power.series if row.in_series == 1}
    pairs = [(alone[row.circuit, row.emitters], row) for row in design.power.series if row.best and row.in_series > 1]
    return tuple(
        (own, best) for own, best in pairs
        if own.supply_a - best.supply_a >= LEAST_OF_ALL * most_a
        and own.built and held(design.plan, CHOICE, "all", own.circuit) is None
    )


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, own, best) for own, best in advised(design))


def _trouble(design: Design, own: SeriesTrade, best: SeriesTrade) -> Trouble:
    names = listed(list(own.emitters))
    return Trouble(
        item=own.emitters[0], spot=design.loom.emitter(own.emitters[0]).spot,
        number=best.supply_a / own.supply_a, limit=WORTH_SHARE,
        says=capital(f"{names} take {ma(own.supply_a)} with a resistor each; {best.in_series} in series they would "
                     f"take {ma(best.supply_a)}. On flat cells the dimmest then keeps {best.flat_share:.0%} of its "
                     f"current, where it keeps {own.flat_share:.0%} now, and one broken LED or joint puts out "
                     f"{best.in_series}."),
        cure=f"Hold {CHOICE} {best.in_series} for circuit {own.circuit}, if you want that; 1 keeps a resistor each.",
    )


RULE = Rule(
    key="electric.series-saves",
    grade=Grade.COULD_BE_BETTER,
    title="Strings in series would spare the cells",
    unit="share",
    why="An LED with a resistor of its own turns most of a higher supply into heat; in series the same current lights "
        "several.",
    cure="Let like LEDs stand in series as far as the flat supply bears it, or leave each its own resistor, so that "
         "one fault darkens one lamp.",
    source="the DC network, solved for each length of string; the limits are a project proposal",
    look=_look,
)
