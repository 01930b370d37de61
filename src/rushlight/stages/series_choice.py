"""Which LEDs are put in series: a held choice, else a rule that keeps them apart unless a string clearly pays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rushlight.model.design import PlacedLamp
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.design_power import SeriesTrade
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.parts_law import most_apart
from rushlight.stages.pins import held
from rushlight.stages.series import LikeLeds, chained, cut_even, held_in_series, like_leds, most_in_series, strings_of
from rushlight.stages.series_trade import (
    LEAST_NEEDED,
    TRIAL_EFFORT,
    Compared,
    Trial,
    compared,
    heaviest,
    trade_of,
    tried,
)
from rushlight.stages.supplies import supply_ages

KEPT_SHARE = 0.5
"""On the flat supply a string's dimmest LED keeps at least so much of what it would have by itself: a stop of light
(project proposal)."""

NEAR_LEAST = 1.1
"""Of the strings that pay the shortest is taken whose current is so near the least (project proposal)."""

ROUGH_WIRE = 1.07
"""A loom that was searched for less long may seem to take so much more wire than it does (ten made-up models:
0.98 to 1.06)."""


@dataclass(frozen=True, slots=True)
class Strung:
    """The loom with its strings, and what was weighed."""

    loom: Loom
    trades: tuple[SeriesTrade, ...]


@dataclass(frozen=True, slots=True)
class _Group:
    """Like LEDs, the lengths of string weighed with their looms, and why none may be taken, if so."""

    like: LikeLeds
    held: int | None
    rows: tuple[SeriesTrade, ...]
    trials: tuple[Trial, ...]
    barred: str
    sure: int = 1
    """The length that was laid with all care."""

    @property
    def alone(self) -> SeriesTrade:
        """Each by itself, with a resistor or a regulator of its own."""
        return self.rows[0]


def choose_strings(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, loom: Loom, circuits: tuple[Circuit, ...]
) -> Strung:
    """LEDs put in series where it is held, or where it pays and may be risked; else the loom as it is.

    Parameters
    ----------
    plan, drawer, lamps, circuits
        The checked plan, the parts, results of the stages before.
    loom : Loom
        Every LED with a lead of its own.
    Returns
    -------
    Strung
        For every group of like LEDs each LED by itself and each length of string that the flat supply bears.
    Notes
    -----
    What is built is laid and solved with all its care; what is only compared with less.

    Source
    ------
    Habits `series_headroom`, `series_saves`, `series_dark`, `series_apart` and `equal`; the constants of this module.
    """
    wired = {end for lead in loom.leads for end in (lead.start, lead.end)}
    alike = like_leds(plan, drawer, circuits, [one for one in loom.emitters if one.name in wired])
    if not alike or not supply_ages(plan, drawer):
        return Strung(loom, ())
    base = tried(plan, drawer, loom, circuits, ())
    alone = [
        trade_of(plan, drawer, circuits, like, 1, trial=base, state=heaviest(circuits, like, base.power))
        for like in alike
    ]
    groups = [
        _weighed(plan, drawer, lamps, circuits, like, base=base, alone=row, lengths=lengths)
        for like, row, lengths in zip(alike, alone, compared(plan, drawer, alone, alike), strict=True)
    ]
    taken = _needed(plan, drawer, circuits, groups, base=base)
    built = [_built(plan, drawer, group, one.most) for group, one in zip(groups, taken, strict=True)]
    groups = [_in_full(plan, drawer, circuits, group, most) for group, most in zip(groups, built, strict=True)]
    for n, group in enumerate(groups):
        if group.held is None and built[n] > 1 and _obstacle(drawer, group, _row(group, built[n])):
            built[n], taken[n] = 1, _Taken(1)
    strings = strings_of([(group.like, most) for group, most in zip(groups, built, strict=True)])
    ready = next((t for group in groups for t in group.trials if t.loom.strings == strings), None)
    done = ready or tried(plan, drawer, loom, circuits, strings)
    told = [
        row for group, best, most in zip(groups, taken, built, strict=True)
        for row in _told(drawer, group, best=best, built=most)
    ]
    return Strung(done.loom, tuple(told))


# --- one group ----------------------------------------------------------------------------------------------------


def _weighed(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], circuits: tuple[Circuit, ...], like: LikeLeds, *,
    base: Trial, alone: SeriesTrade, lengths: Compared,
) -> _Group:
    trials = tuple(
        tried(plan, drawer, base.loom, circuits, strings_of([(like, most)]), effort=TRIAL_EFFORT)
        for most in lengths.lengths
    )
    rows = tuple(
        trade_of(plan, drawer, circuits, like, most, trial=trial, state=alone.state)
        for most, trial in zip(lengths.lengths, trials, strict=True)
    )
    barred = lengths.why_none or _barred(plan, lamps, like)
    return _Group(like, held_in_series(plan, like), (alone, *rows), (base, *trials), barred)


def _in_full(
    plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], group: _Group, built: int
) -> _Group:
    """A group with the length that is built laid with all care."""
    strings = strings_of([(group.like, built)])
    longest = max((len(row.emitters) for row in strings), default=1)
    if longest == 1:
        return group
    trial = tried(plan, drawer, group.trials[0].loom, circuits, strings)
    row = trade_of(plan, drawer, circuits, group.like, longest, trial=trial, state=group.alone.state)
    return replace(
        group, sure=longest, rows=tuple(row if one.in_series == longest else one for one in group.rows),
        trials=tuple(trial if one.in_series == longest else old
                     for one, old in zip(group.rows, group.trials, strict=True)),
    )


def _barred(plan: Plan, lamps: tuple[PlacedLamp, ...], like: LikeLeds) -> str:
    """Why the LEDs of a group are kept apart whatever a string would save; nothing where it need not."""
    names = {name for one in like.emitters for name in one.lamps}
    own = [lamp for lamp in lamps if lamp.name in names]
    pinned = [*names, *(lamp.group for lamp in own), *(one.name for one in like.emitters), like.circuit]
    if plan.supply is None or plan.supply.kind == "usb power bank":
        return "a power bank may fall asleep where less is drawn"
    if plan.supply.kind != "cells":
        return "the supply does not run down, so that one dark LED weighs more than the current saved"
    if any(lamp.rule for lamp in own):
        return "they are signal lights by rule: one fault may darken one alone"
    if held(plan, "resistor_ohm", *pinned) is not None:
        return "a resistor is held for them"
    return ""


def _obstacle(drawer: Drawer, group: _Group, row: SeriesTrade) -> str:
    """Why one length of string is not to be risked; nothing where it is."""
    dark, apart = drawer.habit("series_dark").high or 0.34, drawer.habit("series_apart").high or 150.0
    if group.barred:
        return group.barred
    if unsteady := _unsteady(drawer, group, row):
        return unsteady
    if row.dark_share > dark:
        return f"one open joint would darken {row.dark_share:.0%} of the LEDs of a state; {dark:.0%} is the most"
    if (link := _longest_link_mm(group.like, row.in_series)) > apart:
        return f"neighbours lie up to {link:.0f} mm apart; {apart:.0f} mm is the most in a string"
    if row.wire_mm > group.alone.wire_mm * (1 + 1e-9 if row.in_series == group.sure else ROUGH_WIRE):
        return f"it takes {(row.wire_mm - group.alone.wire_mm) / 1000:.2f} m more wire"
    return ""


def _unsteady(drawer: Drawer, group: _Group, row: SeriesTrade) -> str:
    """Whether its light would sink or part too far on the flat supply, at the worst of LEDs and resistors."""
    even = max(most_apart(drawer), group.alone.match)
    if row.flat_share < KEPT_SHARE * group.alone.flat_share:
        return (f"on the flat supply the dimmest could sink to {row.flat_share:.0%} of its light, where alone it "
                f"keeps {group.alone.flat_share:.0%}")
    if row.match > even:
        return f"on the flat supply the brightest could be {row.match:.1f} times the dimmest; {even:.1f} is the most"
    return ""


def _longest_link_mm(like: LikeLeds, most: int) -> float:
    pieces = cut_even(chained(like.emitters), most)
    return max(math.dist(a.spot.at_mm, b.spot.at_mm) for piece in pieces for a, b in pairwise(piece))


def _saved(group: _Group, row: SeriesTrade) -> float:
    """Share of the state's mean current that a string spares."""
    return 1 - row.mean_a / group.alone.mean_a if group.alone.mean_a > 0 else 0.0


