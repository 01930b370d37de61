"""Where is the fault? What was seen and read at the bench against every single fault of the loom as it is built."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Network, columns_of
from rushlight.electric.fault import LIT_A, Fault, FaultTable, fault_table, joint_faults, single_faults
from rushlight.errors import UnknownName
from rushlight.model.design import Design
from rushlight.stages.fault_probe import between_v, held_nodes
from rushlight.stages.network import loom_network, node
from rushlight.stages.rhythms import made_rhythms, with_makers
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import switching

Array = NDArray[np.float64]

PRIORS = ("none", "open", "poor joint", "reversed", "weak supply", "short", "stuck", "wrong resistor")
"""Of faults that fit alike the more usual is named first (common practice, no source)."""

FEW = 60
"""So many suspects are solved anew with their voltages."""

MOST_PROBES = 400

NAMED_STATES = 12

SURELY_DIM, PERHAPS_DIM = 0.3, 0.7
"""A lamp with less than the first share of its current looks dim beside its like, with more than the second it does not
(common practice, no source; lightness goes with about the cube root of light)."""


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter's error bound as its maker states it: a share of the reading and a number of last digits."""

    share: float = 0.01
    digit_ma: float = 0.1
    digit_v: float = 0.01
    digits: int = 2

    def bound(self, value: float, kind: str) -> float:
        """Largest error of a reading, in its own unit (mA or V)."""
        return self.share * abs(value) + self.digits * (self.digit_ma if kind == "supply" else self.digit_v)


@dataclass(frozen=True, slots=True)
class Probe:
    """One thing to look at or to measure, in one state of the switch.

    kind: 'look' at which lamps are lit; 'supply' current [mA]; 'volts' between two places [V], each the name of a
    splice, an emitter with + or -, or 'bay' with the circuit; 'resistor': voltage [V] across that of emitter `plus`.
    """

    kind: str
    state: str
    plus: str = ""
    back: str = ""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was found: a value in mA or V; for a look the emitters that were dark or dim though they should be lit."""

    probe: Probe
    value: float = 0.0
    dark: frozenset[str] = frozenset()
    dim: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Look:
    """What a look shows with a fault: emitters that are dark, surely dim, perhaps dim (the sure ones among them)."""

    dark: frozenset[str]
    dim: frozenset[str]
    perhaps: frozenset[str]

    def allows(self, seen: Seen) -> bool:
        """Whether somebody could have seen it so."""
        return self.dark == seen.dark and self.dim <= seen.dim <= self.perhaps

    def differs(self, other: Look) -> bool:
        """Whether nobody could take one for the other."""
        return self.dark != other.dark or not (self.dim <= other.perhaps and other.dim <= self.perhaps)


@dataclass(frozen=True, slots=True)
class Suspects:
    """Faults that no reachable reading tells apart; misfit is the worst deviation over what the meter may be off."""

    faults: tuple[Fault, ...]
    misfit: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """What fits, best first, and what to look at or measure next; None where nothing tells the rest apart."""

    suspects: tuple[Suspects, ...]
    next_probe: Probe | None
    outcomes: tuple[tuple[tuple[float, float] | Look, int], ...]
    """What the next probe would show for each group of suspects, by its place among them."""


@dataclass(frozen=True, slots=True)
class KnownFaults:
    """A loom as it is built with all its single faults, solved once."""

    design: Design
    network: Network
    columns: Columns
    closed: Mapping[str, frozenset[str]]
    table: FaultTable
    spread: tuple[float, float]
    """How far a sound loom's currents may lie under and over the typical ones, as factors (LEDs, age of the cells)."""


def known_faults(design: Design, *, exact: bool = False) -> KnownFaults:
    """The loom of a design with every single fault, in every state.

    Parameters
    ----------
    design : Design
        With a supply and something wired.
    exact : bool
        True takes the LEDs and the supply to be the typical ones, so that the meter alone is uncertain.
    Returns
    -------
    KnownFaults
        Open, short, reversed, wrong by a band, a cold joint, a dead cell, a stuck contact: one at a time.
    Source
    ------
    `electric.fault.fault_table`.
    """
    network, closed = built_network(design)
    columns = columns_of(network, closed)
    faults = (*single_faults(network), *joint_faults(network), *_weak(design))
    table = fault_table(network, columns, faults=faults)
    names = {state: frozenset(on) for state, on in closed.items()}
    return KnownFaults(design, network, columns, names, table, (1.0, 1.0) if exact else _spread(design))


