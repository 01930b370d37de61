"""A plug with fewer contacts than leads."""

from __future__ import annotations

import math

from rushlight.findings._words import capital
from rushlight.model.design import Design, Plug
from rushlight.model.finding import Grade, Rule, Trouble

WAYS = {"two way": 2, "four way": 4}


def ways(connector: str) -> int:
    """Contacts of a connector, by the end of its name; two where it tells none."""
    return next((count for words, count in WAYS.items() if connector.endswith(words)), 2)


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(plug) for plug in design.loom.plugs if plug.contacts > ways(plug.connector))


def _trouble(plug: Plug) -> Trouble:
    have = ways(plug.connector)
    return Trouble(
        item=plug.name, number=plug.contacts, limit=have,
        says=capital(f"{plug.name}: {plug.contacts} leads pass, and {plug.connector} has {have} contacts."),
        cure=f"Use {math.ceil(plug.contacts / have)} of them side by side, marked so that they cannot be swapped; "
             "or join "
             "returns into one before the plug.",
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
