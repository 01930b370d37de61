"""More circuits to drive than the controller has pins for."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.rhythms import made_rhythms
from rushlight.stages.switching import board_of, stepped_by


def _look(design: Design) -> tuple[Trouble, ...]:
    made = [row for row in made_rhythms(design.plan, design.circuits, design.loom) if row.driven]
    without = [row.circuit for row in made if row.pin is None]
    pins = len(board_of(design.plan).pins)
    if not without:
        return ()
    return (Trouble(
        item=f"circuit {without[0].name}", spot=design.lamp(without[0].lamps[0]).spot, number=len(made), limit=pins,
        says=f"{len(made)} circuits are to be driven by the controller, which has {pins} pins named; "
             f"{listed([row.name for row in without])} would have none.",
        cure=f"Name {len(made)} pins for the controller, or {_other(design)}.",
    ),)


def _other(design: Design) -> str:
    if stepped_by(design.plan):
        return "let a switch bring up the states (plan file: states_by: switch), so that only rhythms take pins"
    return "take flashers for some"


RULE = Rule(
    key="electric.controller-pins",
    grade=Grade.WILL_FAIL,
    title="Controller without a pin left",
    unit="pins",
    why="Each circuit that the controller drives needs a pin of its own; a circuit without one stays dark.",
    cure="Name more pins, or take flashers for some circuits.",
    source="the plan's `controller`",
    look=_look,
)
