"""The described evening: the solved loom at every age of its supply, walked through state by state."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.cell import Ages
from rushlight.electric.cell import capacity_mah as charge_mah
from rushlight.electric.evening import MOST_EVENINGS, Draining, Spell, Spent, draining, first_under, reached_h, spend
from rushlight.electric.supply import bank_range
from rushlight.model.design_evening import Evening, EveningMark, EveningPoint, Faded
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.parts_law import most_apart
from rushlight.stages.supplies import bank_awake, bank_hours, battery_of
from rushlight.units import Range

Array = NDArray[np.float64]

HALF_SHARE = 0.5
OUT_SHARE = 0.05
"""A lamp is as good as out below this share of its fresh light (project proposal: over four stops)."""

RUNS_DOWN = ("cells", "usb power bank")

ENDLESS_AH = 1e9
"""Charge of what does not run down."""

POINTS_A_SPELL = 24
MOST_SHOWN_SPELLS = 60
"""Spells of the whole life that are shown moment by moment; of more, the ends of some that lie evenly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drain:
    """The loom solved at every age of its supply.

    amps: supply current of each state [A], mean: over its rhythms, both of shape (states, ages); lit: for each emitter
    meant to be lit in a state its light at each age, warm as it then is, as `emitter_light_a` counts it, all segments
    together [A]; light: that of all of them together over that of a fresh supply, shape (states, ages) [-]; lit_ends:
    as `lit`, of LEDs that are at their best early and late.
    """

    states: tuple[str, ...]
    at: Ages
    amps: Array
    mean: Array
    lit: tuple[Mapping[str, Array], ...]
    light: Array
    lit_ends: tuple[tuple[Mapping[str, Array], ...], ...] = ()


def stages_of(plan: Plan) -> tuple[tuple[str, float], ...]:
    """State and hours in order: the plan's evening, else its states with their minutes."""
    if plan.evening:
        return tuple((row.state, row.minutes / 60) for row in plan.evening)
    return tuple((state.name, state.minutes / 60) for state in plan.states if state.minutes)


def evening_of(
    plan: Plan, drawer: Drawer, emitters: tuple[Emitter, ...], drains: tuple[Drain, ...]
) -> Evening | None:
    """What the described evening does to the supply and the lamps.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    emitters : tuple of Emitter
        What is wired.
    drains : tuple of Drain
        The solved loom with typical LEDs; with LEDs of low and of high voltage too, where the range is to hold them.
    Returns
    -------
    Evening or None
        None without a supply, or where no evening is described or nothing is lit in it.
    Notes
    -----
    A range is that of the charge and of LEDs that all lie to one side, in voltage and in how their light goes with
    current; for lamps of a row that part, one of low voltage
    beside one of high.
    """
    stages, drain = stages_of(plan), drains[0]
    if plan.supply is None or not stages or not any(drain.lit[drain.states.index(name)] for name, _ in stages):
        return None
    order = [(drain.states.index(name), hours) for name, hours in stages]
    lives = tuple(_life(plan, drawer, one, order) for one in drains)
    typical = lives[0]
    return Evening(
        stages=stages, points=_points(drain, typical.made, typical.spent[1], len(stages)),
        whole=_whole(drain, typical.made, typical.spent[1]), ends_h=_ends_h(lives),
        marks=tuple(_marks(plan, drawer, emitters, lives=lives, shown=order)),
        faded=tuple(_faded(plan, emitters, drain, typical.spent[1], len(stages))),
    )


@dataclass(frozen=True, slots=True)
class _Life:
    """The supply's life with LEDs of one kind, and with little, typical and much charge."""

    drain: Drain
    made: Draining
    spread: Range
    spent: tuple[Spent, ...]

    @property
    def times(self) -> tuple[float, float, float]:
        """Charge over the typical one."""
        return (self.spread.low, self.spread.typical, self.spread.high)

    def first_h(self, number: int, from_used: float) -> list[float]:
        """When a share used is first passed in a state, with little, typical and much charge."""
        thresholds = [from_used if state == number else math.inf for state in range(len(self.drain.states))]
        return [reached_h(one, self.made, thresholds, times=k) for one, k in zip(self.spent, self.times, strict=True)]


def _life(plan: Plan, drawer: Drawer, drain: Drain, order: list[tuple[int, float]]) -> _Life:
    assert plan.supply is not None
    made, spread = _draining(plan, drawer, drain)
    most = MOST_EVENINGS if plan.supply.kind in RUNS_DOWN else 1
    times = (spread.low, spread.typical, spread.high)
    return _Life(drain, made, spread, tuple(spend(made, order, times=k, most_evenings=most) for k in times))


def _ends_h(lives: tuple[_Life, ...]) -> Range:
    ends = [one.ends_h for life in lives for one in life.spent]
    return Range(min(ends), lives[0].spent[1].ends_h, max(ends))


