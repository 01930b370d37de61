"""What a network is made of: elements between named nodes, and the columns to solve it for."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.led import DiodeLaw
from rushlight.electric.regulator import RegulatorLaw
from rushlight.errors import OutOfRange, UnknownName

Array = NDArray[np.float64]
Index = NDArray[np.int64]

KINDS = ("resistor", "wire", "switch", "string", "source")
"""Kinds of element; a wire differs from a resistor only in what is called a short."""

CLOSED_SWITCH_OHM = 0.03
"""Contact resistance of a small switch (from memory, typical data-sheet maximum)."""

OPEN_SWITCH_OHM = 1e9
"""Insulation of an open contact (from memory; data sheets promise 1e8 to 1e9 ohm)."""

SOUND, OPEN, SHORTED, REVERSED = 0, 1, 2, 3
"""States of a string in a column: as built; broken; one diode bridged; turned round."""

BRIDGED_REGULATOR, TURNED_REGULATOR = 4, 5
"""States of a string whose constant-current regulator is bridged, or turned round."""


@dataclass(frozen=True, slots=True)
class Element:
    """One two-terminal element; its current counts from node_a to node_b (a source: out of node_a)."""

    name: str
    kind: str
    node_a: str
    node_b: str
    ohm: float
    emf_v: float = 0.0
    laws: tuple[DiodeLaw, ...] = ()
    regulator: RegulatorLaw | None = None

    def __post_init__(self) -> None:
        if not 1e-7 <= self.ohm <= 1e15 and not (self.laws and self.ohm == 0):
            raise OutOfRange(f"resistance of '{self.name}'", self.ohm, "1e-7 to 1e15 ohm")
        if not -1000 <= self.emf_v <= 1000:
            raise OutOfRange(f"emf of '{self.name}'", self.emf_v, "-1000 to 1000 V")
        if self.node_a == self.node_b:
            raise OutOfRange(f"ends of '{self.name}'", self.node_a, "two different nodes")


def resistor(name: str, node_a: str, node_b: str, *, ohm: float) -> Element:
    """A resistor of `ohm` between two nodes."""
    return Element(name, "resistor", node_a, node_b, ohm)


def wire(name: str, node_a: str, node_b: str, *, ohm: float) -> Element:
    """A wire, joint or fuse of `ohm` between two nodes."""
    return Element(name, "wire", node_a, node_b, ohm)


def switch(name: str, node_a: str, node_b: str, *, closed_ohm: float = CLOSED_SWITCH_OHM) -> Element:
    """A switch contact; whether it is closed is said by the columns."""
    return Element(name, "switch", node_a, node_b, closed_ohm)


def string(
    name: str, anode: str, cathode: str, *, laws: Sequence[DiodeLaw], ohm: float = 0.0,
    regulator: RegulatorLaw | None = None,
) -> Element:
    """LEDs or diodes in series, all one way, with a series resistor of `ohm` (0: none) and perhaps a regulator."""
    if not laws:
        raise OutOfRange(f"laws of '{name}'", len(laws), "one diode or more")
    return Element(name, "string", anode, cathode, ohm, 0.0, tuple(laws), regulator)


def source(name: str, plus: str, minus: str, *, emf_v: float, inner_ohm: float) -> Element:
    """A supply: `emf_v` behind `inner_ohm`; its current counts out of the plus terminal."""
    return Element(name, "source", plus, minus, inner_ohm, emf_v)


@dataclass(frozen=True, slots=True)
class Network:
    """Named nodes and the elements between them."""

    nodes: tuple[str, ...]
    elements: tuple[Element, ...]
    _rows: dict[str, Index] = field(init=False, repr=False, compare=False)
    _names: dict[str, tuple[str, ...]] = field(init=False, repr=False, compare=False)
    end_a: Index = field(init=False, repr=False, compare=False)
    end_b: Index = field(init=False, repr=False, compare=False)
    """The rows of each element's nodes."""

    def __post_init__(self) -> None:
        _refuse_repeats("node", self.nodes)
        _refuse_repeats("element", [element.name for element in self.elements])
        row = {node: at for at, node in enumerate(self.nodes)}
        ends_a = [row.get(element.node_a, -1) for element in self.elements]
        ends_b = [row.get(element.node_b, -1) for element in self.elements]
        for ends, name in ((ends_a, "node_a"), (ends_b, "node_b")):
            if -1 in ends:
                lost = self.elements[ends.index(-1)]
                raise UnknownName(f"node of element '{lost.name}'", getattr(lost, name), self.nodes)
        of_kind: dict[str, list[int]] = {}
        for at, element in enumerate(self.elements):
            of_kind.setdefault(element.kind, []).append(at)
        for key, value in (
            ("_rows", {kind: np.array(rows, np.int64) for kind, rows in of_kind.items()}),
            ("_names", {kind: tuple(self.elements[at].name for at in rows) for kind, rows in of_kind.items()}),
            ("end_a", np.array(ends_a, np.int64)), ("end_b", np.array(ends_b, np.int64)),
        ):
            object.__setattr__(self, key, value)

    @classmethod
    def of(cls, elements: Iterable[Element]) -> Network:
        """The network of some elements, its nodes in order of first use."""
        listed = tuple(elements)
        nodes = dict.fromkeys(node for element in listed for node in (element.node_a, element.node_b))
        return cls(tuple(nodes), listed)

    def named(self, kind: str) -> tuple[str, ...]:
        """Names of the elements of one kind, in order."""
        return self._names.get(kind, ())

    def rows(self, kind: str) -> Index:
        """Rows of the elements of one kind."""
        return self._rows.get(kind, np.zeros(0, np.int64))


