"""Voltage lost in the leads on the way to a lamp and back."""

from __future__ import annotations

from collections.abc import Mapping

from rushlight.findings._words import capital, plain
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _drops(design: Design) -> dict[str, tuple[float, float]]:
    """Of every emitter, the worst drop in its leads and the voltage that left the bay in that state."""
    circuit = {emitter.name: emitter.circuit for emitter in design.loom.emitters}
    worst: dict[str, tuple[float, float]] = {}
    for state in design.power.states:
        volts = dict(state.node_v)
        across = {current.emitter: current.terminal_v for current in state.lit}
        for name in across:
            sent = volts.get(f"bay {circuit[name]}", 0.0) - volts.get("bay R", 0.0)
            drop = sent - _taken_v(design, name, across)
            if sent > 0 and drop > worst.get(name, (0.0, 0.0))[0]:
                worst[name] = (drop, sent)
    return worst


def _taken_v(design: Design, emitter: str, across: Mapping[str, float]) -> float:
    """What an emitter takes with its resistor, or all LEDs of its string together [V]."""
    string = design.loom.string_of(emitter)
    return sum(across.get(name, 0.0) for name in (string.emitters if string else (emitter,)))


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("volt_drop").high or 0.03
    over = {name: pair for name, pair in _drops(design).items() if pair[0] > limit * pair[1]}
    if not over:
        return ()
    name, (drop, sent) = max(over.items(), key=lambda item: item[1][0] / item[1][1])
    rest = f", and over the limit at {len(over) - 1} more" if len(over) > 1 else ""
    return (Trouble(
        item=name, spot=design.loom.emitter(name).spot, number=drop / sent, limit=limit,
        says=capital(f"{name}: {plain(drop)} V of {plain(sent)} V, {drop / sent:.1%}, stay in the leads; "
                     f"{limit:.0%} is the most{rest}."),
    ),)


RULE = Rule(
    key="electric.volt-drop",
    grade=Grade.COULD_BE_BETTER,
    title="Voltage lost in the leads",
    unit="share",
    why="Lamps at the far end get less than those near the bay, and all of them change when others are switched.",
    cure="Use thicker wire for the trunk, shorten the way, or move the bay nearer to the heavy load.",
    source=NETWORK + "; limit of common practice",
    look=_look,
)