def _draining(plan: Plan, drawer: Drawer, drain: Drain) -> tuple[Draining, Range]:
    """How each state drains the supply, and how the charge of one make lies about another's."""
    supply, used = plan.supply, drain.at.used_fraction
    assert supply is not None
    volts = drain.at.emf_v - drain.amps * drain.at.inner_ohm
    mean = np.maximum(drain.mean, 1e-6)
    if supply.kind == "cells":
        battery = battery_of(drawer, supply)
        most = 3 * battery.cell.rate.most_a * supply.in_parallel
        charge = charge_mah(battery, np.minimum(mean, most)) / 1000
        made = draining(used, mean, volts, charge, cut_off_v=battery.cell.cut_off_v * battery.series)
        spread = battery.cell.time_spread
        return _shown(made, drain.amps), spread
    if supply.kind == "usb power bank":
        lasts = [[bank_hours(drawer, supply, float(a)) for a in row] for row in mean]
        one = lasts[0][0]
        charge = np.array([[hours.typical for hours in row] for row in lasts]) * mean
        spread = Range(one.low / one.typical, 1.0, one.high / one.typical)
    else:
        charge, spread = np.full(mean.shape, ENDLESS_AH), Range.exactly(1.0)
    return _shown(draining(used, mean, volts, charge, cut_off_v=0.0), drain.amps), spread


def _shown(made: Draining, amps: Array) -> Draining:
    """The mean drains the supply; what a meter shows is the current while lit."""
    return Draining(made.used, made.hours, made.volts, amps, made.end)


# --- the curve ----------------------------------------------------------------------------------------------------


def _points(drain: Drain, made: Draining, spent: Spent, spells: int) -> tuple[EveningPoint, ...]:
    """The first evening, moment by moment."""
    return tuple(point for spell in spent.spells[:spells] for point in _spell(drain, made, spell, POINTS_A_SPELL))


def _whole(drain: Drain, made: Draining, spent: Spent) -> tuple[EveningPoint, ...]:
    """The supply's life; of a long one the ends of each spell."""
    if not math.isfinite(spent.ends_h):
        return ()
    if len(spent.spells) <= MOST_SHOWN_SPELLS:
        return tuple(point for spell in spent.spells for point in _spell(drain, made, spell, POINTS_A_SPELL))
    places = np.unique(np.linspace(0, len(spent.spells) - 1, 4 * MOST_SHOWN_SPELLS).astype(int))
    return tuple(point for n in places for point in _spell(drain, made, spent.spells[n], 2))


def _spell(drain: Drain, made: Draining, spell: Spell, count: int) -> list[EveningPoint]:
    shares = np.linspace(spell.from_used, spell.to_used, count)
    curve = np.interp(shares, made.used, made.hours[spell.state])
    wide = curve[-1] - curve[0]
    along = (curve - curve[0]) / wide if wide > 0 else np.linspace(0.0, 1.0, count)
    hours = spell.from_h + along * (spell.to_h - spell.from_h)
    volts = np.interp(shares, made.used, made.volts[spell.state])
    amps = np.interp(shares, made.used, made.amps[spell.state])
    name, (every, least) = drain.states[spell.state], _light_left(drain, spell.state)
    light, faded = (np.interp(shares, drain.at.used_fraction, one) for one in (every, least))
    return [EveningPoint(hour_h=float(h), state=name, terminal_v=float(v), current_a=float(a),
                         light_share=float(all_of), least_share=float(one))
            for h, v, a, all_of, one in zip(hours, volts, amps, light, faded, strict=True)]


def _light_left(drain: Drain, state: int) -> tuple[Array, Array]:
    """Of the light of a fresh supply what all lamps of a state together and its most faded one give at each age."""
    lit = drain.lit[state]
    least, _ = _least_and_most(lit, tuple(lit))
    return (drain.light[state], least) if len(least) else (np.ones_like(drain.light[state]),) * 2


# --- what happens on the way --------------------------------------------------------------------------------------


def _marks(
    plan: Plan, drawer: Drawer, emitters: tuple[Emitter, ...], *, lives: tuple[_Life, ...],
    shown: list[tuple[int, float]],
) -> list[EveningMark]:
    """Everything that happens before the supply is spent, the earliest first; of each evening and kind one."""
    states = list(dict.fromkeys(number for number, _ in shown))
    hours = sum(lasts for _, lasts in shown)
    groups, even = _groups(plan, emitters), most_apart(drawer)
    first = _first(mark for number in states for mark in _state_marks(lives, number, groups, even))
    found = [*_together(first, hours), *_sleeping(plan, drawer, lives[0], states), *_spent(lives)]
    return sorted(found, key=lambda mark: (mark.at_h.typical, mark.kind, mark.lamps))


def _first(marks: Iterable[EveningMark]) -> list[EveningMark]:
    """Of each lamp and kind the first, whatever the state."""
    kept: dict[tuple[str, tuple[str, ...]], EveningMark] = {}
    for mark in marks:
        if math.isfinite(mark.at_h.typical):
            old = kept.get((mark.kind, mark.lamps))
            if old is None or mark.at_h.typical < old.at_h.typical:
                kept[mark.kind, mark.lamps] = mark
    return list(kept.values())


