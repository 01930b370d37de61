"""A lamp whose light steps between states though nothing of its own has changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rushlight.findings._words import listed, plain, spot_of, times_words
from rushlight.model.design import Design
from rushlight.model.design_loom import Circuit
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import most_apart

MOST_TOLD = 1e6


@dataclass(frozen=True, slots=True)
class _Step:
    """One emitter: its lamps' entries, where it takes most and least, and how many times as much."""

    groups: tuple[str, ...]
    most_in: str
    least_in: str
    ratio: float


def _look(design: Design) -> tuple[Trouble, ...]:
    most = most_apart(design.drawer)
    found = []
    for circuit in design.circuits:
        steps = [step for step in _steps(design, circuit) if step.ratio > most * (1 + 1e-9)]
        if steps:
            found.append(_trouble(design, circuit, steps, most))
    return tuple(found)


def _steps(design: Design, circuit: Circuit) -> Iterator[_Step]:
    """Light of typical LEDs on the nominal supply, each as warm as it gets, state against state."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    amps: dict[str, dict[str, float]] = {}
    for state in design.power.states:
        for row in state.lit:
            amps.setdefault(row.emitter, {})[state.state] = row.light_a
    for emitter in design.loom.emitters:
        own = amps.get(emitter.name, {})
        if emitter.circuit == circuit.name and len(own) > 1 and max(own.values()) > 0:
            most, least = max(own, key=lambda state: own[state]), min(own, key=lambda state: own[state])
            ratio = own[most] / own[least] if own[least] > 0 else MOST_TOLD
            groups = tuple(dict.fromkeys(group_of[lamp] for lamp in emitter.lamps))
            yield _Step(groups, most, least, min(ratio, MOST_TOLD))


def _trouble(design: Design, circuit: Circuit, steps: list[_Step], most: float) -> Trouble:
    worst = max(steps, key=lambda step: step.ratio)
    others = [group for step in steps for group in step.groups if group != worst.groups[0]]
    more = f" (so do {listed(list(dict.fromkeys(others)))} of its circuit)" if others else ""
    return Trouble(
        item=worst.groups[0], spot=spot_of(design, worst.groups[0]), number=worst.ratio, limit=most,
        says=f"'{worst.groups[0]}' burns {times_words(worst.ratio)} times brighter in '{worst.most_in}' than in "
             f"'{worst.least_in}'{more}; {plain(most)} times is hardly seen.",
        cure=_cure(design, circuit),
    )


def _cure(design: Design, circuit: Circuit) -> str:
    switch = design.power.switch
    if switch is not None and circuit.name in switch.mixed:
        return ("A steering diode lies in its feed in some states only. Take a switch with a pole more, a supply of "
                "more volts, a regulator for each of its LEDs, or a small controller that steps the states.")
    return ("What else burns in that state pulls the voltage down: take a supply of less inner resistance (larger "
            "cells, or an adapter), thicker wire, or a regulator for each of its LEDs.")


RULE = Rule(
    key="light.state-step",
    grade=Grade.COULD_BE_BETTER,
    title="Changes its light from state to state",
    unit="times",
    why="A lamp that burns in both states should not change as the switch goes over: the eye catches it at once.",
    cure="Feed it alike in all of its states.",
    source="the network's solve of every state with typical LEDs on the nominal supply; habit equal",
    practice="equal",
    look=_look,
)
