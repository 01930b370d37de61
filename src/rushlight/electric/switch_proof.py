"""Proof of a switch: its small network is built and solved in every position."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Element, Network
from rushlight.electric.led import law_spread
from rushlight.electric.network import operating_point, resistor, source, string, switch, wire
from rushlight.electric.switch import ONE_EACH, SwitchPlan

PROOF_V = 9.0
LAMP_OHM = 470.0

LIT_A = 1e-3
"""A lamp that carries more than this is lit."""

DARK_A = 1e-6
"""A lamp that carries less than this is dark to the eye."""


@dataclass(frozen=True, slots=True)
class Proof:
    """Currents [A] of each circuit (rows) in each position (columns), and every one that is wrong."""

    circuits: tuple[str, ...]
    positions: tuple[str, ...]
    current_a: NDArray[np.float64]
    wrong: tuple[str, ...]


def proof(plan: SwitchPlan) -> Proof:
    """Solve a switch with one lamp for each circuit, in every position.

    Parameters
    ----------
    plan : SwitchPlan
        The plan.
    Returns
    -------
    Proof
        Currents, and in words each circuit that is lit or dark where it should not be.
    Source
    ------
    `operating_point`; a red lamp with 470 ohm on 9 V stands for each circuit.
    """
    return proofs((plan,))[0]


def proofs(plans: Sequence[SwitchPlan]) -> tuple[Proof, ...]:
    """`proof` of many plans of equally many states, in one solve."""
    states = [proof_states(plan) for plan in plans]
    elements: list[Element] = []
    closed: list[list[bool]] = []
    for at, plan in enumerate(plans):
        elements += proof_elements(plan, f"{at}.")
        closed += closed_contacts(plan, states[at])
    network = Network.of(elements)
    cases = proof_columns(network, closed, max(len(s) for s in states))
    point = operating_point(network, cases)
    row = {element.name: k for k, element in enumerate(network.elements)}
    return tuple(
        _judged(plan, states[at], point.element_a[[row[f"{at}.lamp {name}"] for name in proof_circuits(plan)]])
        for at, plan in enumerate(plans)
    )


def proof_states(plan: SwitchPlan) -> tuple[str, ...]:
    """The states that are solved, one for each position."""
    if plan.family not in ONE_EACH:
        return plan.positions
    return tuple(dict.fromkeys(state for net in plan.nets for state in net.states)) or plan.positions


def proof_circuits(plan: SwitchPlan) -> tuple[str, ...]:
    """Circuits that are ever lit, those without a contact last."""
    return tuple(name for net in plan.nets for name in net.circuits) + plan.always


def proof_elements(plan: SwitchPlan, head: str = "") -> list[Element]:
    """Supply, contacts, ties, diodes and a lamp for each circuit; every name starts with `head`."""
    diode, red = law_spread("silicon_diode").typical, law_spread("red").typical
    out = [source(f"{head}supply", f"{head}plus", f"{head}minus", emf_v=PROOF_V, inner_ohm=0.5)]
    # The master switch is closed; its contact is a wire here.
    out.append(wire(f"{head}master", f"{head}plus", f"{head}common", ohm=0.03))
    for pole in range(1, plan.poles + 1):
        for throw in range(1, plan.throws + 1):
            out.append(switch(f"{head}contact {pole}.{throw}", f"{head}common", f"{head}t{pole}.{throw}"))
    for tie in plan.ties:
        throw_node = f"{head}t{tie.pole}.{tie.throw}"
        out.append(wire(f"{head}tie {tie.pole}.{tie.throw}.{tie.net}", throw_node, f"{head}net{tie.net}", ohm=0.01))
    for d in plan.diodes:
        name = f"{head}diode {d.throw}.{d.net}"
        out.append(string(name, f"{head}t{d.pole}.{d.throw}", f"{head}net{d.net}", laws=[diode]))
    feeds = [(name, f"{head}net{at}") for at, net in enumerate(plan.nets) for name in net.circuits]
    for name, feed in [*feeds, *((name, f"{head}common") for name in plan.always)]:
        out.append(resistor(f"{head}ohm {name}", feed, f"{head}at {name}", ohm=LAMP_OHM))
        out.append(string(f"{head}lamp {name}", f"{head}at {name}", f"{head}minus", laws=[red]))
    return out


def closed_contacts(plan: SwitchPlan, states: tuple[str, ...]) -> list[list[bool]]:
    """Which contacts are closed in each position, in the order of `proof_elements`."""
    if plan.family in ONE_EACH:
        return [[state in net.states for state in states] for net in plan.nets]
    return [[throw == k for k in range(len(states))] for _ in range(plan.poles) for throw in range(plan.throws)]


def proof_columns(network: Network, closed: list[list[bool]], count: int) -> Columns:
    """Cases to solve: which contacts (rows) are closed in which of `count` columns; missing columns are open."""
    full = np.array([row + [False] * (count - len(row)) for row in closed], bool).reshape(-1, count)
    sources = [element for element in network.elements if element.kind == "source"]
    return Columns(
        tuple(f"position {k + 1}" for k in range(count)), full,
        np.array([[e.emf_v] for e in sources]), np.array([[e.ohm] for e in sources]),
        np.ones((len(network.elements), 1)), np.zeros((len(network.named("string")), 1)),
        np.zeros((len(network.named("string")), 1), np.int8),
    )


def _judged(plan: SwitchPlan, states: tuple[str, ...], current: NDArray[np.float64]) -> Proof:
    names = proof_circuits(plan)
    lit_in = {name: net.states for net in plan.nets for name in net.circuits} | dict.fromkeys(plan.always, states)
    wrong = []
    for row, name in enumerate(names):
        for k, state in enumerate(states):
            should = state in lit_in[name]
            if should and current[row, k] < LIT_A:
                wrong.append(f"'{name}' is dark in '{state}'")
            if not should and current[row, k] > DARK_A:
                wrong.append(f"'{name}' glows in '{state}'")
    return Proof(names, states, current[:, : len(states)], tuple(wrong))