def _together(marks: list[EveningMark], hours: float) -> list[EveningMark]:
    """What happens to several lamps in one evening and state is one mark, at the first of them."""
    kept: dict[tuple[str, str, int], list[EveningMark]] = {}
    for mark in sorted(marks, key=lambda mark: mark.at_h.typical):
        kept.setdefault((mark.kind, mark.state, int(mark.at_h.typical / hours)), []).append(mark)
    return [replace(own[0], lamps=tuple(dict.fromkeys(name for mark in own for name in mark.lamps)))
            for own in kept.values()]


def _state_marks(
    lives: tuple[_Life, ...], number: int, groups: dict[str, tuple[str, ...]], even: float
) -> Iterator[EveningMark]:
    """Half, out and uneven in one state, for each row and single lamp."""
    state = lives[0].drain.states[number]
    looks = [(life, lit[number]) for life in lives for lit in (life.drain.lit, *life.drain.lit_ends)]
    for group, members in groups.items():
        ends = [_least_and_most(lit, members) for _, lit in looks]
        if not all(len(least) for least, _ in ends):
            continue
        brightest = np.max([most for _, most in ends], axis=0)
        for kind, level in (("half", HALF_SHARE), ("out", OUT_SHARE), ("uneven", 1 / even)):
            times = []
            for (life, lit), (least, most) in zip(looks, ends, strict=True):
                beside = most if lit is looks[0][1] else brightest
                share = least / np.maximum(beside, 1e-12) if kind == "uneven" else least
                times.append(life.first_h(number, first_under(life.drain.at.used_fraction, share, level)))
            every = [hour for row in times for hour in row]
            if math.isfinite(times[0][1]):
                yield EveningMark(kind=kind, state=state, lamps=(group,),
                                  at_h=Range(min(every), times[0][1], max(every)))


def _least_and_most(lit: Mapping[str, Array], members: tuple[str, ...]) -> tuple[Array, Array]:
    """Of the lamps of a group that a state lights, the least and the greatest share of its fresh light, at each age."""
    own = [lit[name] / max(float(lit[name][0]), 1e-12) for name in members if name in lit]
    return (np.min(own, axis=0), np.max(own, axis=0)) if own else (np.array([]), np.array([]))


def _sleeping(plan: Plan, drawer: Drawer, life: _Life, states: list[int]) -> list[EveningMark]:
    """States in which a power bank may take the lamps for nothing at all."""
    if plan.supply is None or plan.supply.kind != "usb power bank":
        return []
    wait_h = bank_range("time_out", "s").typical / 3600
    found = []
    for number in states:
        if bank_awake(drawer, float(life.drain.amps[number][0])).verdict != "awake":
            first = next((s for s in life.spent[1].spells if s.state == number and s.to_h - s.from_h > wait_h), None)
            if first is not None:
                found.append(EveningMark(kind="sleeps", state=life.drain.states[number], lamps=(),
                                         at_h=Range.exactly(first.from_h + wait_h)))
    return found


def _spent(lives: tuple[_Life, ...]) -> list[EveningMark]:
    typical = lives[0].spent[1]
    if not math.isfinite(typical.ends_h) or not typical.spells:
        return []
    state = lives[0].drain.states[typical.spells[-1].state]
    return [EveningMark(kind="spent", state=state, lamps=(), at_h=_ends_h(lives))]


def group_of(rows: Iterable[str], lamp: str) -> str:
    """The row that a lamp belongs to, by name; the lamp itself where it is in none."""
    return next((row for row in rows if lamp.startswith(f"{row} ")), lamp)


def _groups(plan: Plan, emitters: tuple[Emitter, ...]) -> dict[str, tuple[str, ...]]:
    """Emitters by the row or the lamp that they light."""
    found: dict[str, list[str]] = {}
    rows = [row.name for row in plan.rows]
    for emitter in emitters:
        for lamp in emitter.lamps:
            names = found.setdefault(group_of(rows, lamp), [])
            if emitter.name not in names:
                names.append(emitter.name)
    return {group: tuple(names) for group, names in found.items()}


def _faded(
    plan: Plan, emitters: tuple[Emitter, ...], drain: Drain, spent: Spent, spells: int
) -> Iterator[Faded]:
    """Each row and lamp that the evening lights, the one that fades most first where the supply runs down."""
    groups = _groups(plan, emitters)
    kept = _last_lit(groups, drain, spent.spells[:spells])
    last = _last_lit(groups, drain, spent.spells) if math.isfinite(spent.ends_h) else kept
    for group in sorted(kept, key=lambda name: (last[name], name)):
        yield Faded(group=group, kept_share=kept[group], last_share=last[group])


def _last_lit(groups: Mapping[str, tuple[str, ...]], drain: Drain, spells: Sequence[Spell]) -> dict[str, float]:
    """For each group its least share of its fresh light at the end of the last of some spells that lights it."""
    found: dict[str, float] = {}
    waiting = [{group for group, members in groups.items() if any(name in lit for name in members)}
               for lit in drain.lit]
    for spell in reversed(spells):
        for group in waiting[spell.state] - found.keys():
            least, _ = _least_and_most(drain.lit[spell.state], groups[group])
            found[group] = float(np.interp(spell.to_used, drain.at.used_fraction, least))
        if all(row <= found.keys() for row in waiting):
            break
    return found
