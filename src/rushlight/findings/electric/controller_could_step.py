"""A controller that the plan has anyway could bring up the states, where no plain switch does it well."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.design_power import ChannelsOffer
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.drivers import driver_of
from rushlight.stages.switching import board_of


def _look(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    if switch is None or switch.offer is None or _barred(design):
        return ()
    offer = switch.offer
    return (Trouble(item="switch", number=offer.channels, limit=0, cure=_cure(design, offer),
                    says=capital(f"{offer.why}; the controller of this plan could step the states instead.")),)


def _barred(design: Design) -> bool:
    """Whether the board or its drivers do not bear the supply."""
    supply, board = design.power.supply, board_of(design.plan)
    driver = driver_of(design.plan, design.drawer)
    if supply is None or driver is None:
        return True
    return not driver.fits or supply.fresh_v > board.most_v or supply.flat_v < board.least_v


def _cure(design: Design, offer: ChannelsOffer) -> str:
    board = board_of(design.plan)
    short = offer.channels - len(board.pins)
    pins = f" Name {short} more pin{'' if short == 1 else 's'} for the controller first." if short > 0 else ""
    if not pins and board.button_pin in board.pins:
        pins = " Give the button a pin of its own (plan file: button_pin) first."
    return ("Let a button step the states, or a reed, for a magnet outside (plan file: states_by under controller): "
            f"a driver for each of {offer.channels} circuits, {offer.more} more than its rhythms take, a button, no "
            f"steering diodes. The board takes some {board.idle_ma:.2g} mA in every state.{pins}")


RULE = Rule(
    key="electric.controller-could-step",
    grade=Grade.COULD_BE_BETTER,
    title="The controller could step the states",
    unit="circuits",
    why="A transistor in each feed needs neither poles nor steering diodes; a button is smaller than a rotary switch.",
    cure="Let the controller step the states, or keep the switch.",
    source="electric.switch: the drawer's switches, and a channel for each circuit; each proved by the network's solve",
    look=_look,
)
