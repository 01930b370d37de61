"""A circuit that draws more than the small driver of a controller channel bears."""

from __future__ import annotations

from rushlight.findings.electric._currents import circuit_loads
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.drivers import driver_of
from rushlight.stages.rhythms import made_rhythms


def _look(design: Design) -> tuple[Trouble, ...]:
    driver = driver_of(design.plan, design.drawer)
    if driver is None:
        return ()
    limit, found = driver.bears_a, []
    for row in made_rhythms(design.plan, design.circuits, design.loom):
        loads = [circuit_loads(design, state).get(row.circuit.name, 0.0) for state in design.power.states]
        amps = max(loads, default=0.0)
        if row.driven and amps > limit:
            found.append(Trouble(
                item=f"circuit {row.circuit.name}", spot=design.lamp(row.circuit.lamps[0]).spot, number=amps,
                limit=limit,
                says=f"Circuit {row.circuit.name} draws up to {ma(amps)}; its small driver bears {ma(limit)}.",
                cure="Give this circuit a larger transistor with a cooling face, or split its lamps over two rhythms.",
            ))
    return tuple(found)


RULE = Rule(
    key="electric.driver-over-current",
    grade=Grade.WILL_FAIL,
    title="Driver overloaded",
    unit="A",
    why="A small transistor that carries too much gets hot enough to unsolder itself, inside a closed model.",
    cure="Take a larger driver.",
    source="electric.driver: half of its rating, or what its on-resistance warms (data sheets); 250 K/W from memory",
    look=_look,
)
