"""What a voltmeter shows between two places of a faulty loom; a place that hangs in the air reads through its LED."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from functools import cached_property

from rushlight.electric.elements import Element, Network
from rushlight.electric.fault import Fault
from rushlight.electric.rewired import rewiring

LED_SHARE = 0.75
"""An LED, or three in a strip, takes up to this share of the supply at a millionth of an ampere (from memory)."""

JOINED_OHM, APART_OHM = 50.0, 100.0
"""An ohmmeter shows less than the first through copper, joints, contacts and a fuse, and more than the second through
lamps (common practice, no source)."""

COPPER_V, DIODE_V = 0.06, 0.11
"""The diode test shows less than the first through copper, joints and a fuse (50 ohm at 1.2 mA), and more than
the second through a diode (0.5 to 1.5 mA; a Schottky diode 0.12 V or more, silicon 0.5 V or more; from memory)."""

THROUGH_V, LED_V = 0.9, 1.2
"""It shows less than the first through copper and one silicon or Schottky diode, and more than the second, or OL, where
an LED lies in the way (about 1 mA; from memory: 0.2 to 0.8 V, a red LED from 1.5 V on)."""

OL = 1e7
"""What stands for OL, in ohm or V."""

NOTHING: AbstractSet[str] = frozenset()

MOST_IN_ROW = 8
"""So many LEDs in a row are followed."""

PIECE_OHM = 30.0
"""A single piece of a copper way stays below this."""


@dataclass(frozen=True)  # no slots: what leads where is worked out once and kept
class Wiring:
    """A loom as `built_with` a fault, the contacts closed in a state, and the fault.

    sound: the same loom in the same state with nothing wrong, so that only what the fault changes is followed anew.
    """

    network: Network
    closed: frozenset[str]
    fault: Fault
    sound: Wiring | None = None

    def pieces(self, most_ohm: float = math.inf) -> Mapping[str, frozenset[str]]:
        """For each node all that is joined to it without a diode of any kind, over parts below `most_ohm` each."""
        if most_ohm not in self._known_pieces:
            self._known_pieces[most_ohm] = self._all_pieces(most_ohm) if self.sound is None else self._mended(most_ohm)
        return self._known_pieces[most_ohm]

    @cached_property
    def onward(self) -> Mapping[tuple[str, int], list[str]]:
        """For each node where current goes through one diode (way 1), and where it comes from (way -1)."""
        if self.sound is not None and not any(self.sound.is_string(name) for name in self._kinds):
            return self.sound.onward
        found: dict[tuple[str, int], list[str]] = {}
        for element in self.network.elements:
            kinds = self.wrong(element)
            if element.kind == "string" and "open" not in kinds:
                ends = (element.node_a, element.node_b)
                start, stop = ends[::-1] if "reversed" in kinds else ends
                found.setdefault((start, 1), []).append(stop)
                found.setdefault((stop, -1), []).append(start)
        return found

    def wrong(self, element: Element) -> AbstractSet[str]:
        """What is wrong with an element."""
        return self._kinds.get(element.name, NOTHING)

    def is_string(self, name: str) -> bool:
        """Whether an element of that name is a string of LEDs or a diode."""
        return name in self._elements and self._elements[name].kind == "string"

    @cached_property
    def steering(self) -> tuple[tuple[str, str], ...]:
        """Where current goes through one steering diode: from, to; both ways where it is bridged."""
        found: list[tuple[str, str]] = []
        for element in self.network.elements:
            kinds, ends = self.wrong(element), (element.node_a, element.node_b)
            if element.kind == "string" and " / " not in element.name and "open" not in kinds:
                found += [] if "reversed" in kinds else [ends]
                found += [ends[::-1]] if kinds & {"reversed", "short"} else []
        return tuple(found)

    @cached_property
    def bridged(self) -> tuple[tuple[str, str], ...]:
        """Ends of strings of which an LED is bridged."""
        return tuple((element.node_a, element.node_b) for element in self.network.elements
                     if element.kind == "string" and "short" in self.wrong(element))

    def joins(self, element: Element, most_ohm: float) -> bool:
        """Whether an element is copper below `most_ohm`, a closed contact, or bridged."""
        kinds = self.wrong(element)
        if element.kind in ("source", "string") or kinds & {"open", "reversed"}:
            return False
        if element.kind == "switch" and element.name not in self.closed and "stuck" not in kinds:
            return False
        return element.ohm * self._factors.get(element.name, 1.0) < most_ohm or "short" in kinds

    @cached_property
    def _kinds(self) -> Mapping[str, set[str]]:
        found: dict[str, set[str]] = {}
        for one in self.fault.singles:
            found.setdefault(one.element, set()).add(one.kind)
        return found

    @cached_property
    def _factors(self) -> Mapping[str, float]:
        return {one.element: one.factor for one in self.fault.singles if one.kind in ("poor joint", "wrong resistor")}

    @cached_property
    def _elements(self) -> Mapping[str, Element]:
        return {element.name: element for element in self.network.elements}

    @cached_property
    def _known_pieces(self) -> dict[float, Mapping[str, frozenset[str]]]:
        return {}

    @cached_property
    def _known_ways(self) -> dict[float, Mapping[str, tuple[str, str]]]:
        return {}

    def _ways(self, most_ohm: float) -> Mapping[str, tuple[str, str]]:
        """Ends of each element that joins them, by its name."""
        if most_ohm not in self._known_ways:
            self._known_ways[most_ohm] = _ends(one for one in self.network.elements if self.joins(one, most_ohm))
        return self._known_ways[most_ohm]

    def _all_pieces(self, most_ohm: float) -> Mapping[str, frozenset[str]]:
        return _pieces(self.network.nodes, self._ways(most_ohm).values())

    def _mended(self, most_ohm: float) -> Mapping[str, frozenset[str]]:
        """The pieces of the sound loom; those that the fault breaks or joins are put right."""
        assert self.sound is not None
        before, found = self.sound._ways(most_ohm), dict(self.sound.pieces(most_ohm))
        change = rewiring(self.sound.network, self.fault)
        changed = {*self._kinds, *change.cut} & self.sound._elements.keys()
        kept = [self.sound._elements[name] for name in changed - set(change.cut)]
        joints = self.network.elements[len(self.network.elements) - len(change.joined):]
        after = _ends(one for one in (*kept, *joints) if self.joins(one, most_ohm))
        lost = (before.keys() & changed) - after.keys()
        if lost:
            torn = frozenset[str]().union(*(found[before[name][0]] for name in lost))
            found |= _pieces(torn, [ends for name, ends in before.items() if name not in lost and ends[0] in torn])
        for name in after.keys() - before.keys():
            one, two = after[name]
            found |= dict.fromkeys(found[one] | found[two], found[one] | found[two])
        return found


def _ends(elements: Iterable[Element]) -> dict[str, tuple[str, str]]:
    return {element.name: (element.node_a, element.node_b) for element in elements}


def _pieces(nodes: Iterable[str], joining: Iterable[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """For each node those that some pairs join to it, over any number of them."""
    beside, found = _beside(joining), dict[str, frozenset[str]]()
    for start in nodes:
        if start not in found:
            piece = _reached([start], beside)
            found |= dict.fromkeys(piece, piece)
    return found


def _together(starts: Iterable[str], pieces: Mapping[str, frozenset[str]]) -> frozenset[str]:
    """All that is joined to any of some nodes."""
    return frozenset[str]().union(*{pieces[name] for name in starts})


def _beside(joining: Iterable[tuple[str, str]]) -> dict[str, list[str]]:
    beside: dict[str, list[str]] = {}
    for one, two in joining:
        beside.setdefault(one, []).append(two)
        beside.setdefault(two, []).append(one)
    return beside


def _reached(start: Iterable[str], beside: Mapping[str, list[str]]) -> frozenset[str]:
    waiting = list(start)
    found = set(waiting)
    while waiting:
        for near in beside.get(waiting.pop(), ()):
            if near not in found:
                found.add(near)
                waiting.append(near)
    return frozenset(found)


def held_nodes(wiring: Wiring, carrying: Collection[str] = ()) -> frozenset[str]:
    """Nodes whose voltage a meter does not move: the others hang in the air, on an LED or a diode that blocks.

    Parameters
    ----------
    wiring : Wiring
        The loom as built with the fault.
    carrying : collection of str
        Strings and steering diodes that carry far more than a meter takes.
    Returns
    -------
    frozenset of str
        Names of nodes that wires, resistors and closed contacts join to the supply or to a diode that carries.
    """
    firm = (element for element in wiring.network.elements if element.kind == "source" or element.name in carrying)
    return _together((end for element in firm for end in (element.node_a, element.node_b)), wiring.pieces())


def joined_places(wiring: Wiring, start: str, *, most_ohm: float = PIECE_OHM) -> frozenset[str]:
    """Nodes joined to one by less than `most_ohm` in each piece, with the supply taken off and every LED blocking."""
    return wiring.pieces(most_ohm)[start]


def lets_through(wiring: Wiring, plus: str, back: str) -> tuple[bool, bool]:
    """Whether the diode test goes through copper and one steering diode at most; whether it may, not over an LED.

    What a Schottky diode leaks backwards is far less than the test's milliampere.
    """
    near = wiring.pieces(PIECE_OHM)
    over = [stop for start, stop in wiring.steering if start in near[plus]]
    if back in near[plus] or back in _together(over, near):
        return True, True
    wide, found = wiring.pieces(), frozenset([plus])
    ways = [*wiring.steering, *wiring.bridged, *(ends[::-1] for ends in wiring.bridged)]
    for _ in range(len(ways) + 1):
        found = _together(found, wide)
        more = {stop for start, stop in ways if start in found} - found
        if not more:
            break
        found |= more
    return False, back in found


def diode_test_v(wiring: Wiring, plus: str, back: str) -> tuple[float, float]:
    """Least and most that the diode test shows [V]; OL where it goes over an LED, or not at all."""
    surely, perhaps = lets_through(wiring, plus, back)
    if not surely:
        return (0.0 if perhaps else LED_V), OL
    if back in wiring.pieces(PIECE_OHM)[plus]:
        return 0.0, COPPER_V
    wide = wiring.pieces()
    copper = wide[plus]
    for ends in wiring.bridged * 2:  # a diode that is bridged is copper too, in whichever order they follow
        copper |= _together(ends, wide) if copper & set(ends) else NOTHING
    return (0.0 if back in copper else DIODE_V), THROUGH_V


def between_v(
    wiring: Wiring, ends: tuple[str, str], *, node_v: Mapping[str, float], held: frozenset[str]
) -> tuple[float, float]:
    """Least and most that a meter of 10 megohm shows from the first place to the second [V].

    Notes
    -----
    Both held: their difference. One in the air: it is pulled through its LED to the LED's other end, so the meter shows
    the voltage to there less what the LED takes; nothing if the LED blocks. Both in the air: nothing where copper joins
    them, else anything.
    """
    plus, back = ends
    if plus in held and back in held:
        value = node_v[plus] - node_v[back]
        return value, value
    air = wiring.pieces()[back if plus in held else plus]
    if plus not in held and back not in held:
        most = 0.0 if back in air else max((abs(node_v[name]) for name in held), default=0.0)
        return -most, most
    fixed = plus if plus in held else back
    least, most = _through_leds(wiring, fixed, air, node_v=node_v, held=held)
    return (least, most) if fixed == plus else (-most, -least)


def _through_leds(
    wiring: Wiring, fixed: str, air: frozenset[str], *, node_v: Mapping[str, float], held: frozenset[str]
) -> tuple[float, float]:
    """From a held place to those in the air, over one LED or several in a row."""
    found: list[float] = []
    for way in (1, -1):
        here, least, passed = air, 1 - LED_SHARE, frozenset[str]()
        for _ in range(MOST_IN_ROW):
            after = {name for start in here for name in wiring.onward.get((start, way), ())}
            drives = [node_v[fixed] - node_v[name] for name in after & held]
            found += [drive * share for drive in drives if drive * way > 0 for share in (1.0, least)]
            passed |= here
            here, least = _together(after - held - passed, wiring.pieces()) - passed, 0.0
    return (min(found), max(found)) if found else (0.0, 0.0)
