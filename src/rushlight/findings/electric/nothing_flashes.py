"""Circuits with a rhythm that nothing in the build makes."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.findings.electric._words import bay_of, ma
from rushlight.model.design import Design
from rushlight.model.design_loom import Circuit
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.rhythms import made_rhythms, unmade


def _look(design: Design) -> tuple[Trouble, ...]:
    circuits = unmade(made_rhythms(design.plan, design.circuits, design.loom))
    if not circuits:
        return ()
    told = listed([_told(design, circuit) for circuit in circuits], most=6)
    many = len(circuits) > 1
    first = circuits[0].lamps[0]
    return (Trouble(
        item=f"circuit {circuits[0].name}", spot=design.lamp(first).spot,
        says=f"Nothing in the build makes circuit{'s' if many else ''} {told} flash or change: "
             f"{'they burn' if many else 'it burns'} steadily.",
        cure=_cure(design, circuits),
    ),)


def _told(design: Design, circuit: Circuit) -> str:
    """The circuit, its rhythm, its lamps that are wired, the current that the flasher has to bear."""
    wired = {lamp for row in design.loom.emitters if row.circuit == circuit.name for lamp in row.lamps}
    lamps = f"{len(wired)} lamp{'' if len(wired) == 1 else 's'}"
    amps = _most_a(design, circuit)
    return f"{circuit.name} ({circuit.rhythm}, {lamps}, {f'up to {ma(amps)}' if amps > 0 else 'no current'})"


def _most_a(design: Design, circuit: Circuit) -> float:
    """The most that the circuit draws while lit, over all states and the spread of its LEDs."""
    own = {row.name for row in design.loom.emitters if row.circuit == circuit.name}
    sums = [sum(row.current_a.high for row in state.lit if row.emitter in own) for state in design.power.states]
    return max(sums, default=0.0)


def _cure(design: Design, circuits: tuple[Circuit, ...]) -> str:
    names = listed([circuit.name for circuit in circuits], most=6)
    bay = bay_of(design)
    where = f"the bay '{bay.name}'" if bay else "the bay of the supply"
    what = "a channel each" if len(circuits) > 1 else "one channel"
    return (f"Say what makes the rhythm: {what} of a small controller with a driver, or a flasher, in the plus "
            f"of {names} in {where}; or LEDs that time themselves.")


RULE = Rule(
    key="electric.nothing-flashes",
    grade=Grade.DOUBTFUL,
    title="Nothing makes it flash",
    unit="",
    why="A plain LED burns as long as it is fed; what gives it its rhythm has to sit in its feed where hands reach it. "
        "Currents, run time and gates are worked out with these lamps lit.",
    cure="Put a flasher into the plus of the circuit.",
    source="the plan's rhythms, the network solved with these lamps lit",
    look=_look,
)