def built_network(design: Design) -> tuple[Network, dict[str, tuple[str, ...]]]:
    """The network at the nominal supply with the resistors that are fitted, and the contacts closed in each state."""
    plan, drawer, power = design.plan, design.drawer, design.power
    age = supply_ages(plan, drawer)[1]
    found = with_makers(
        switching(plan, drawer, design.circuits, loom=design.loom), plan,
        made_rhythms(plan, design.circuits, design.loom), nominal_v=age.emf_v,
    )
    fuse = next((row for row in drawer.fuses if power.supply and row.name == power.supply.fuse), None)
    values = {row.emitter: row.value_ohm for row in power.resistors}
    network = loom_network(drawer, design.loom, found=found, age=age, fuse_ohm=fuse.inner_ohm if fuse else 0.0,
                           resistors=values)
    return network, found.closed


def _weak(design: Design) -> tuple[Fault, ...]:
    supply = design.plan.supply
    if supply is None or supply.kind != "cells" or supply.in_series < 2:
        return ()
    return (Fault("weak supply", "supply", (supply.in_series - 1) / supply.in_series),)


def _spread(design: Design) -> tuple[float, float]:
    rows = [state.bench_a for state in design.power.states if state.bench_a.typical > 0]
    return (min((row.low / row.typical for row in rows), default=1.0),
            max((row.high / row.typical for row in rows), default=1.0))


# --- what fits ----------------------------------------------------------------------------------------------------


def verdict(bench: KnownFaults, seen: Sequence[Seen], *, meter: Meter | None = None, reach: str = "all") -> Verdict:
    """Faults that fit what was seen, and what to look at or measure next.

    Parameters
    ----------
    bench : KnownFaults
        From `known_faults`.
    seen : sequence of Seen
        What was found so far.
    meter : Meter, optional
        The meter's error bound.
    reach : str
        'all' while splices can be reached, 'bay' when the model is closed.
    Returns
    -------
    Verdict
        A fault whose reading the bound allows is never left out.
    Raises
    ------
    UnknownName
        If a state or a place is not one of the loom's.
    Source
    ------
    Interval reasoning on the maker's error bound; the next probe leaves the fewest suspects at worst.
    """
    meter = meter or Meter()
    _known(bench, seen)
    fits = _fitting(bench, seen, meter)
    if not fits:
        return Verdict((), None, ())
    few = _ordered(bench, fits)[:FEW]
    volts = _solved_again(bench, few)
    probes = _probes(bench, reach, seen, [bench.table.faults[k].element for k in few])
    apart = np.array([_told_apart(bench, volts, probe, meter) for probe in probes])
    apart = apart.reshape(len(probes), len(few), len(few))
    groups = _alike(np.asarray(apart.any(axis=0)))
    suspects = tuple(
        Suspects(tuple(bench.table.faults[few[k]] for k in group), min(fits[few[k]] for k in group))
        for group in groups
    )
    heads = [group[0] for group in groups]
    if len(heads) < 2:
        return Verdict(suspects, None, ())
    left = (~apart[np.ix_(range(len(probes)), heads, heads)]).sum(axis=(1, 2))
    best = probes[int(left.argmin())]
    outcomes = tuple((_shown(bench, volts, best, head), place) for place, head in enumerate(heads))
    return Verdict(suspects, best, outcomes)


def _known(bench: KnownFaults, seen: Sequence[Seen]) -> None:
    for row in seen:
        if row.probe.state not in bench.table.states:
            raise UnknownName("state", row.probe.state, bench.table.states)
        for place in (row.probe.plus, row.probe.back):
            if row.probe.kind == "volts" and place not in places(bench):
                raise UnknownName("place", place, places(bench))


def places(bench: KnownFaults) -> tuple[str, ...]:
    """Where probes may be held: splices, emitters with + or -, terminals in the bay."""
    return tuple(name.removeprefix("node ") for name in bench.network.nodes
                 if name.startswith("node ") or name.endswith(("+", "-")))


