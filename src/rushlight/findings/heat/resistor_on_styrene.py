"""Resistors that give off more heat than styrene bears where they touch it."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import Resistor
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    most = design.drawer.habit("resistor_heat_touching").high or 0.1
    hot = [row for row in design.power.resistors if row.dissipated_w > most * (1 + 1e-9)]
    return (_trouble(design, hot, most),) if hot else ()


def _trouble(design: Design, hot: list[Resistor], most: float) -> Trouble:
    worst = max(hot, key=lambda row: row.dissipated_w)
    names = [f"'{row.emitter}'" for row in hot]
    return Trouble(
        item=worst.emitter, spot=design.loom.emitter(worst.emitter).spot, number=1000 * worst.dissipated_w,
        limit=1000 * most,
        says=f"The resistor{'s' if len(hot) > 1 else ''} of {listed(names)} turn{'' if len(hot) > 1 else 's'} up to "
             f"{plain(1000 * worst.dissipated_w, 3)} mW into heat; touching plastic {plain(1000 * most)} mW is the "
             "most.",
    )


RULE = Rule(
    key="heat.resistor-on-styrene",
    grade=Grade.DOUBTFUL,
    title="Resistor too hot to touch plastic",
    unit="mW",
    why="A small resistor in still air gets 20 degrees warmer for each 100 mW, and plastic round it keeps the heat in.",
    cure="Keep it off the plastic on its leads, in the bay or on a board, away from clear parts; or lower the supply "
         "voltage.",
    source="habit resistor_heat: common practice, no source; 200 K/W of a quarter-watt resistor from memory",
    practice="resistor_heat",
    look=_look,
)
