"""A plug with fewer contacts than leads."""

from __future__ import annotations

import math

from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.design_loom import Plug
from rushlight.model.finding import Grade, Rule, Trouble


def ways(design: Design, connector: str) -> int:
    """Contacts of a connector of the drawer."""
    return next(row.contacts for row in design.drawer.connectors if row.name == connector)


def _look(design: Design) -> tuple[Trouble, ...]:
    counted = [(plug, ways(design, plug.connector)) for plug in design.loom.plugs]
    return tuple(_trouble(plug, have) for plug, have in counted if plug.contacts > have)


def _trouble(plug: Plug, have: int) -> Trouble:
    return Trouble(
        item=plug.name, number=plug.contacts, limit=have,
        says=capital(f"{plug.name}: {plug.contacts} leads pass, and {plug.connector} has {have} contacts."),
        cure=f"Use {math.ceil(plug.contacts / have)} of them side by side, marked so that they cannot be swapped; "
             "or join returns into one before the plug.",
    )


RULE = Rule(
    key="loom.plug-contacts",
    grade=Grade.COULD_BE_BETTER,
    title="More leads than contacts",
    unit="contacts",
    why="Every lead that crosses needs a contact of its own.",
    cure="Use more plugs, or fewer leads.",
    source="connectors of the drawer",
    look=_look,
)
