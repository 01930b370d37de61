"""A controller on a supply that it does not bear, or that leaves it too little."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.drivers import driver_of, least_driven_v, most_driven_v
from rushlight.stages.rhythms import made_rhythms
from rushlight.stages.switching import board_of


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    made = made_rhythms(design.plan, design.circuits, design.loom)
    if supply is None or not any(row.driven for row in made):
        return ()
    board = board_of(design.plan)
    least_v, most_v = max(board.least_v, least_driven_v()), min(board.most_v, most_driven_v())
    if supply.fresh_v > most_v:
        return (Trouble(
            item="controller", number=supply.fresh_v, limit=most_v,
            says=f"The supply gives up to {plain(supply.fresh_v)} V; the controller and its drivers bear "
                 f"{plain(most_v)} V.",
            cure=f"Feed the board through a small regulator of 5 V and say its range with the controller, or take a "
                 f"supply of {plain(most_v)} V at most.",
        ),)
    if supply.flat_v < least_v:
        return (Trouble(
            item="controller", number=supply.flat_v, limit=least_v,
            says=f"The flat supply gives {plain(supply.flat_v)} V; the controller and its drivers need "
                 f"{plain(least_v)} V.",
            cure="Put one more cell in series, or stop sooner: the rhythms end before the lamps do.",
        ),)
    driver = driver_of(design.plan, design.drawer)
    if driver is not None and not driver.fits:
        return (Trouble(
            item="controller", number=supply.fresh_v, limit=driver.kind.most_v,
            says=f"The supply runs from {plain(supply.fresh_v)} V fresh to {plain(supply.flat_v)} V flat; no usual "
                 "driver is fully on at the one and bears the other.",
            cure="Take a supply that falls less, or drivers made for that range.",
        ),)
    return ()


RULE = Rule(
    key="electric.controller-supply",
    grade=Grade.WILL_FAIL,
    title="Controller on the wrong voltage",
    unit="V",
    why="Too much voltage ends the board at once; with too little it stops or starts anew again and again.",
    cure="Feed the controller within its range.",
    source="the plan's `controller`; data sheets of driver transistors",
    look=_look,
)
