"""What a voltmeter shows between two places of a faulty loom; a place that hangs in the air reads through its LED."""

from __future__ import annotations

from collections.abc import Mapping

from rushlight.electric.elements import Network
from rushlight.electric.fault import Fault

LED_SHARE = 0.75
"""An LED, or three in a strip, takes up to this share of the supply at a millionth of an ampere (from memory)."""


def held_nodes(network: Network, closed: frozenset[str], fault: Fault) -> frozenset[str]:
    """Nodes joined to the supply by wires, resistors, steering diodes and closed contacts; the others hang on an LED.

    Parameters
    ----------
    network : Network
        The sound network.
    closed : frozenset of str
        Contacts closed in the state.
    fault : Fault
        What is wrong.
    Returns
    -------
    frozenset of str
        Names of nodes.
    """
    beside: dict[str, list[str]] = {}
    start: list[str] = []
    for element in network.elements:
        if element.kind == "source":
            start += [element.node_a, element.node_b]
        lamp = element.kind == "string" and not element.name.startswith("diode ")  # a steering diode feeds on
        if lamp or (fault.kind in ("open", "reversed") and element.name == fault.element):
            continue
        stuck = fault.kind == "stuck" and element.name == fault.element
        if element.kind == "switch" and element.name not in closed and not stuck:
            continue
        beside.setdefault(element.node_a, []).append(element.node_b)
        beside.setdefault(element.node_b, []).append(element.node_a)
    held = set(start)
    while start:
        for near in beside.get(start.pop(), ()):
            if near not in held:
                held.add(near)
                start.append(near)
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
    for element in network.elements:
        if element.kind != "string" or loose not in (element.node_a, element.node_b):
            continue
        other = element.node_b if element.node_a == loose else element.node_a
        if other not in held or (fault.element == element.name and fault.kind == "open"):
            continue
        forward = element.node_a == loose
        if fault.element == element.name and fault.kind == "reversed":
            forward = not forward
        drive = node_v[fixed] - node_v[other]
        if (drive > 0) == forward:
            found += [drive, drive * (1 - LED_SHARE)]
    if len(found) == 1:
        return 0.0, 0.0
    return min(found[1:]), max(found[1:])
