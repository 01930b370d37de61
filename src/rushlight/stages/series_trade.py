"""Own resistors or strings in series: the loom laid and solved whole with each length of string."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from rushlight.electric.led import voltage_at_current
from rushlight.model.design_loom import Circuit, LedString, Loom
from rushlight.model.design_power import Power, SeriesTrade, StatePower
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.loom import lay_strings
from rushlight.stages.parts_law import led_spread, light_ratio
from rushlight.stages.power import power_of
from rushlight.stages.series import LikeLeds, cut_even, held_in_series, most_in_series, regulator_of_like
from rushlight.stages.supplies import supply_ages

MOST_SHOWN = 6
"""Longer strings than these are not compared."""

MOST_WIRED = 400
"""LEDs that are wired for comparison in all: of a large model only the groups that take most are compared."""


LEAST_NEEDED = 0.05
"""A string that spares less of its state's current than this is never taken (project proposal)."""

TOO_LITTLE = "two in series would leave too little for their {} when the supply is flat"


TRIAL_EFFORT = 0.2
"""Trees of looms that are only compared are searched for so much of the rounds of one that is built: their wire is
told a little too long, on the safe side."""


@dataclass(frozen=True, slots=True)
class Compared:
    """Lengths of string that are laid and solved, and why no more than what is held."""

    lengths: tuple[int, ...]
    why_none: str


@dataclass(frozen=True, slots=True)
class Trial:
    """The whole loom with some groups in strings, laid and solved."""

    loom: Loom
    power: Power


def tried(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], strings: tuple[LedString, ...],
    *, effort: float = 1.0,
) -> Trial:
    """A loom of single LEDs laid anew with strings, and solved in every state at every age of its supply.

    Source
    ------
    The same routes, splice trees, resistors, solve and discharge as the loom that is built.
    """
    laid = lay_strings(plan, drawer, loom, circuits=circuits, strings=strings, effort=effort)
    return Trial(laid, power_of(plan, drawer, loom=laid, circuits=circuits, weighed=False))


def lengths_of(plan: Plan, drawer: Drawer, like: LikeLeds) -> tuple[int, ...]:
    """The lengths of string of two and more that the flat supply bears, each that makes a difference."""
    longest = min(most_in_series(plan, drawer, like), MOST_SHOWN)
    return tuple(n for n in range(2, longest + 1) if max(map(len, cut_even(like.emitters, n))) == n)


def compared(plan: Plan, drawer: Drawer, rows: Sequence[SeriesTrade], alike: Sequence[LikeLeds]) -> list[Compared]:
    """Which lengths of which groups are laid and solved.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply and the parts.
    rows : sequence of SeriesTrade
        Each group with resistors of its own.
    alike : sequence of LikeLeds
        The groups.
    Returns
    -------
    list of Compared
        One a group. Those that could not spare LEAST_NEEDED of their state's current are left out, and in a large model
        those that take least; what is held is always among them.
    """
    left = max(MOST_WIRED // max(1, sum(len(like.emitters) for like in alike)), 1)
    found = [Compared((), "") for _ in alike]
    for number in sorted(range(len(alike)), key=lambda n: -rows[n].supply_a):
        lengths, row = lengths_of(plan, drawer, alike[number]), rows[number]
        could = row.supply_a * (1 - 1 / max(lengths, default=1)) / row.mean_a if row.mean_a > 0 else 0.0
        if not lengths:
            found[number] = Compared((), TOO_LITTLE.format(row.by))
        elif could < LEAST_NEEDED:
            found[number] = Compared((), f"no string could spare {LEAST_NEEDED:.0%} of what '{row.state}' takes")
        elif left <= 0:
            found[number] = Compared((), "the model is large, and strings elsewhere would save more")
        else:
            found[number] = Compared(lengths[:left], "")
            left -= len(lengths)
    return [_with_held(plan, drawer, like, own) for like, own in zip(alike, found, strict=True)]


def _with_held(plan: Plan, drawer: Drawer, like: LikeLeds, own: Compared) -> Compared:
    most = min(held_in_series(plan, like) or 1, most_in_series(plan, drawer, like))
    longest = max(map(len, cut_even(like.emitters, most)))
    return replace(own, lengths=tuple(sorted({*own.lengths, longest} - {1})))


def trade_of(
    plan: Plan, drawer: Drawer, circuits: Sequence[Circuit], like: LikeLeds, most: int, *, trial: Trial, state: str
) -> SeriesTrade:
    """What one length of string of a group takes, gives and risks, read from its own loom.

    Parameters
    ----------
    plan, drawer, circuits
        As the loom was laid with.
    like : LikeLeds
        The group.
    most : int
        The length; 1 for each by itself.
    trial : Trial
        The loom with this group in strings so long, all others alone.
    state : str
        The state that takes most of those that light the group.
    Returns
    -------
    SeriesTrade
        Neither taken nor built yet. The ends of currents and light hold LEDs, resistors and contacts at their worst.
    """
    names = tuple(one.name for one in like.emitters)
    solved = next(row for row in trial.power.states if row.state == state)
    lit = {row.emitter: row for row in solved.lit if row.emitter in names}
    heads = [row for name, row in lit.items() if not trial.loom.beyond(name)]
    flat_v = min(age.emf_v for age in supply_ages(plan, drawer))
    high_v = float(voltage_at_current(led_spread(drawer.led(like.part_row)).high, like.current_a))
    low_a, high_a = _ends([row.flat_spread_a.low for row in lit.values()], [row.flat_spread_a.high for row in heads])
    fresh_a = max((row.bench_a.high for row in heads), default=0.0)
    times = partial(light_ratio, drawer, like.emitters[0])
    return SeriesTrade(
        circuit=like.circuit, part=like.part, emitters=names, in_series=most,
        by="resistor" if regulator_of_like(plan, drawer, like) is None else "regulator", resistors=len(heads),
        state=state, supply_a=sum(row.current_a.typical for row in heads), mean_a=solved.mean_a,
        run_h=solved.run_time_h.typical,
        flat_share=times(low_a, like.current_a), fresh_share=times(fresh_a, like.current_a),
        match=times(high_a, low_a), left_v=flat_v - most * high_v,
        wire_mm=sum(lead.cut_mm for lead in trial.loom.leads), dark_share=_dark_share(circuits, trial.loom, like, most),
        best=False, built=False, offered=False, why="",
    )


def _ends(low: Sequence[float], high: Sequence[float]) -> tuple[float, float]:
    return min(low, default=0.0), max(high, default=0.0)


def _dark_share(circuits: Sequence[Circuit], loom: Loom, like: LikeLeds, most: int) -> float:
    """The most that one open joint of a string darkens of the LEDs of any state that lights it."""
    states_of = {circuit.name: circuit.states for circuit in circuits}
    counts = [
        sum(max(one.segments, 1) for one in loom.emitters if state in states_of[one.circuit])
        for state in states_of[like.circuit]
    ]
    return most / min(counts)


def heaviest(circuits: Sequence[Circuit], like: LikeLeds, power: Power) -> str:
    """The state that takes most of those that light a group; of equal ones the first."""
    lit = next(circuit.states for circuit in circuits if circuit.name == like.circuit)
    return max((row for row in power.states if row.state in lit), key=_mean_a).state


def _mean_a(row: StatePower) -> float:
    return row.mean_a
