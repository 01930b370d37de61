"""Currents as the findings compare them: the most of every emitter, every lead, every contact of the switch."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter, Lead
from rushlight.model.design_power import EmitterCurrent, StatePower
from rushlight.model.drawer import LedPart
from rushlight.stages.switching import switching


def plain_leds(design: Design) -> tuple[tuple[Emitter, LedPart], ...]:
    """Emitters that are single LEDs, with their row of the drawer."""
    return tuple(
        (emitter, design.drawer.led(emitter.part_row)) for emitter in design.loom.emitters if emitter.kind != "strip"
    )


def by_part(emitters: Iterable[Emitter]) -> dict[str, list[Emitter]]:
    """Emitters under their row of the drawer."""
    rows: dict[str, list[Emitter]] = {}
    for emitter in emitters:
        rows.setdefault(emitter.part_row, []).append(emitter)
    return rows


def most_a(current: EmitterCurrent) -> float:
    """The most that a branch takes: LEDs of low forward voltage on a fresh supply."""
    return max(current.current_a.high, current.bench_a.high)


def worst_currents(design: Design) -> dict[str, EmitterCurrent]:
    """Of every emitter that is lit at all, its current in the state where it takes most."""
    worst: dict[str, EmitterCurrent] = {}
    for current in (current for state in design.power.states for current in state.lit):
        if current.emitter not in worst or most_a(current) > most_a(worst[current.emitter]):
            worst[current.emitter] = current
    return worst


def loads_a(design: Design, state: StatePower) -> dict[str, float]:
    """Most current of every lit emitter in one state, all branches of a strip together."""
    branches = {emitter.name: max(emitter.segments, 1) for emitter in design.loom.emitters}
    return {current.emitter: most_a(current) * branches.get(current.emitter, 1) for current in state.lit}


def _fed_a(design: Design, state: StatePower) -> dict[str, float]:
    """The same without the LEDs of a string that take the current of one before them."""
    return {name: amps for name, amps in loads_a(design, state).items() if not design.loom.beyond(name)}


def lead_currents(design: Design) -> dict[str, float]:
    """The most current through every lead, over all states."""
    nets: dict[tuple[str, str | None], list[Lead]] = {}
    for lead in design.loom.leads:
        nets.setdefault((lead.net, lead.circuit), []).append(lead)
    most = {lead.name: 0.0 for lead in design.loom.leads}
    for state in design.power.states:
        load = loads_a(design, state)
        for (net, _), leads in nets.items():
            flow = {lead.name: load.get(lead.start, 0.0) for lead in leads} if net == "link" else _beyond(leads, load)
            for name, amps in flow.items():
                most[name] = max(most[name], amps)
    return most


def _beyond(leads: list[Lead], load: Mapping[str, float]) -> dict[str, float]:
    """What lies beyond each lead of one net, from the tips inward."""
    children: dict[str, list[Lead]] = {}
    for lead in leads:
        children.setdefault(lead.start, []).append(lead)
    ends = {lead.end for lead in leads}
    order = [lead for lead in leads if lead.start not in ends]
    seen = {lead.name for lead in order}
    for lead in order:
        more = [child for child in children.get(lead.end, []) if child.name not in seen]
        seen |= {child.name for child in more}
        order += more
    beyond: dict[str, float] = {}
    for lead in reversed(order):
        own = sum(beyond.get(child.name, 0.0) for child in children.get(lead.end, []))
        beyond[lead.name] = own + load.get(lead.end, 0.0)
    return beyond


def circuit_loads(design: Design, state: StatePower) -> dict[str, float]:
    """Most current of every circuit in one state."""
    load = _fed_a(design, state)
    totals: dict[str, float] = {}
    for emitter in design.loom.emitters:
        totals[emitter.circuit] = totals.get(emitter.circuit, 0.0) + load.get(emitter.name, 0.0)
    return totals


def pole_currents(design: Design) -> dict[int, tuple[float, str]]:
    """The most current through each pole of the switch, and in which state; a plain switch is a pole of its own."""
    wanted = switching(design.plan, design.drawer, design.circuits, loom=design.loom).wanted
    if wanted is None:
        return {}
    worst: dict[int, tuple[float, str]] = {}
    for place, state in enumerate(design.power.states, 1):
        load = circuit_loads(design, state)
        nets = [sum(load.get(name, 0.0) for name in net.circuits) for net in wanted.nets]
        poles: dict[int, float] = {}
        if wanted.family == "plain":
            poles = dict(enumerate(nets, 1))
        else:
            fed = {(tie.pole, tie.net) for tie in wanted.ties if tie.throw == place}
            fed |= {(diode.pole, diode.net) for diode in wanted.diodes if diode.throw == place}
            for pole, net in fed:
                poles[pole] = poles.get(pole, 0.0) + nets[net]
        for pole, amps in poles.items():
            if amps > worst.get(pole, (0.0, ""))[0]:
                worst[pole] = (amps, state.state)
    return worst
