"""What a voltmeter shows between two places of a faulty loom; a place that hangs in the air reads through its LED."""

from __future__ import annotations

from collections.abc import Mapping

from rushlight.electric.elements import Element, Network
from rushlight.electric.fault import Fault

LED_SHARE = 0.75
"""An LED, or three in a strip, takes up to this share of the supply at a millionth of an ampere (from memory)."""

JOINED_OHM, APART_OHM = 50.0, 100.0
"""An ohmmeter shows less than the first through copper, joints, contacts and a fuse, and more than the second through
lamps (common practice, no source)."""

PIECE_OHM = 30.0
"""A single piece of a copper way stays below this."""


def held_nodes(network: Network, closed: frozenset[str], fault: Fault) -> frozenset[str]:
    """Nodes joined to the supply by wires, resistors, steering diodes and closed contacts; the others hang on an LED.

    Parameters
    ----------
    network : Network
        The network as `built_with` the fault.
    closed : frozenset of str
        Contacts closed in the state.
    fault : Fault
        What is wrong.
    Returns
    -------
    frozenset of str
        Names of nodes.
    """
    sources = [element for element in network.elements if element.kind == "source"]
    joining = [(element.node_a, element.node_b) for element in network.elements
               if element.kind != "source" and _conducts(element, closed, fault)]
    return _reached([end for source in sources for end in (source.node_a, source.node_b)], joining)


def _conducts(element: Element, closed: frozenset[str], fault: Fault) -> bool:
    """Whether an element joins its ends without an LED; a steering diode feeds on."""
    kinds = {one.kind for one in fault.singles if one.element == element.name}
    if kinds & {"open", "reversed"}:
        return False
    if element.kind == "string":
        return element.name.startswith("diode ") or ("short" in kinds and len(element.laws) == 1)
    return element.kind != "switch" or element.name in closed or "stuck" in kinds


def joined_places(
    network: Network, closed: frozenset[str], fault: Fault, start: str, *, most_ohm: float = PIECE_OHM
) -> frozenset[str]:
    """Nodes joined to one by less than `most_ohm` in each piece, with the supply taken off and every LED blocking."""
    known = {one.element: one.factor for one in fault.singles if one.kind in ("poor joint", "wrong resistor")}
    joining = [
        (element.node_a, element.node_b) for element in network.elements
        if element.kind not in ("source", "string") and _conducts(element, closed, fault)
        and (element.ohm * known.get(element.name, 1.0) < most_ohm or ("short", element.name) in _kinds(fault))
    ]
    return _reached([start], joining)


def _kinds(fault: Fault) -> set[tuple[str, str]]:
    return {(one.kind, one.element) for one in fault.singles}


def _reached(start: list[str], joining: list[tuple[str, str]]) -> frozenset[str]:
    beside: dict[str, list[str]] = {}
    for one, two in joining:
        beside.setdefault(one, []).append(two)
        beside.setdefault(two, []).append(one)
    held, waiting = set(start), list(start)
    while waiting:
        for near in beside.get(waiting.pop(), ()):
            if near not in held:
                held.add(near)
                waiting.append(near)
    return frozenset(held)


def between_v(
    network: Network, ends: tuple[str, str], *, node_v: Mapping[str, float], held: frozenset[str], fault: Fault
) -> tuple[float, float]:
    """Least and most that a meter of 10 megohm shows from the first place to the second [V].

    Notes
    -----
    Both held: their difference. One in the air: it is pulled through its LED to the LED's other end, so the meter shows
    the voltage to there less what the LED takes; nothing if the LED blocks. Both in the air: anything.
    """
    plus, back = ends
    if plus in held and back in held:
        value = node_v[plus] - node_v[back]
        return value, value
    if plus not in held and back not in held:
        most = max((abs(node_v[name]) for name in held), default=0.0)
        return -most, most
    fixed, loose = (plus, back) if plus in held else (back, plus)
    least, most = _through_led(network, fixed, loose, node_v=node_v, held=held, fault=fault)
    return (least, most) if fixed == plus else (-most, -least)


def _through_led(
    network: Network, fixed: str, loose: str, *, node_v: Mapping[str, float], held: frozenset[str], fault: Fault
) -> tuple[float, float]:
    """From a held place to one in the air."""
    found = [0.0]
    wrong = _kinds(fault)
    for element in network.elements:
        if element.kind != "string" or loose not in (element.node_a, element.node_b):
            continue
        other = element.node_b if element.node_a == loose else element.node_a
        if other not in held or ("open", element.name) in wrong:
            continue
        forward = element.node_a == loose
        if ("reversed", element.name) in wrong:
            forward = not forward
        drive = node_v[fixed] - node_v[other]
        if (drive > 0) == forward:
            found += [drive, drive * (1 - LED_SHARE)]
    if len(found) == 1:
        return 0.0, 0.0
    return min(found[1:]), max(found[1:])
