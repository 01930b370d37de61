"""A loom as it is built with all its single faults, solved once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Network, columns_of
from rushlight.electric.fault import Fault, FaultTable, fault_table, joint_faults, single_faults
from rushlight.model.design import Design
from rushlight.stages.fault_dark import shown_light_a
from rushlight.stages.fault_wiring import rewired_faults
from rushlight.stages.network import loom_network
from rushlight.stages.parts_law import usual_light_a
from rushlight.stages.regulators import regulators_held
from rushlight.stages.rhythms import made_rhythms, with_makers
from rushlight.stages.supplies import supply_ages
from rushlight.stages.switching import switching

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]

PRIORS = ("none", "open", "poor joint", "reversed", "weak supply", "short", "stuck", "wrong resistor",
          "regulator reversed", "regulator bridged", "bridged", "swapped", "wrong splice", "two")
"""Of faults that fit alike the more usual is named first (common practice, no source)."""

FUSE_SURE = 2.1
"""A fuse blows soon at so many times its rating (IEC 60127: 2.1), and perhaps from its rating on."""

MOST_VOLTAGES = 4_000_000
"""Voltages of all faults are kept up to this many (32 MB), and worked out again for the few beyond."""


@dataclass(frozen=True, slots=True)
class Case:
    """A fault with the rows of a table between which its readings lie: two for a range, else one twice."""

    fault: Fault
    low: int
    high: int


@dataclass(frozen=True)  # no slots: what is derived from the table is worked out once and kept
class Bank:
    """Cases and the table that their rows count in, of the loom of a design."""

    table: FaultTable
    cases: tuple[Case, ...]
    design: Design

    @cached_property
    def rows(self) -> Index:
        """Rows of the cases, shape (2, cases)."""
        return np.array([[case.low for case in self.cases], [case.high for case in self.cases]], np.int64)

    @cached_property
    def strings_of(self) -> dict[str, list[int]]:
        """Strings of each emitter; steering diodes belong to none."""
        found: dict[str, list[int]] = {}
        for k, name in enumerate(self.table.strings):
            if " / " in name:
                found.setdefault(name.rsplit(" / ", 1)[0], []).append(k)
        return found

    @cached_property
    def emitters(self) -> tuple[str, ...]:
        """Names of the emitters."""
        return tuple(self.strings_of)

    @cached_property
    def at(self) -> dict[str, int]:
        """Number of each emitter."""
        return {name: k for k, name in enumerate(self.strings_of)}

    @cached_property
    def amps(self) -> Array:
        """Current of the brightest branch of each emitter [A], shape (faults, emitters, states)."""
        light_a = self.table.light_a()
        faults, states = self.table.supply_a.shape
        # Looked at state by state: what is asked for together lies together.
        amps = np.empty((states, faults, len(self.strings_of))).transpose(1, 2, 0)
        for emitter, rows in enumerate(self.strings_of.values()):
            amps[:, emitter] = light_a[:, rows].max(axis=1)
        return amps

    @cached_property
    def light_a(self) -> Array:
        """Typical light of that branch as `emitter_light_a` counts it [A], same shape."""
        drawer, own = self.design.drawer, [self.design.loom.emitter(name) for name in self.emitters]
        sound = usual_light_a(drawer, own, self.amps[0].T).T
        light_a = np.empty_like(self.amps)  # laid out alike
        light_a[:] = sound
        for state in range(light_a.shape[2]):  # one by one: in large looms what is in between takes gigabytes
            amps = self.amps[:, :, state]
            changed = amps != amps[0]  # most faults leave most lamps as they are
            light_a[:, :, state][changed] = usual_light_a(drawer, own, amps[changed], at=np.nonzero(changed)[1])
        return light_a

    @cached_property
    def shown_a(self) -> Array:
        """Light under which each emitter is dark to everybody and from which it is lit [A], shape (2, emitters)."""
        return shown_light_a(self.design, self.emitters)

    @cached_property
    def on(self) -> Flags:
        """Which emitters the first fault, none, leaves plainly lit, shape (emitters, states)."""
        return np.asarray(self.light_a[0] >= self.shown_a[1][:, None])


@dataclass(frozen=True, slots=True)
class KnownFaults:
    """A loom as it is built with all its single faults, solved once."""

    design: Design
    network: Network
    columns: Columns
    closed: Mapping[str, frozenset[str]]
    bank: Bank
    spread: tuple[float, float]
    """How far a sound loom's currents may lie under and over the typical ones, as factors (LEDs, age of the cells)."""
    fuse_a: float = math.inf
    """Rating of the fuse."""

    @property
    def table(self) -> FaultTable:
        """Predicted readings of every single fault."""
        return self.bank.table


