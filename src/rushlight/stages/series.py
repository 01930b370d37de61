"""Strings of single LEDs in series: which may stand in one, how many, which in fact do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rushlight.electric.led import DiodeLaw, voltage_at_current
from rushlight.model.design_loom import Circuit, Emitter, LedString
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.network import emitter_law
from rushlight.stages.parts_law import led_spread
from rushlight.stages.pins import held_number
from rushlight.stages.regulators import Chosen, drop_out_v, held_regulator
from rushlight.stages.rhythms import IN_FEED
from rushlight.stages.supplies import supply_ages

CHOICE = "leds_in_series"
"""The choice that the modeller may hold: at most so many in a string; 1 gives each its own resistor."""

MOST_IN_SERIES = 12
"""No longer strings are looked at: 12 LEDs lie over any supply that is planned but for the highest."""

ALIKE = 1.02
"""Aimed currents that differ no more than this are one current."""


@dataclass(frozen=True, slots=True)
class LikeLeds:
    """Single LEDs that could stand in series: one circuit, one part of the model, one kind, one aimed current."""

    circuit: str
    part: str
    part_row: str
    emitters: tuple[Emitter, ...]

    @property
    def current_a(self) -> float:
        """The current that each is meant to take."""
        return max(emitter.aim_current_a for emitter in self.emitters)


def like_leds(
    plan: Plan, drawer: Drawer, circuits: Sequence[Circuit], emitters: Sequence[Emitter]
) -> tuple[LikeLeds, ...]:
    """Every group of two or more single LEDs that could stand in series, in the order of their first.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        Tell what makes each rhythm and which LEDs are pre-wired.
    circuits : sequence of Circuit
        Those that are steady, and those whose rhythm a controller or a flasher makes in their feed: an LED that times
        itself cannot stand in a string.
    emitters : sequence of Emitter
        All that are wired.
    Returns
    -------
    tuple of LikeLeds
        Bare LEDs of one circuit, part, row of the drawer and aimed current.
    """
    fed = {maker.rhythm for maker in plan.rhythms if maker.by in IN_FEED} | {"steady"}
    usable = {circuit.name for circuit in circuits if circuit.rhythm in fed}
    groups: list[list[Emitter]] = []
    for emitter in emitters:
        if emitter.kind == "strip" or emitter.circuit not in usable or drawer.led(emitter.part_row).pre_wired_v:
            continue
        own = next((group for group in groups if _alike(group[0], emitter)), None)
        if own is None:
            groups.append([emitter])
        else:
            own.append(emitter)
    return tuple(LikeLeds(g[0].circuit, g[0].spot.part, g[0].part_row, tuple(g)) for g in groups if len(g) > 1)


def _alike(a: Emitter, b: Emitter) -> bool:
    same = (a.circuit, a.spot.part, a.part_row) == (b.circuit, b.spot.part, b.part_row)
    low, high = sorted((a.aim_current_a, b.aim_current_a))
    return same and high <= low * ALIKE


def most_in_series(plan: Plan, drawer: Drawer, like: LikeLeds) -> int:
    """How many of these LEDs a supply bears in one string; 1 where even two leave too little for what sets the current.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The supply; the habit `series_headroom`.
    like : LikeLeds
        The LEDs.
    Returns
    -------
    int
        LEDs of high forward voltage take at most the habit's share of the supply when it is flat; where a regulator is
        held, they leave it the voltage under which it drops out.
    Source
    ------
    Habit `series_headroom`: what is left over for the resistor keeps the current steady. A regulator needs no more
    than its drop-out, see its data sheet.
    """
    ages = supply_ages(plan, drawer)
    if not ages:
        return 1
    flat_v = min(age.emf_v for age in ages)
    own = regulator_of_like(plan, drawer, like)
    if own is None:
        for_leds_v, amps = (drawer.habit("series_headroom").high or 0.8) * flat_v, like.current_a
    else:
        for_leds_v, amps = flat_v - drop_out_v(own), own.current_a.typical
    fits = math.floor(for_leds_v / float(voltage_at_current(_high(drawer, like.emitters[0]), amps)) + 1e-9)
    return max(1, min(fits, len(like.emitters), MOST_IN_SERIES))


def regulator_of_like(plan: Plan, drawer: Drawer, like: LikeLeds) -> Chosen | None:
    """The regulators that are held for each of these LEDs, or each string of them; None where resistors are."""
    return held_regulator(plan, drawer, like.circuit, like.emitters[0].aim_current_a)


def _high(drawer: Drawer, emitter: Emitter) -> DiodeLaw:
    return led_spread(drawer.led(emitter.part_row)).high


def held_in_series(plan: Plan, like: LikeLeds) -> int | None:
    """What the modeller holds for these LEDs: for all, or for their circuit."""
    value = held_number(plan, CHOICE, "all", like.circuit)
    return None if value is None else int(value)


def cut_even(order: Sequence[Emitter], most: int) -> list[tuple[Emitter, ...]]:
    """An order of LEDs cut into as few strings as `most` allows, their lengths as even as can be."""
    count = math.ceil(len(order) / most)
    ends = [round(k * len(order) / count) for k in range(count + 1)]
    return [tuple(order[a:b]) for a, b in pairwise(ends)]


def chained(emitters: Sequence[Emitter], start_mm: tuple[float, float] | None = None) -> tuple[Emitter, ...]:
    """LEDs in the order of nearest neighbours, from the one nearest to a place on their part (or the first)."""
    left = list(emitters)
    at = start_mm or left[0].spot.at_mm
    order: list[Emitter] = []
    while left:
        near = min(left, key=lambda one: math.dist(one.spot.at_mm, at))
        left.remove(near)
        order.append(near)
        at = near.spot.at_mm
    return tuple(order)


def strings_of(lengths: Sequence[tuple[LikeLeds, int]]) -> tuple[LedString, ...]:
    """Groups of like LEDs cut into strings of two LEDs or more, at most as long as said with each group.

    Returns
    -------
    tuple of LedString
        Named after their circuit: 'A string 1', ...
    """
    made: list[LedString] = []
    for like, most in lengths:
        pieces = cut_even(chained(like.emitters), most) if most > 1 else []
        for piece in pieces:
            if len(piece) > 1:
                number = 1 + sum(row.circuit == like.circuit for row in made)
                names = tuple(emitter.name for emitter in piece)
                made.append(LedString(f"{like.circuit} string {number}", like.circuit, names))
    return tuple(made)


def string_drop_v(drawer: Drawer, emitters: Sequence[Emitter], current_a: float) -> float:
    """Forward voltages of typical LEDs in series with what is built into them, at a current [V]."""
    laws = [emitter_law(drawer, emitter) for emitter in emitters]
    diodes = sum(float(voltage_at_current(law, current_a)) for own in laws for law in own.laws)
    return diodes + sum(own.built_in_ohm for own in laws) * current_a
