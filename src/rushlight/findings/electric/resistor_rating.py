"""A resistor that has to give off more heat than it is rated for."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design, Resistor
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    over = [row for row in design.power.resistors if row.dissipated_w > row.rating_w]
    if not over:
        return ()
    worst: Resistor = max(over, key=lambda row: row.dissipated_w / row.rating_w)
    names = listed([row.emitter for row in over])
    return (Trouble(
        item=worst.emitter, number=worst.dissipated_w, limit=worst.rating_w,
        spot=design.loom.emitter(worst.emitter).spot,
        says=capital(f"{names}: the resistor gives off up to {plain(worst.dissipated_w)} W and is rated for "
                     f"{plain(worst.rating_w)} W."),
        cure="Lower the current, or use a supply of a lower voltage; a resistor of twice the power is the last resort.",
    ),)


RULE = Rule(
    key="electric.resistor-rating",
    grade=Grade.WILL_FAIL,
    title="Resistor over its rating",
    unit="W",
    why="A resistor over its rating chars, drifts and melts the plastic that it touches.",
    cure="Lower the current or the supply voltage.",
    source="resistor_ratings.csv: usual data sheets, from memory",
    look=_look,
)
