"""A contact of the switch, or of a plug, over its rated current."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.electric._currents import lead_currents, pole_currents
from rushlight.findings.electric._words import NETWORK, ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*_switch(design), *_reeds(design), *_plugs(design))


def _reeds(design: Design) -> tuple[Trouble, ...]:
    """A reed may have to pass the heaviest state; it bears no surge beyond its rating."""
    switch = design.power.switch
    parts = switch.parts[1 if switch.stepped_by else 0:] if switch else ()  # a button passes a board's pin alone
    amps = max((state.supply_a.high for state in design.power.states), default=0.0)
    return tuple(Trouble(
        item=part.name, number=amps, limit=part.contact_a,
        says=f"Up to {ma(amps)} pass the {part.name}, which is rated for {ma(part.contact_a)}.",
        cure="Let the reed only switch a transistor, or take a switch that a finger works.",
    ) for part in design.drawer.switches if part.kind == "reed" and part.name in parts and amps > part.contact_a
        and not (part.throws == 2 and switch is not None and part.name == switch.part_row))


def _switch(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    by_hand = switch is not None and not switch.stepped_by
    part = next((row for row in design.drawer.switches if by_hand and switch and row.name == switch.part_row), None)
    poles = pole_currents(design) if part else {}
    if part is None or not poles:
        return ()
    amps, state = max(poles.values())
    if amps <= part.contact_a:
        return ()
    return (Trouble(
        item=part.name, number=amps, limit=part.contact_a,
        says=f"In '{state}' up to {ma(amps)} pass one contact of the {part.name}, which is rated for "
             f"{ma(part.contact_a)}.",
        cure=f"Share the load over more poles, lower the currents, or let the switch only steer a small transistor; "
             f"a switch rated for {ma(amps)} does as well.",
    ),)


def _plugs(design: Design) -> tuple[Trouble, ...]:
    amps = lead_currents(design) if design.loom.plugs else {}
    rating = {row.name: row.contact_a for row in design.drawer.connectors}
    found = []
    for plug in design.loom.plugs:
        most = max((amps.get(name, 0.0) for name in plug.leads), default=0.0)
        limit = rating.get(plug.connector)
        if limit is not None and most > limit:
            found.append(Trouble(
                item=plug.name, number=most, limit=limit,
                says=capital(f"{plug.name}: up to {ma(most)} through a contact rated for {ma(limit)}."),
                cure="Use a larger connector, or give the heavy lead two contacts.",
            ))
    return tuple(found)


RULE = Rule(
    key="electric.contact-over-rating",
    grade=Grade.DOUBTFUL,
    title="Contact over its rating",
    unit="A",
    why="A contact over its rating pits and heats, and fails long before its time, usually inside a closed model.",
    cure="Use a switch or a plug of a higher rating, or lower the currents.",
    source=NETWORK + "; ratings of the drawer, from memory",
    look=_look,
)