def _open(drawer: Drawer, group: _Group) -> list[SeriesTrade]:
    """The lengths of string that may be risked."""
    return [row for row in group.rows[1:] if not _obstacle(drawer, group, row)]


def _shortest(rows: Sequence[SeriesTrade]) -> int:
    """Of strings that pay the shortest whose state takes about the least."""
    least = min(row.supply_a for row in rows)
    return next(row.in_series for row in rows if row.supply_a <= NEAR_LEAST * least)


def _best(drawer: Drawer, group: _Group, least: float) -> int:
    """The length that spares the state at least this share of its current; 1 where none does."""
    pays = [row for row in _open(drawer, group) if _saved(group, row) >= least]
    return _shortest(pays) if pays else 1


def _least_saved(drawer: Drawer) -> float:
    return drawer.habit("series_saves").low or 0.25


def _built(plan: Plan, drawer: Drawer, group: _Group, best: int) -> int:
    return best if group.held is None else min(group.held, most_in_series(plan, drawer, group.like))


# --- the asked run time -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Taken:
    """The length of string that the rule takes for a group, and what for where it is not for its own saving."""

    most: int
    cause: str = ""


def _needed(
    plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], groups: Sequence[_Group], *, base: Trial
) -> list[_Taken]:
    """What the rule takes: strings that pay alone, then those that pay together, then those that the time asks for."""
    now = [_Taken(_best(drawer, group, _least_saved(drawer))) for group in groups]
    small = {n: best for n, group in enumerate(groups) if now[n].most == 1 and group.held is None
             and (best := _best(drawer, group, LEAST_NEEDED)) > 1}
    for state in {groups[n].alone.state for n in small}:
        own = [n for n in small if groups[n].alone.state == state]
        saved = sum(_saved(groups[n], _row(groups[n], small[n])) for n in own)
        if saved >= _least_saved(drawer) and len(own) > 1:
            for n in own:
                now[n] = _Taken(small.pop(n), f"{len(own)} groups in series together save {saved:.0%} of what "
                                              f"'{state}' takes")
    return _in_time(plan, drawer, circuits, groups, base=base, now=now, small=small)