def _fitting(bench: KnownFaults, seen: Sequence[Seen], meter: Meter) -> dict[int, float]:
    """Misfit of each fault that every finding allows."""
    table = bench.table
    worst = np.zeros(len(table.faults))
    for row in sorted(seen, key=lambda one: one.probe.kind == "volts"):
        state = table.states.index(row.probe.state)
        if row.probe.kind == "look":
            looks = [look_of(bench, table, k, state).allows(row) for k in range(len(table.faults))]
            worst = np.maximum(worst, np.where(looks, 0.0, np.inf))
            continue
        possible = np.flatnonzero(worst <= 1)
        if row.probe.kind == "supply":
            expected = np.repeat(1000 * table.supply_a[possible, state][None, :], 2, axis=0)
        elif row.probe.kind == "resistor":
            expected = np.repeat(_drop(bench, table, row.probe.plus, state)[possible][None, :], 2, axis=0)
        else:
            some = _solved_again(bench, possible.tolist())
            expected = np.array([_volts(bench, some, row.probe, k) for k in range(len(possible))]).reshape(-1, 2).T
        worst[possible] = np.maximum(worst[possible], _misfit(expected, row, bench.spread, meter))
    return {k: float(worst[k]) for k in np.flatnonzero(worst <= 1.0).tolist()}


def _misfit(expected: Array, row: Seen, spread: tuple[float, float], meter: Meter) -> Array:
    """How far a reading lies outside what each fault predicts (least and most), over the meter's bound."""
    low, high = spread
    if row.probe.kind == "volts":  # half of it: what a diode's voltage gives, its resistor takes
        low, high = (1 + low) / 2, (1 + high) / 2
    ends = np.concatenate([low * expected, high * expected])
    off = np.maximum(np.maximum(ends.min(axis=0) - row.value, row.value - ends.max(axis=0)), 0.0)
    return np.asarray(off / meter.bound(row.value, row.probe.kind), dtype=float)


@dataclass(frozen=True, slots=True)
class _Few:
    """A few faults with their voltages, and the nodes that are held in each state; the table's first fault is none."""

    table: FaultTable
    node_v: tuple[tuple[dict[str, float], ...], ...]
    held: tuple[tuple[frozenset[str], ...], ...]


def _solved_again(bench: KnownFaults, wanted: list[int]) -> _Few:
    faults = [bench.table.faults[0], *(bench.table.faults[k] for k in wanted)]
    table = fault_table(bench.network, bench.columns, faults=faults, voltages=True)
    assert table.node_v is not None
    volts = tuple(
        tuple(dict(zip(bench.network.nodes, one[:, state].tolist(), strict=True)) for state in range(one.shape[1]))
        for one in table.node_v
    )
    held = tuple(
        tuple(held_nodes(bench.network, bench.closed[state], fault) for state in table.states) for fault in faults
    )
    return _Few(table, volts, held)


def _volts(bench: KnownFaults, some: _Few, probe: Probe, place: int) -> tuple[float, float]:
    """Least and most that the meter shows with one of the few faults [V]."""
    state = some.table.states.index(probe.state)
    ends = (_node(bench, probe.plus), _node(bench, probe.back))
    return between_v(bench.network, ends, node_v=some.node_v[place + 1][state], held=some.held[place + 1][state],
                     fault=some.table.faults[place + 1])


def look_of(bench: KnownFaults, table: FaultTable, fault: int, state: int) -> Look:
    """What a look shows with one fault of a table; a strip is dark when all its segments are."""
    names = _emitters(bench)
    sound = _per_emitter(names, bench.table.string_a[0, :, state])
    now = _per_emitter(names, table.string_a[fault, :, state])
    lit = {name: now[name] / amps for name, amps in sound.items() if amps >= LIT_A}
    dark = frozenset(name for name in lit if now[name] < LIT_A)
    return Look(
        dark, frozenset(name for name, share in lit.items() if share < SURELY_DIM and name not in dark),
        frozenset(name for name, share in lit.items() if share < PERHAPS_DIM and name not in dark),
    )


def _per_emitter(names: Sequence[str], amps: Array) -> dict[str, float]:
    """The brightest branch of each emitter."""
    found: dict[str, float] = {}
    for name, value in zip(names, amps.tolist(), strict=True):
        found[name] = max(found.get(name, 0.0), value)
    return found


def _drop(bench: KnownFaults, table: FaultTable, emitter: str, state: int) -> Array:
    """Voltage across an emitter's resistor with each fault [V]."""
    resistor = bench.design.power.resistor(emitter)
    if resistor is None:
        raise UnknownName("LED with a resistor", emitter, [row.emitter for row in bench.design.power.resistors])
    rows = [k for k, name in enumerate(_emitters(bench)) if name == emitter]
    return np.asarray(table.string_a[:, rows, state].sum(axis=1) * resistor.value_ohm, dtype=float)