def _refuse_repeats(what: str, names: Sequence[str]) -> None:
    if len(set(names)) != len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise OutOfRange(f"{what} '{twice}'", "named twice", "each name once")


@dataclass(frozen=True, slots=True)
class Columns:
    """The cases in which a network is solved; rows follow the network's order of each kind.

    closed (switches, columns) true where the contact is closed; emf_v and inner_ohm (sources, columns); ohm_factor
    (elements, columns) multiplies each element's own resistance, a string's with that of its diodes; shift_v
    (strings, columns) moves every diode's forward voltage; string_state (strings, columns) is SOUND, OPEN, SHORTED,
    REVERSED, BRIDGED_REGULATOR or TURNED_REGULATOR; limit_factor (strings, columns; None: 1) multiplies the current
    of each string's regulator. Each array may have one column only, which then holds for all.
    """

    names: tuple[str, ...]
    closed: NDArray[np.bool_]
    emf_v: Array
    inner_ohm: Array
    ohm_factor: Array
    shift_v: Array
    string_state: NDArray[np.int8]
    limit_factor: Array | None = None

    @property
    def count(self) -> int:
        """Number of columns."""
        return len(self.names)

    def part(self, first: int, last: int) -> Columns:
        """Columns first (included) to last (excluded)."""
        return self._cut(self.names[first:last], slice(first, last))

    def some(self, which: NDArray[np.int64]) -> Columns:
        """Columns of these numbers."""
        return self._cut(tuple(self.names[k] for k in which.tolist()), which)

    def _cut(self, names: tuple[str, ...], which: slice | NDArray[np.int64]) -> Columns:
        def cut(value: NDArray[Any]) -> NDArray[Any]:
            return value if value.shape[1] == 1 else value[:, which]

        return Columns(
            names, cut(self.closed), cut(self.emf_v), cut(self.inner_ohm), cut(self.ohm_factor), cut(self.shift_v),
            cut(self.string_state), None if self.limit_factor is None else cut(self.limit_factor),
        )


@dataclass(frozen=True, slots=True)
class Supply:
    """One age of the supplies: its name, and for each source its EMF and inner resistance."""

    name: str
    emf_v: tuple[float, ...]
    inner_ohm: tuple[float, ...]


def columns_of(
    network: Network,
    states: Mapping[str, Collection[str]],
    *,
    supplies: Sequence[Supply] = (),
    shifts_v: Mapping[str, float | Sequence[float]] | None = None,
    limits: Mapping[str, Sequence[float]] | None = None,
) -> Columns:
    """Columns for every state, at every supply age, at every LED tolerance.

    Parameters
    ----------
    network : Network
        The network.
    states : mapping
        For each state the names of the switches that are closed in it.
    supplies : sequence of Supply
        Ages of the supplies; empty: the sources as the network has them.
    shifts_v : mapping, optional
        For each LED tolerance the shift of forward voltage [V], one number or one for each string.
    limits : mapping, optional
        For some of these tolerances the factor on the current of each string's regulator [-]; 1 for the others.
    Returns
    -------
    Columns
        One column for each combination, named 'state | supply | tolerance' (parts that are not
        varied are left out), state varying slowest.
    Raises
    ------
    UnknownName
        If a state names a switch that the network lacks.
    OutOfRange
        If a supply does not list as many values as there are sources, or there is no state.
    """
    if not states:
        raise OutOfRange("states", 0, "one state or more")
    ages = tuple(supplies) or (_as_built(network),)
    for age in ages:
        if len(age.emf_v) != len(network.named("source")) or len(age.inner_ohm) != len(age.emf_v):
            raise OutOfRange(f"values of supply '{age.name}'", len(age.emf_v), "one for each source")
    tolerances = dict(shifts_v) if shifts_v else {"": 0.0}
    cases = [(s, a, t) for s in states for a in range(len(ages)) for t in tolerances]
    closed = {state: _closed(network, on) for state, on in states.items()}
    strings = len(network.named("string"))
    return Columns(
        tuple(" | ".join(part for part in (s, ages[a].name, t) if part) for s, a, t in cases),
        np.array([closed[s] for s, _, _ in cases], bool).T.reshape(-1, len(cases)),
        np.array([ages[a].emf_v for _, a, _ in cases], float).T.reshape(-1, len(cases)),
        np.array([ages[a].inner_ohm for _, a, _ in cases], float).T.reshape(-1, len(cases)),
        np.ones((len(network.elements), 1)),
        np.array([np.broadcast_to(tolerances[t], strings) for _, _, t in cases], float).T.reshape(-1, len(cases)),
        np.zeros((strings, 1), np.int8),
        None if not limits else np.array([limits.get(t, [1.0] * strings) for _, _, t in cases], float).T,
    )


def _as_built(network: Network) -> Supply:
    found = [element for element in network.elements if element.kind == "source"]
    return Supply("", tuple(e.emf_v for e in found), tuple(e.ohm for e in found))


def _closed(network: Network, on: Collection[str]) -> list[bool]:
    names = network.named("switch")
    for name in on:
        if name not in names:
            raise UnknownName("switch", name, names)
    return [name in on for name in names]
