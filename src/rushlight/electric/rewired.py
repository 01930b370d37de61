"""Faults that change what joins what: a bridge between two nodes, swapped leads, a lead on the wrong node."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.elements import Columns, Element, Network, resistor
from rushlight.errors import OutOfRange, UnknownName

REWIRED_KINDS = ("bridged", "swapped", "wrong splice")

BREAK_OHM = 1e12
BRIDGE_OHM = 1e-3


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong.

    element: an element's name; of a bridge the name of a node. factor multiplies a resistor's or a wire's value.
    other: the second node of a bridge; the second lead of a swapped pair; the node a lead sits on in place of `at`.
    at: where a lead on a wrong node belongs; the end of the first of two swapped leads that is undone, its node_a when
    empty, while the second is undone at its node_a always.
    parts: of 'two' the two faults. blown: the fuse has gone because of it. ohm: least and most that a poor joint adds,
    or the resistance of a bridge that is not solder.
    """

    kind: str
    element: str
    factor: float = 1.0
    other: str = ""
    at: str = ""
    parts: tuple[Fault, ...] = ()
    blown: bool = False
    ohm: tuple[float, float] = (0.0, 0.0)

    @property
    def singles(self) -> tuple[Fault, ...]:
        """The fault itself, or its two parts."""
        return self.parts or (self,)


@dataclass(frozen=True, slots=True)
class Rewiring:
    """Wires whose joint is undone, and pairs of nodes joined in their place with their resistance [ohm]."""

    cut: tuple[str, ...] = ()
    joined: tuple[tuple[str, str, float], ...] = ()


def rewiring(network: Network, fault: Fault) -> Rewiring:
    """What a fault undoes and joins; nothing for one that leaves the wiring as it is.

    Parameters
    ----------
    network : Network
        The sound network.
    fault : Fault
        Any fault.
    Returns
    -------
    Rewiring
        Swapped: each wire goes from its own far end to where the other's near end was.
    Raises
    ------
    UnknownName
        If a wire or a node is not one of the network's.
    OutOfRange
        If a wire would have both ends on one node.
    """
    every = [_single(network, one) for one in fault.singles if one.kind in REWIRED_KINDS]
    return Rewiring(tuple(n for one in every for n in one.cut), tuple(j for one in every for j in one.joined))


def _single(network: Network, fault: Fault) -> Rewiring:
    if fault.kind == "bridged":
        return Rewiring((), (_pair(network, fault.element, fault.other, fault.ohm[1] or BRIDGE_OHM),))
    one = _wire(network, fault.element)
    if fault.kind == "swapped":
        two = _wire(network, fault.other)
        undone, stays = (one.node_b, one.node_a) if fault.at == one.node_b else (one.node_a, one.node_b)
        return Rewiring((one.name, two.name), (_pair(network, two.node_a, stays, one.ohm),
                                               _pair(network, undone, two.node_b, two.ohm)))
    if fault.at not in (one.node_a, one.node_b):
        raise UnknownName(f"end of '{one.name}'", fault.at, (one.node_a, one.node_b))
    stays = one.node_b if fault.at == one.node_a else one.node_a
    return Rewiring((one.name,), (_pair(network, fault.other, stays, one.ohm),))


def _wire(network: Network, name: str) -> Element:
    found = next((element for element in network.elements if element.name == name), None)
    if found is None or found.kind not in ("wire", "resistor"):
        raise UnknownName("wire", name, [element.name for element in network.elements if element.kind == "wire"])
    return found


def _pair(network: Network, a: str, b: str, ohm: float) -> tuple[str, str, float]:
    for node in (a, b):
        if node not in network.nodes:
            raise UnknownName("node", node, network.nodes)
    if a == b:
        raise OutOfRange("ends of a joint", a, "two different nodes")
    return a, b, ohm


def built_with(network: Network, fault: Fault) -> Network:
    """The network with a fault's wires undone and its joints made; its nodes and their order stay."""
    change = rewiring(network, fault)
    kept = [element for element in network.elements if element.name not in change.cut]
    return Network(network.nodes, (*kept, *(resistor(f"joint {k}", a, b, ohm=ohm)
                                            for k, (a, b, ohm) in enumerate(change.joined))))


@dataclass(frozen=True, slots=True)
class Prepared:
    """A network with an open joint for every pair of nodes that some fault joins; rows of these joints."""

    network: Network
    columns: Columns
    row_of: dict[tuple[str, str], int]


def prepared(network: Network, columns: Columns, faults: Sequence[Fault]) -> Prepared:
    """Make a network ready for some rewired faults, so that each is a matter of a few resistances."""
    pairs = dict.fromkeys((a, b) for fault in faults for a, b, _ in rewiring(network, fault).joined)
    count = len(network.elements)
    added = [resistor(f"joint {k}", a, b, ohm=BREAK_OHM) for k, (a, b) in enumerate(pairs)]
    ones = np.ones((len(added), columns.ohm_factor.shape[1]))
    wide = replace(columns, ohm_factor=np.concatenate([columns.ohm_factor, ones]))
    return Prepared(Network(network.nodes, (*network.elements, *added)), wide,
                    {pair: count + k for k, pair in enumerate(pairs)})
