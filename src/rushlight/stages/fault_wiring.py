"""Which leads and splices a hand could have mixed up or bridged: those that lie within reach of one another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from rushlight.electric.elements import Network
from rushlight.electric.rewired import Fault
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead

NEAR_MM = 60.0
"""Joints of one part that lie closer than this could be mixed up or bridged (common practice, no source)."""

MOST_REWIRED = 800
"""The nearest so many are reckoned with."""


@dataclass(frozen=True, slots=True)
class Joint:
    """A splice, a terminal in the bay or one side of an emitter; joints of one net are one place electrically."""

    node: str
    net: tuple[str, str | None]
    part: str
    x_mm: float
    y_mm: float


def rewired_faults(design: Design, network: Network) -> tuple[Fault, ...]:
    """Bridges, swapped leads and leads on a wrong splice.

    Parameters
    ----------
    design : Design
        For where the splices lie.
    network : Network
        The sound network of `built_network`.
    Returns
    -------
    tuple of Fault
        Bridged: two joints within NEAR_MM of one another, two terminals in the bay, the two leads of an emitter.
        Swapped: the two leads of an emitter, two leads whose ends lie at such joints. Wrong splice: a lead on such
        a joint. Nearest first, MOST_REWIRED at most.
    """
    joints = {joint.node: joint for joint in _joints(design, network)}
    wires = {element.name: element for element in network.elements if element.kind == "wire"}
    ends = [(f"lead {lead.name}", lead) for lead in design.loom.leads if f"lead {lead.name}" in wires]
    at_joint: dict[str, list[str]] = {}
    for name, _ in ends:
        for place in (wires[name].node_a, wires[name].node_b):
            at_joint.setdefault(place, []).append(name)
    found: list[tuple[float, Fault]] = [(0.0, fault) for fault in _at_emitters(ends, network)]
    far_end = {name: {wires[name].node_a: wires[name].node_b, wires[name].node_b: wires[name].node_a}
               for name, _ in ends}
    for mm, one, two in _neighbours(list(joints.values())):
        found += [(mm, fault) for fault in _mixed(one.node, two.node, at_joint, far_end)]
    unique = dict.fromkeys(fault for _, fault in sorted(found, key=lambda row: row[0]))
    return tuple(unique)[:MOST_REWIRED]


def _joints(design: Design, network: Network) -> Iterator[Joint]:
    nodes = set(network.nodes)
    for splice in design.loom.splices:
        if f"node {splice.name}" in nodes:
            net = (splice.net, splice.circuit if splice.net == "plus" else None)
            yield Joint(f"node {splice.name}", net, splice.spot.part, splice.spot.x_mm, splice.spot.y_mm)
    for circuit in design.circuits:
        if f"node bay {circuit.name}" in nodes:
            yield Joint(f"node bay {circuit.name}", ("plus", circuit.name), "bay", 0.0, 0.0)
    if "node bay R" in nodes:
        yield Joint("node bay R", ("return", None), "bay", 0.0, 0.0)


def _neighbours(joints: list[Joint]) -> Iterator[tuple[float, Joint, Joint]]:
    for one, two in combinations(joints, 2):
        mm = ((one.x_mm - two.x_mm) ** 2 + (one.y_mm - two.y_mm) ** 2) ** 0.5
        if one.part == two.part and one.net != two.net and mm <= NEAR_MM:
            yield mm, one, two


def _at_emitters(ends: list[tuple[str, Lead]], network: Network) -> Iterator[Fault]:
    """The two leads of an emitter touch, or are swapped."""
    nodes = set(network.nodes)
    last = {(lead.end, lead.net): name for name, lead in ends if f"{lead.end}+" in nodes}
    for emitter in dict.fromkeys(end for end, _ in last):
        if f"{emitter}-" in nodes:
            yield Fault("bridged", f"{emitter}+", other=f"{emitter}-")
        plus, back = (last.get((emitter, net)) for net in ("plus", "return"))
        if plus and back:
            yield Fault("swapped", plus, other=back)


def _mixed(
    one: str, two: str, at_joint: dict[str, list[str]], far_end: dict[str, dict[str, str]]
) -> Iterator[Fault]:
    """What can go wrong between two joints of unlike nets."""
    yield Fault("bridged", one, other=two)
    for here, there in ((one, two), (two, one)):
        for lead in at_joint.get(here, ()):
            if far_end[lead][here] != there:
                yield Fault("wrong splice", lead, other=there, at=here)
    for left in at_joint.get(one, ()):
        for right in at_joint.get(two, ()):
            yield from _swapped(left, right, (one, two), far_end)


def _swapped(left: str, right: str, at: tuple[str, str], far_end: dict[str, dict[str, str]]) -> Iterator[Fault]:
    """Two leads swapped at these joints; a lead's first key is its start."""
    if len({*at, far_end[left][at[0]], far_end[right][at[1]]}) < 4:
        return
    starts = (next(iter(far_end[left])) == at[0], next(iter(far_end[right])) == at[1])
    if starts[0] == starts[1]:
        yield Fault("swapped", left, other=right)
    elif starts[1]:
        yield Fault("swapped", left, other=right, at=at[0])
    else:
        yield Fault("swapped", right, other=left, at=at[1])