def _in_time(
    plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], groups: Sequence[_Group], *, base: Trial,
    now: list[_Taken], small: dict[int, int],
) -> list[_Taken]:
    """More groups in series, the one that spares most first, as long as a state of theirs runs out too early."""
    assert plan.supply is not None
    asked = plan.supply.run_h
    for n in sorted(small, key=lambda n: -_saved(groups[n], _row(groups[n], small[n]))):
        state = groups[n].alone.state
        if _runs_h(base, state) >= asked:
            continue
        built = [(group.like, _built(plan, drawer, group, one.most)) for group, one in zip(groups, now, strict=True)]
        trial = tried(plan, drawer, base.loom, circuits, strings_of(built), effort=TRIAL_EFFORT)
        if _runs_h(trial, state) < asked:
            now[n] = _Taken(small[n], f"'{state}' is to run {_hours(asked)}")
    return now


def _row(group: _Group, most: int) -> SeriesTrade:
    return next(row for row in group.rows if row.in_series == most)


def _runs_h(trial: Trial, state: str) -> float:
    return next(row.run_time_h.typical for row in trial.power.states if row.state == state)


# --- what is said -------------------------------------------------------------------------------------------------


def _told(drawer: Drawer, group: _Group, *, best: _Taken, built: int) -> list[SeriesTrade]:
    longest = max(len(piece) for piece in cut_even(group.like.emitters, built)) if built > 1 else 1
    return [
        replace(row, best=row.in_series == best.most, built=row.in_series == longest,
                offered=best.most == 1 and _offered(drawer, group) == row.in_series,
                why=_why(drawer, group, row, best=best))
        for row in group.rows
    ]


def _offered(drawer: Drawer, group: _Group) -> int:
    """The length that would pay if the modeller takes a risk that the rule does not; 0 where there is none."""
    if group.barred or group.held is not None:
        return 0
    pays = [row for row in group.rows[1:] if _saved(group, row) >= _least_saved(drawer)
            and not _unsteady(drawer, group, row)]
    return _shortest(pays) if pays else 0


def _why(drawer: Drawer, group: _Group, row: SeriesTrade, *, best: _Taken) -> str:
    """Why a length is taken, or why it is not."""
    if row.in_series == best.most:
        return _why_alone(drawer, group) if best.most == 1 else _why_string(group, row, best.cause)
    if row.in_series == 1:
        return ""
    return _obstacle(drawer, group, row) or _little(drawer, group, row)


def _why_string(group: _Group, row: SeriesTrade, cause: str) -> str:
    runs = f"{_hours(row.run_h)} instead of {_hours(group.alone.run_h)}"
    wire = (group.alone.wire_mm - row.wire_mm) / 1000
    head = (f"{cause}, and with this one alone it runs {runs}" if cause else
            f"it saves {_saved(group, row):.0%} of what '{row.state}' takes, which then runs {runs}")
    return f"{head}, with {wire:.2f} m less wire; one open joint then darkens {row.in_series} LEDs"


def _why_alone(drawer: Drawer, group: _Group) -> str:
    if group.barred:
        return group.barred
    risked = _open(drawer, group)
    if not risked:
        return _obstacle(drawer, group, group.rows[1])
    return _little(drawer, group, max(risked, key=lambda row: _saved(group, row)))


def _little(drawer: Drawer, group: _Group, row: SeriesTrade) -> str:
    saved = max(_saved(group, row), 0.0)
    if saved >= _least_saved(drawer):
        return "a shorter one saves nearly as much" if group.rows[1] is not row else "a longer one saves more"
    return (f"a string would save {saved:.0%} of what '{row.state}' takes; under {_least_saved(drawer):.0%} it is "
            "taken only with others that make it up, or where the asked run time needs it")


def _hours(value: float) -> str:
    return f"{value:.2g} h" if value < 10 else f"{value:.0f} h"