def known_faults(design: Design, *, exact: bool = False, usual: bool = False) -> KnownFaults:
    """The loom of a design with every single fault, in every state.

    Parameters
    ----------
    design : Design
        With a supply and something wired.
    exact : bool
        True takes the LEDs and the supply to be the typical ones, so that the meter alone is uncertain.
    usual : bool
        True leaves out joints and leads that are mixed up, and voltages: enough for what is told by eye, and quick.
    Returns
    -------
    KnownFaults
        Open, short, reversed, wrong by a band, a cold joint (3 ohm to 1 kohm), a dead or turned cell, a stuck contact,
        two joints bridged, two leads swapped, a lead on a wrong splice: one at a time. Where the fuse would blow, it
        has blown.
    Source
    ------
    `electric.fault.fault_table`.
    """
    network, closed = built_network(design)
    columns = columns_of(network, closed)
    fitted = {f"{row.emitter} / 1" for row in design.power.resistors}
    singles = [one for one in single_faults(network) if _by_hand(one, fitted)]
    mixed = () if usual else rewired_faults(design, network)
    faults = (*singles, *_weak(design), *mixed, *joint_faults(network))
    fuse_a = _fuse_a(design)
    keep = not usual and len(faults) * len(network.nodes) * columns.count <= MOST_VOLTAGES
    table = with_blown(fault_table(network, columns, faults=faults, voltages=keep), fuse_a)
    names = {state: frozenset(on) for state, on in closed.items()}
    spread = (1.0, 1.0) if exact else _spread(design)
    return KnownFaults(design, network, columns, names, Bank(table, cases_of(table.faults), design), spread, fuse_a)


def built_network(design: Design) -> tuple[Network, dict[str, tuple[str, ...]]]:
    """The network at the nominal supply with the resistors that are fitted, and the contacts closed in each state.

    LEDs and regulators are as warm as they get with nothing wrong, an LED in the state in which it is warmest.
    """
    plan, drawer, power = design.plan, design.drawer, design.power
    age = supply_ages(plan, drawer)[1]
    found = with_makers(
        switching(plan, drawer, design.circuits, loom=design.loom), plan,
        made_rhythms(plan, design.circuits, design.loom), ages=supply_ages(plan, drawer),
    )
    fuse = next((row for row in drawer.fuses if power.supply and row.name == power.supply.fuse), None)
    values = {row.emitter: row.value_ohm for row in power.resistors}
    warm = {row.emitter: row.warm_share for row in power.regulators}
    laws = {name: own.law.times(warm.get(name, 1.0))
            for name, own in regulators_held(plan, drawer, design.loom).items()}
    network = loom_network(drawer, design.loom, found=found, age=age, fuse_ohm=fuse.inner_ohm if fuse else 0.0,
                           resistors=values, regulators=laws, junction_c=_junctions_c(design))
    return network, found.closed


def _junctions_c(design: Design) -> dict[str, float]:
    """Of a typical LED on the nominal supply, in the state in which it is warmest."""
    warmest: dict[str, float] = {}
    for row in (row for state in design.power.states for row in state.lit):
        warmest[row.emitter] = max(row.junction_c.typical, warmest.get(row.emitter, -math.inf))
    return warmest


def _by_hand(fault: Fault, fitted: set[str]) -> bool:
    """A resistor that came with its LED or strip is not taken for a wrong one."""
    own = fault.element in fitted or fault.element.startswith("dimmer ")
    return fault.kind != "wrong resistor" or own


