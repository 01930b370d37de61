"""A supply that runs down over a described evening: states one after the other, again and again until it is spent."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange

Array = NDArray[np.float64]

LONGEST_H = 10_000.0
"""Beyond this a supply counts as lasting: no shelf life is modelled."""

MOST_EVENINGS = 5_000


@dataclass(frozen=True, slots=True)
class Draining:
    """How each state drains one supply, by the share of its charge that is used.

    used: shares, rising from 0 to 1, shape (ages,). hours: running time of a state from fresh to each share [h]; volts:
    terminal voltage [V]; amps: current while lit [A]; each of shape (states, ages). end: the share at which each
    state ends the supply, shape (states,).
    """

    used: Array
    hours: Array
    volts: Array
    amps: Array
    end: Array


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch of time in one state: from and to in hours of running, and the shares used at both ends."""

    state: int
    from_h: float
    to_h: float
    from_used: float
    to_used: float


@dataclass(frozen=True, slots=True)
class Spent:
    """All spells until the supply is spent; `ends_h` is infinite, and the spells those of one evening, if it lasts."""

    spells: tuple[Spell, ...]
    ends_h: float


def draining(used: Array, amps: Array, volts: Array, charge_ah: Array, *, cut_off_v: float) -> Draining:
    """How states drain cells.

    Parameters
    ----------
    used : array
        Shares of the charge used [-], rising from 0 to 1, shape (ages,).
    amps, volts : array
        Mean current [A], above 0, and terminal voltage [V] of each state at each age, shape (states, ages).
    charge_ah : array
        Charge that the cells deliver at that current [Ah], same shape.
    cut_off_v : float
        Terminal voltage below which the cells are spent [V].
    Returns
    -------
    Draining
        Hours by the trapezium over the ages, as `electric.cell.discharge` reckons them.
    Raises
    ------
    OutOfRange
        If the shapes do not fit or the shares do not run from 0 to 1.
    Source
    ------
    Charge balance: dt = Q(I) / I ds over the share used s.
    """
    if used[0] != 0.0 or used[-1] != 1.0 or np.any(np.diff(used) <= 0):
        raise OutOfRange("used", used.tolist(), "shares that rise from 0 to 1")
    if not amps.shape == volts.shape == charge_ah.shape == (len(amps), len(used)):
        raise OutOfRange("shape of amps", amps.shape, f"(states, {len(used)}), as of volts and charge")
    per_share = charge_ah / np.maximum(amps, 1e-6)
    step = 0.5 * (per_share[:, 1:] + per_share[:, :-1]) * np.diff(used)
    hours = np.concatenate([np.zeros((len(amps), 1)), np.cumsum(step, axis=1)], axis=1)
    end = np.array([min(first_under(used, row, cut_off_v), 1.0) for row in volts])
    return Draining(used, hours, volts, amps, end)


def first_under(used: Array, values: Array, level: float) -> float:
    """The share used at which values first fall under a level, straight between ages; infinite if they never do."""
    under = np.flatnonzero(values < level)
    if not len(under):
        return math.inf
    first = int(under[0])
    if first == 0:
        return 0.0
    before, after = float(values[first - 1]), float(values[first])
    share = (before - level) / (before - after)
    return float(used[first - 1] + share * (used[first] - used[first - 1]))


def spend(
    drain: Draining, evening: Sequence[tuple[int, float]], *, times: float = 1.0, most_evenings: int = MOST_EVENINGS
) -> Spent:
    """Run the evening again and again until the supply is spent.

    Parameters
    ----------
    drain : Draining
        What each state takes.
    evening : sequence of (int, float)
        State and how long it is shown [h], above 0, one or more, in order.
    times : float
        How often as much charge the supply holds as typical.
    most_evenings : int
        After so many, or LONGEST_H, it counts as lasting.
    Returns
    -------
    Spent
        Spells in order.
    Raises
    ------
    OutOfRange
        If the evening is empty or a stretch is not above 0.
    Source
    ------
    Each state's hours over the share used are a rising curve; a spell moves along the curve of its own state.
    """
    if not evening or any(not hours > 0 for _, hours in evening) or not times > 0:
        raise OutOfRange("evening", list(evening), "states with hours above 0")
    hours = drain.hours * times
    spells: list[Spell] = []
    now_h, used = 0.0, 0.0
    for _ in range(most_evenings):
        if now_h >= LONGEST_H:
            break
        for state, lasts in evening:
            if used >= drain.end[state]:
                return Spent(tuple(spells), now_h)
            start = float(np.interp(used, drain.used, hours[state]))
            most = float(np.interp(drain.end[state], drain.used, hours[state])) - start
            took = min(lasts, most)
            after = float(np.interp(start + took, hours[state], drain.used)) if took < most else float(drain.end[state])
            spells.append(Spell(state, now_h, now_h + took, used, after))
            now_h, used = now_h + took, after
            if took < lasts:
                return Spent(tuple(spells), now_h)
    return Spent(tuple(spells[: len(evening)]), math.inf)


def reached_h(spent: Spent, drain: Draining, thresholds: Sequence[float], *, times: float = 1.0) -> float:
    """When, in hours of running, a share used is first reached in a state for which it counts.

    Parameters
    ----------
    spent, drain, times
        What `spend` gave, and what it was given.
    thresholds : sequence of float
        For each state the share used from which on something holds; infinite where it never does.
    Returns
    -------
    float
        Hours [h]; infinite if it is never reached.
    """
    for spell in spent.spells:
        least = thresholds[spell.state]
        if least <= spell.from_used:
            return spell.from_h
        if least <= spell.to_used:
            curve = drain.hours[spell.state] * times
            gone = np.interp(least, drain.used, curve) - np.interp(spell.from_used, drain.used, curve)
            return float(min(spell.from_h + gone, spell.to_h))
    return math.inf
