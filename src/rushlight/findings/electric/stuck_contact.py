"""A contact of the switch that, once stuck, shorts the supply, lights lamps by a sneak path or overloads something."""

from __future__ import annotations

from collections.abc import Iterator

from rushlight.findings._words import capital
from rushlight.findings.electric._currents import circuit_loads
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.design_power import StuckContact, SwitchPlan
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    if switch is None or not switch.stuck:
        return ()
    return (*_wrong(switch), *_over(design, switch))


def _wrong(switch: SwitchPlan) -> Iterator[Trouble]:
    for row in switch.stuck:
        if row.wrong:
            yield Trouble(item=row.terminal, says=capital(f"{_named(row)}, {'; '.join(row.wrong)}."))


def _named(row: StuckContact) -> str:
    return f"with contact {row.terminal} {'welded closed' if row.welded else 'never closing'}"


def _over(design: Design, switch: SwitchPlan) -> Iterator[Trouble]:
    """The welded contact that loads each rating most, where the sound switch keeps it."""
    loads = [circuit_loads(design, state) for state in design.power.states]
    most = {circuit.name: max((load.get(circuit.name, 0.0) for load in loads), default=0.0)
            for circuit in design.circuits}
    sound = max((sum(load.values()) for load in loads), default=0.0)
    found = [(sum(most[name] for name in lit), position, row)
             for row in switch.stuck if row.welded for position, lit in row.lit]
    if not found:
        return
    amps, position, row = max(found, key=lambda each: each[0])
    for limit, says in _ratings(design):
        if sound <= limit < amps:
            yield Trouble(item=row.terminal, number=amps, limit=limit, says=capital(
                f"{_named(row)}, '{position}' draws up to {ma(amps)}; {says.format(ma(limit))}."))


def _ratings(design: Design) -> Iterator[tuple[float, str]]:
    supply, switch = design.power.supply, design.power.switch
    if supply is not None:
        if supply.fuse_a is not None:
            yield supply.fuse_a, "the fuse of {} blows"
        elif supply.limit_a > 0:
            yield supply.limit_a, "the supply bears {}"
    part = next((row for row in design.drawer.switches if switch and row.name == switch.part_row), None)
    if part is not None and switch is not None and switch.poles == 1 and not switch.stepped_by:
        yield part.contact_a, "a contact of the switch bears {}"


RULE = Rule(
    key="electric.stuck-contact",
    grade=Grade.COULD_BE_BETTER,
    title="A stuck contact overloads",
    unit="A",
    why="A contact that a surge has welded stays closed in every position: two sets of lamps then burn at once.",
    cure="Choose fuse, supply and switch for the lamps of both positions, or accept that the fuse blows then; "
         "a switch of a higher rating welds less easily.",
    source="every contact stuck, one at a time, in every position",
    look=_look,
)