def _weak(design: Design) -> tuple[Fault, ...]:
    supply = design.plan.supply
    if supply is None or supply.kind != "cells" or supply.in_series < 2:
        return ()
    left = [(supply.in_series - gone) / supply.in_series for gone in (1, 2)]
    return tuple(Fault("weak supply", "supply", factor) for factor in left)


def _spread(design: Design) -> tuple[float, float]:
    rows = [state.bench_a for state in design.power.states if state.bench_a.typical > 0]
    return (min((row.low / row.typical for row in rows), default=1.0),
            max((row.high / row.typical for row in rows), default=1.0))


def _fuse_a(design: Design) -> float:
    supply = design.power.supply
    return supply.fuse_a if supply is not None and supply.fuse_a is not None else math.inf


# --- a fuse that has blown ----------------------------------------------------------------------------------------


def with_blown(table: FaultTable, fuse_a: float) -> FaultTable:
    """The table with a row more for each fault that may have blown the fuse: nothing lights, nothing flows."""
    most = table.supply_a.max(axis=1)
    may = np.flatnonzero(most > max(fuse_a, 1.01 * float(most[0])))
    gone = tuple(replace(table.faults[k], blown=True) for k in may.tolist())
    rows = np.concatenate([np.arange(len(table.faults)), may])
    volts = table.node_v
    wide = replace(
        table, faults=(*table.faults, *gone), supply_a=table.supply_a[rows], string_a=table.string_a[rows],
        node_v=None if volts is None else volts[rows],
    )
    return without_current(wide, fuse_a)


def without_current(table: FaultTable, fuse_a: float) -> FaultTable:
    """The table with everything at nought where the fuse has blown, or surely blows at once."""
    sure = table.supply_a > FUSE_SURE * max(fuse_a, 1.01 * float(table.supply_a[0].max()))
    sure |= np.array([fault.blown for fault in table.faults])[:, None]
    gone = np.flatnonzero(sure.any(axis=1))  # few of many: only theirs are worked on
    supply, strings = np.where(sure, 0.0, table.supply_a), table.string_a.copy()
    strings[gone] = np.where(sure[gone, None, :], 0.0, strings[gone])
    volts = None if table.node_v is None else np.where(sure[:, None, :], 0.0, table.node_v)
    return replace(table, supply_a=supply, string_a=strings, node_v=volts)


# --- cold joints are ranges ---------------------------------------------------------------------------------------


def cases_of(faults: Sequence[Fault]) -> tuple[Case, ...]:
    """One case for each fault; for a joint one between each two of its resistances, the rest of the loom between."""
    found = [Case(fault, k, k) for k, fault in enumerate(faults) if not poor(fault)]
    rungs: dict[Fault, list[int]] = {}
    for k, fault in enumerate(faults):
        if poor(fault):
            rungs.setdefault(identity(fault), []).append(k)
    for name, rows in rungs.items():
        found += [Case(ranged(name, [faults[a].ohm, faults[b].ohm]), a, b)
                  for a, b in zip(rows, rows[1:] or rows, strict=False)]
    return tuple(found)


def poor(fault: Fault) -> bool:
    """Whether a cold joint is among what is wrong."""
    return any(one.kind == "poor joint" for one in fault.singles)


def identity(fault: Fault) -> Fault:
    """The fault without the resistance of its cold joint: what the modeller looks for."""
    parts = tuple(identity(one) for one in fault.parts)
    factor = 1.0 if fault.kind == "poor joint" else fault.factor
    return replace(fault, parts=parts, factor=factor, ohm=(0.0, 0.0))


def ranged(fault: Fault, ohms: Iterable[tuple[float, float]]) -> Fault:
    """The fault with the hull of some ranges of its cold joint."""
    listed = [row for row in ohms if row[1] > 0]
    return replace(fault, ohm=(min(row[0] for row in listed), max(row[1] for row in listed))) if listed else fault