def _emitters(bench: KnownFaults) -> list[str]:
    return [name.rsplit(" / ", 1)[0] for name in bench.table.strings]


def _node(bench: KnownFaults, place: str) -> str:
    return place if place in bench.network.nodes else node(place)


# --- what next ----------------------------------------------------------------------------------------------------


def _ordered(bench: KnownFaults, fits: dict[int, float]) -> list[int]:
    """Possible faults, the usual kinds first."""
    return sorted(fits, key=lambda k: (PRIORS.index(bench.table.faults[k].kind), fits[k], k))


def _probes(bench: KnownFaults, reach: str, seen: Sequence[Seen], suspected: Sequence[str]) -> list[Probe]:
    """Everything that could be looked at or measured and was not yet: looks first, as they need no meter."""
    states = bench.table.states[:NAMED_STATES]
    found = [Probe("look", state) for state in states]
    found += [Probe("supply", state) for state in states]
    pairs = [pair for pair in _pairs(bench) if pair[0].startswith("bay ") and pair[1] == "bay R"]
    if reach == "all":
        pairs = [*_along(bench, suspected), *_pairs(bench)]
    found += [Probe("volts", state, plus, back) for plus, back in pairs for state in states]
    done = {row.probe for row in seen}
    return [probe for probe in found if probe not in done][:MOST_PROBES]


def _along(bench: KnownFaults, suspected: Sequence[str]) -> list[tuple[str, str]]:
    """The two ends of each suspected lead: what a joint drops shows there and nowhere else."""
    ends = {element.name: (element.node_a, element.node_b) for element in bench.network.elements
            if element.kind == "wire" and element.name.startswith("lead ")}
    found = [ends[name] for name in dict.fromkeys(suspected) if name in ends]
    return [(a.removeprefix("node "), b.removeprefix("node ")) for a, b in found]


def _pairs(bench: KnownFaults) -> list[tuple[str, str]]:
    """A plus place and a return place each: every circuit's feed, then splices, then emitters themselves."""
    nodes = set(bench.network.nodes)
    feeds = [(f"bay {row.name}", "bay R") for row in bench.design.circuits if node(f"bay {row.name}") in nodes]
    splices = [(row.name, "bay R") for row in bench.design.loom.splices if row.net == "plus"]
    returns = [("bay " + first, row.name) for row in bench.design.loom.splices if row.net != "plus"
               for first in [bench.design.circuits[0].name] if node(f"bay {first}") in nodes]
    ends = [(f"{row.name}+", f"{row.name}-") for row in bench.design.loom.emitters if f"{row.name}+" in nodes]
    listed = [*feeds, *splices, *returns, *ends]
    return [pair for pair in listed if all(_node(bench, place) in nodes for place in pair)]


def _told_apart(bench: KnownFaults, volts: _Few, probe: Probe, meter: Meter) -> NDArray[np.bool_]:
    """For each two of the few suspects whether the probe is sure to tell one from the other."""
    shown = [_shown(bench, volts, probe, place) for place in range(len(volts.table.faults) - 1)]
    looks = [one for one in shown if isinstance(one, Look)]
    if looks:
        return np.array([[a.differs(b) for b in looks] for a in looks])
    ends = np.array([one for one in shown if not isinstance(one, Look)], dtype=float)
    share = (bench.spread[1] - bench.spread[0]) / (2 if probe.kind == "supply" else 4)
    room = np.array([[meter.bound(v, probe.kind) + share * abs(v) for v in pair] for pair in ends])
    least, most = ends[:, 0] - room[:, 0], ends[:, 1] + room[:, 1]
    return np.asarray((least[:, None] > most[None, :]) | (least[None, :] > most[:, None]))


def _shown(bench: KnownFaults, volts: _Few, probe: Probe, place: int) -> tuple[float, float] | Look:
    """What a probe shows for one of the few suspects; the table's first fault is none."""
    state = volts.table.states.index(probe.state)
    if probe.kind == "look":
        return look_of(bench, volts.table, place + 1, state)
    if probe.kind == "supply":
        value = float(1000 * volts.table.supply_a[place + 1, state])
        return value, value
    return _volts(bench, volts, probe, place)


def _alike(apart: NDArray[np.bool_]) -> list[list[int]]:
    """Suspects that nothing tells from the first of their group, each group in its order."""
    groups: list[list[int]] = []
    for k in range(len(apart)):
        for group in groups:
            if not apart[group[0], k]:
                group.append(k)
                break
        else:
            groups.append([k])
    return groups
