"""Own resistors or strings in series: what each length of string would take, give, risk and save, solved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Element, Network, Supply, columns_of, source, string
from rushlight.electric.led import law_spread, side_by_side, voltage_at_current
from rushlight.electric.network import operating_point
from rushlight.electric.resistor import value_not_below
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import SeriesTrade
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.network import LEAST_OHM, spread_v
from rushlight.stages.series import LikeLeds, chained, cut_even, like_leds, most_in_series
from rushlight.stages.supplies import Age, supply_ages

MOST_SHOWN = 6
"""Longer strings than these are not compared."""

WORTH_SHARE = 0.75
"""A string is worth its risk if the LEDs then take no more than this share of the current (project proposal)."""

NEAR_LEAST = 1.1
"""Of the strings that are worth it the shortest is taken whose current is so near the least (project proposal)."""

KEPT_SHARE = 0.5
"""On the flat supply a string's dimmest LED keeps at least so much of what it would have by itself: a stop of light
(project proposal)."""

WIRE_SHARE, WIRE_END_MM = 1.1, 30.0
"""What a lead is cut longer than its way (habits `wire_spare` and `wire_spare_mm`)."""

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Case:
    """One length of string for one group of like LEDs: its pieces and the resistor of each length of piece."""

    like: LikeLeds
    most: int
    pieces: tuple[tuple[Emitter, ...], ...]
    ohm: dict[int, float]

    @property
    def counts(self) -> Counter[int]:
        """How many strings there are of each length."""
        return Counter(len(piece) for piece in self.pieces)


def series_trades(
    plan: Plan, drawer: Drawer, *, loom: Loom, circuits: Sequence[Circuit]
) -> tuple[SeriesTrade, ...]:
    """For every group of like LEDs the lengths of string side by side, its own resistors first.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply and the parts.
    loom, circuits
        What is wired, and which strings are built.
    Returns
    -------
    tuple of SeriesTrade
        Currents are those of the group alone on the supply, without the loom's resistance [A].
    Source
    ------
    One DC solve for all: `electric.network`; like strings are one string of their summed saturation currents, exactly.
    """
    ages = supply_ages(plan, drawer)
    wired = {end for lead in loom.leads for end in (lead.start, lead.end)}
    alike = like_leds(drawer, circuits, [emitter for emitter in loom.emitters if emitter.name in wired])
    if not ages or not alike:
        return ()
    bears = {id(like): most_in_series(plan, drawer, like) for like in alike}
    cases = [case for like in alike for most in range(1, min(bears[id(like)] + 1, len(like.emitters), MOST_SHOWN) + 1)
             if max((case := _case(drawer, like, most, ages[1])).counts) == most]
    solved = _solved(drawer, cases, ages)
    runs_down = plan.supply is not None and plan.supply.kind != "adapter"
    made: list[SeriesTrade] = []
    for like in alike:
        own = [(case, amps) for case, amps in zip(cases, solved, strict=True) if case.like is like]
        made += _judged(drawer, loom, own, bears=bears[id(like)], flat_v=min(age.emf_v for age in ages),
                        runs_down=runs_down)
    return tuple(made)


def _case(drawer: Drawer, like: LikeLeds, most: int, nominal: Age) -> _Case:
    """The pieces of a group with the preferred values that the aim asks for; LEAST_OHM where nothing is left."""
    pieces = tuple(cut_even(chained(like.emitters), most))
    law = law_spread(drawer.led(like.part_row).law).typical
    each_v = float(voltage_at_current(law, like.current_a))
    ohm = {}
    for count in {len(piece) for piece in pieces}:
        exact = (nominal.emf_v - count * each_v) / like.current_a
        ohm[count] = value_not_below(exact) if exact >= 1.0 else LEAST_OHM
    return _Case(like, most, pieces, ohm)


# --- the solve ----------------------------------------------------------------------------------------------------


def _solved(drawer: Drawer, cases: Sequence[_Case], ages: Sequence[Age]) -> list[dict[int, Array]]:
    """For each case and each length of string its current [A]: rows fresh, nominal, flat; columns low to high LEDs."""
    elements: list[Element] = []
    shifts: dict[str, list[float]] = {"low": [], "typical": [], "high": []}
    for number, case in enumerate(cases):
        elements.append(source(f"s{number}", f"p{number}", f"m{number}", emf_v=ages[1].emf_v, inner_ohm=1.0))
        low, high = spread_v(drawer, case.like.emitters[0], case.like.current_a)
        for length, count in sorted(case.counts.items()):
            elements.append(_many(drawer, case, number, length, count))
            for name, shift in zip(shifts, (low, 0.0, high), strict=True):
                shifts[name].append(shift)
    network = Network.of(elements)
    supplies = [
        Supply(age.name, (age.emf_v,) * len(cases), (max(age.inner_ohm, LEAST_OHM),) * len(cases)) for age in ages
    ]
    point = operating_point(network, columns_of(network, {"on": ()}, supplies=supplies, shifts_v=shifts))
    row = {element.name: at for at, element in enumerate(network.elements)}
    return [
        {length: point.element_a[row[f"c{number} {length}"]].reshape(len(ages), 3) / count
         for length, count in case.counts.items()}
        for number, case in enumerate(cases)
    ]


def _many(drawer: Drawer, case: _Case, number: int, length: int, count: int) -> Element:
    """Like strings in parallel as the one string that takes their summed current at the same voltage."""
    law = side_by_side(law_spread(drawer.led(case.like.part_row).law).typical, count)
    return string(f"c{number} {length}", f"p{number}", f"m{number}", laws=(law,) * length,
                  ohm=max(case.ohm[length], LEAST_OHM) / count)


# --- what is judged -----------------------------------------------------------------------------------------------


def _judged(
    drawer: Drawer, loom: Loom, own: Sequence[tuple[_Case, dict[int, Array]]], *, bears: int, flat_v: float,
    runs_down: bool,
) -> list[SeriesTrade]:
    rows = [_row(drawer, case, amps, bears=bears, flat_v=flat_v) for case, amps in own]
    built = _built(loom, own[0][0].like)
    best, why = _best(rows, runs_down=runs_down)
    return [_told(row, best=best, why=why, built=built) for row in rows]


def _built(loom: Loom, like: LikeLeds) -> int:
    """Length of the longest string that is built of these LEDs."""
    found = [loom.string_of(emitter.name) for emitter in like.emitters]
    return max((len(row.emitters) for row in found if row), default=1)


def _row(drawer: Drawer, case: _Case, amps: dict[int, Array], *, bears: int, flat_v: float) -> SeriesTrade:
    like, longest = case.like, max(case.counts)
    high_v = float(voltage_at_current(law_spread(drawer.led(like.part_row).law).high, like.current_a))
    flat = min(float(amps[length][2].min()) for length in amps)
    fresh = max(float(amps[length][0].max()) for length in amps)
    return SeriesTrade(
        circuit=like.circuit, part=like.part, emitters=tuple(one.name for one in like.emitters), in_series=longest,
        resistors=len(case.pieces), supply_a=sum(float(amps[n][1, 1]) * count for n, count in case.counts.items()),
        flat_share=flat / like.current_a, fresh_share=fresh / like.current_a, left_v=flat_v - longest * high_v,
        wire_mm=_wire_mm(case.pieces), bears=longest <= bears, best=False, built=False, why="",
    )


def _best(rows: Sequence[SeriesTrade], *, runs_down: bool) -> tuple[int, str]:
    """The length of string that is advised, and why."""
    alone = rows[0]
    fit = [row for row in rows if row.bears]
    if len(fit) < 2:
        return 1, "two in series would leave too little for their resistor when the supply is flat"
    if not runs_down:
        return 1, "the supply does not run down, so that one dark LED weighs more than the current saved"
    steady = [row for row in fit if row.flat_share >= KEPT_SHARE * alone.flat_share]
    worth = [row for row in steady if row.supply_a <= WORTH_SHARE * alone.supply_a]
    if not worth:
        return 1, ("a string would fade too far on the flat supply" if len(steady) == 1
                   else "a string would save less than a quarter of the current")
    least = min(row.supply_a for row in worth)
    best = next(row for row in worth if row.supply_a <= NEAR_LEAST * least)
    saved = 1 - best.supply_a / alone.supply_a
    return best.in_series, f"it saves {saved:.0%} of their current; one open LED then puts out {best.in_series}"


def _told(row: SeriesTrade, *, best: int, why: str, built: int) -> SeriesTrade:
    reason = why if row.in_series == best else "" if row.bears else "too little is left for the resistor when flat"
    return replace(row, best=row.in_series == best, built=row.in_series == built, why=reason)


# --- wire ---------------------------------------------------------------------------------------------------------


def _wire_mm(pieces: Sequence[Sequence[Emitter]]) -> float:
    """About how much wire the group takes on its part, without the way to the bay [mm].

    Shortest trees in straight lines through the first and through the last LEDs, and the links between.
    """
    heads = np.array([piece[0].spot.at_mm for piece in pieces])
    tails = np.array([piece[-1].spot.at_mm for piece in pieces])
    links = sum(float(np.hypot(*np.subtract(a.spot.at_mm, b.spot.at_mm)))
                for piece in pieces for a, b in pairwise(piece))
    ends = sum(len(piece) for piece in pieces) + len(pieces)
    return WIRE_SHARE * (_tree_mm(heads) + _tree_mm(tails) + links) + WIRE_END_MM * ends


def _tree_mm(points: Array) -> float:
    """Length of the shortest tree through points (Prim 1957)."""
    if len(points) < 2:
        return 0.0
    near = np.hypot(*(points - points[0]).T)
    near[0] = np.inf
    total = 0.0
    left = np.ones(len(points), bool)
    left[0] = False
    while left.any():
        at = int(np.where(left, near, np.inf).argmin())
        total += float(near[at])
        left[at] = False
        near = np.minimum(near, np.hypot(*(points - points[at]).T))
    return total
