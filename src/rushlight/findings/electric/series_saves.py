"""Like LEDs by themselves where strings in series would spare the cells."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.design_power import SeriesTrade
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.series import CHOICE


def advised(design: Design) -> tuple[tuple[SeriesTrade, SeriesTrade], ...]:
    """Of every group whose LEDs are kept apart for a risk alone: each by itself, and the string that would pay."""
    alone = {(row.circuit, row.emitters): row for row in design.series if row.in_series == 1}
    return tuple((alone[row.circuit, row.emitters], row) for row in design.series if row.offered)


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, own, best) for own, best in advised(design))


def _trouble(design: Design, own: SeriesTrade, best: SeriesTrade) -> Trouble:
    names = listed(list(own.emitters))
    return Trouble(
        item=own.emitters[0], spot=design.loom.emitter(own.emitters[0]).spot,
        number=best.mean_a / own.mean_a, limit=1 - (design.drawer.habit("series_saves").low or 0.25),
        says=capital(f"{names} take {ma(own.supply_a)} with a {own.by} each; {best.in_series} in series they would "
                     f"take {ma(best.supply_a)}, and '{own.state}' would run {plain(best.run_h)} h instead of "
                     f"{plain(own.run_h)} h. Left apart, as {best.why}."),
        cure=f"Hold {CHOICE} {best.in_series} for circuit {own.circuit}, if you want that; 1 keeps a {own.by} each.",
    )


RULE = Rule(
    key="electric.series-saves",
    grade=Grade.COULD_BE_BETTER,
    title="Strings in series would spare the cells",
    unit="share",
    why="An LED by itself turns most of a higher supply into heat in what sets its current; in series the same current "
        "lights several. They were left apart for a risk that you may take.",
    cure="Let like LEDs stand in series as far as the flat supply bears it, or leave each by itself, so that "
         "one fault darkens one lamp.",
    source="the loom, laid and solved for each length of string; the limits are a project proposal",
    practice="series_saves",
    look=_look,
)
