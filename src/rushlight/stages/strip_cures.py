"""What would make the windows of a strip even, and like each other: every change tried on the plan, and lit anew.

`optics` gives the light, `stages.strip_ways` the changes; here the least change of each kind that does is searched, and
where none does alone, the best pair.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.drawer import Drawer
from rushlight.stages.parts_law import most_apart
from rushlight.stages.strip_looks import Look, looks_of
from rushlight.stages.strip_place import Laid, Place, Room, place_of, room_of
from rushlight.stages.strip_ways import ALIKE_KINDS, KINDS, Ladder, ladders
from rushlight.stages.strips import LOOKING, least_step
from rushlight.stages.window_panes import Evenness

MATTERS = 1.25
"""A post that makes the pattern seen by less than a quarter more is not told (project proposal)."""

COARSER = 2
"""The search is made on a grid of so many times the step; what it finds is lit anew on the full one."""

SURE = 0.97
"""On the coarse grid a change must come so far under the aim."""

LESSER = 2
"""So many steps less are tried on the full grid."""

ROUNDS = 2
"""A change that a window outside the focus does not bear is searched once more with that window."""

LIGHT_WORK = 5
"""Where only changes with more work than this do alone, pairs of those with less are tried too (project rule)."""

MOST_WORK = 9

HELPS = 0.97
"""A pair of which neither change alone takes the pattern below this share is not tried (project rule)."""

PAIRED = 3
"""So many steps of the first kind of a pair are joined with every step of the second."""

AS_NOW = 1.05
"""A change may leave what it is not made for worse by so much, where that speaks already (project rule)."""

MOST_PAIRS = 2
"""So many pairs that do are enough; one where a single change does too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One change, or a pair, as it was tried.

    `kinds` are move, turn, shorten, run on, gap, dim, walls, sheet, strip, post; `steps` the strip after each of them,
    the last as it was lit. `times` is that of the window that is seen most (against posts: of those with posts),
    `ratio` the brightest over the darkest within that window, `apart` the mean of the brightest window over that of
    the dimmest, `share` the least light that a window keeps, over now; `over` how far what it is made for is over its
    aim (1 and more speaks), `reaches` whether it does.
    """

    kinds: tuple[str, ...]
    work: int
    steps: tuple[Laid, ...]
    times: float
    ratio: float
    apart: float
    share: float
    over: float
    reaches: bool

    @property
    def laid(self) -> Laid:
        """The strip as it was tried."""
        return self.steps[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class StripCures:
    """What was tried for one strip: each kind of change alone, then pairs where none does alone; least work first.

    `goal` is spots, posts or alike; `now` is the strip as it is with its `times`, `ratio`, `apart` and `over`; `worst`
    are the numbers of the windows by which it was judged.
    """

    strip: str
    goal: str
    room: Room
    now: Laid
    times: float
    ratio: float
    apart: float
    over: float
    worst: tuple[int, ...]
    tried: tuple[Trial, ...]

    @property
    def reaching(self) -> tuple[Trial, ...]:
        """Those that do, least work first; those that leave windows unlike each other last."""
        most = most_apart(self.room.drawer)
        return tuple(sorted((row for row in self.tried if row.reaches), key=lambda row: (row.apart > most, row.work)))

    @property
    def best(self) -> Trial | None:
        """The one that leaves least, where any leaves less than now."""
        return min((row for row in self.tried if row.over < self.over), key=lambda row: row.over, default=None)


def uneven_strips(design: Design) -> tuple[tuple[str, str], ...]:
    """Strips whose windows are seen to be uneven by their LEDs (spots) or the shadow of a post (posts), or unlike each
    other (alike)."""
    found = [(row.strip, "spots") for row in design.light.strips if row.times_spots >= LOOKING]
    found += [(row.strip, "posts") for row in design.light.strips if post_shows(row)]
    most = most_apart(design.drawer)
    found += [(row.name, "alike") for row in design.light.alike if row.kind == "strip" and row.ratio > most]
    return tuple(dict.fromkeys(found))


def post_shows(row: StripLight) -> bool:
    """Whether ordinary looking sees the shadow of a window's posts over what its LEDs leave."""
    return row.times_posts >= LOOKING and row.times_posts > MATTERS * row.times_spots


def strip_cures(design: Design, strip: str, *, goal: str = "spots") -> StripCures:
    """What was tried against the uneven windows of a strip, or those that are unlike each other.

    Parameters
    ----------
    design : Design
        The whole design.
    strip : str
        Name of an emitter that is a strip.
    goal : str
        spots: what the LEDs alone leave is to go; posts: the shadows of posts; alike: that windows differ.
    Returns
    -------
    StripCures
        Every number from the light of the changed strip over the whole of each window.
    Source
    ------
    `stages.window_panes`; which changes are tried, in which order, is a project rule.
    """
    return _searched(place_of(design, design.loom.emitter(strip)), design.drawer, strip, goal)


def gap_passed_over_mm(design: Design, strip: str, least_mm: float) -> float | None:
    """The least gap, of at least so much, from which ordinary looking passes over a strip's LEDs; None where none does.

    Parameters
    ----------
    design : Design
        The whole design.
    strip : str
        Name of an emitter that is a strip.
    least_mm : float
        Where the search begins [mm].
    Returns
    -------
    float or None
        In every window of the strip, within the depth that there is.
    Source
    ------
    As `strip_cures`.
    """
    return _passed_over_mm(place_of(design, design.loom.emitter(strip)), design.drawer, round(least_mm, 6))


@lru_cache(maxsize=256)
def _passed_over_mm(place: Place, drawer: Drawer, least_mm: float) -> float | None:
    search = _Search(room_of(place, drawer), "spots")
    begun = replace(place.now, run=replace(place.now.run, gap_mm=max(least_mm, place.now.run.gap_mm)))
    if search.room.fits(begun) and search.over(search.looks(begun)) < 1.0:
        return begun.run.gap_mm
    back = next(iter(ladders(search.room, begun, kinds=("gap",))), None)
    trial = search.best_of(back) if back is not None else None
    return trial.laid.run.gap_mm if trial is not None and trial.reaches and trial.laid.run.gap_mm > least_mm else None


@lru_cache(maxsize=256)
def _searched(place: Place, drawer: Drawer, strip: str, goal: str) -> StripCures:
    """Kept, because findings, sheet and book ask for the same, and most edits leave a strip as it is."""
    search = _Search(room_of(place, drawer), goal)
    now = search.looks(place.now)
    tried: list[Trial] = []
    if search.over(now) >= 1.0:
        tried = search.singles()
        if not any(row.reaches and row.work <= LIGHT_WORK for row in tried):
            tried += search.pairs(tried, most_work=LIGHT_WORK if any(row.reaches for row in tried) else MOST_WORK)
    return StripCures(strip=strip, goal=goal, room=search.room, now=place.now, times=search.times(now),
                      ratio=search.ratio(now), apart=apart(now), over=search.over(now), worst=search.worst(now),
                      tried=tuple(tried))


def apart(looks: Sequence[Look]) -> float:
    """The mean luminance of the brightest window over that of the dimmest."""
    lit = [row.luminance_cd_m2 for row in looks]
    return max(lit) / max(min(lit), 1e-9 * max(lit), 1e-30)


class _Search:
    """One strip's search: the room, what it is made for, and what was lit so far."""

    def __init__(self, room: Room, goal: str) -> None:
        self.room, self.goal, self.place = room, goal, room.place
        self.posts, self.shaded = goal == "posts", goal != "spots"
        self.posted = {number for number, row in enumerate(room.place.now.openings) if row.posts_mm}
        self.kinds = {"posts": KINDS, "spots": KINDS[1:], "alike": ALIKE_KINDS}[goal]
        self.most = most_apart(room.drawer)
        self.seen: dict[tuple[Laid, tuple[int, ...], int], tuple[Look, ...]] = {}
        self.now = self.looks(room.place.now)
        self.focus = self._first_focus()

    @cached_property
    def ladders_now(self) -> tuple[Ladder, ...]:
        """Every kind of change to the strip as it is."""
        return ladders(self.room, self.place.now, kinds=self.kinds)

    def looks(self, laid: Laid, windows: tuple[int, ...] | None = None, coarser: int = 1) -> tuple[Look, ...]:
        """The windows as they look, each thing lit once."""
        wanted = tuple(range(len(laid.openings))) if windows is None else windows
        key = (laid, wanted, coarser)
        if key not in self.seen:
            self.seen[key] = looks_of(self.room, laid, wanted, posts=self.shaded, coarser=coarser)
        return self.seen[key]

    def times(self, looks: Sequence[Look]) -> float:
        """Of the window that is seen most."""
        return self._most_seen(looks, posts=self.posts).times

    def ratio(self, looks: Sequence[Look]) -> float:
        """The brightest over the darkest within the same window."""
        return self._most_seen(looks, posts=self.posts).ratio

    def _most_seen(self, looks: Sequence[Look], *, posts: bool) -> Evenness:
        """Against posts among the windows that have any: other windows' LEDs have a finding of their own."""
        told = [row for row in looks if row.window in self.posted] if self.posts else []
        return max((row.with_posts if posts else row.alone for row in told or looks), key=lambda row: row.times)

    def over(self, looks: Sequence[Look]) -> float:
        """How far over the aim: at 1 and more the finding still speaks."""
        if self.goal == "alike":
            return math.log(apart(looks)) / math.log(self.most)
        if self.goal == "spots":
            return self.times(looks) / LOOKING
        return max(min(row.with_posts.times / LOOKING, row.with_posts.times / (MATTERS * max(row.alone.times, 1e-9)))
                   for row in looks)

    def harms(self, looks: Sequence[Look]) -> bool:
        """Whether another finding would speak where it does not now, or louder: windows unlike each other where they
        are to be made even, uneven ones where they are to be made alike; a shadow that is gone because the LEDs show
        all the more is no cure either."""
        after, now = (self._most_seen(row, posts=False).times for row in (looks, self.now))
        uneven = after >= max(LOOKING, AS_NOW * now)
        if self.goal == "alike":
            return uneven
        return apart(looks) > max(self.most, AS_NOW * apart(self.now)) or (self.posts and uneven)

    def _first_focus(self) -> tuple[int, ...]:
        count = len(self.now)
        boxes = [np.mean(row.shape_mm, axis=0) for row in self.place.now.openings]
        first, last = (np.array(at) for at in (self.place.now.run.along_mm[0], self.place.now.run.along_mm[-1]))
        ends = [min(range(count), key=lambda number: float(np.linalg.norm(boxes[number] - at))) for at in (first, last)]
        return tuple(sorted({*self.worst(self.now), *ends}))

    def worst(self, looks: Sequence[Look]) -> tuple[int, ...]:
        """The windows by which it is judged: the least even one, or the brightest and the dimmest."""
        numbers = range(len(looks))
        if self.goal == "alike":
            return tuple(find(numbers, key=lambda number: looks[number].luminance_cd_m2) for find in (max, min))
        return (max(numbers, key=lambda number: self.over([looks[number]])),)

    # --- one kind ----------------------------------------------------------------------------------------------------

    def singles(self) -> list[Trial]:
        """The best of each kind."""
        found: dict[str, Trial] = {}
        for ladder in self.ladders_now:
            trial = self.best_of(ladder)
            if trial is not None and _better(trial, found.get(ladder.kind)):
                found[ladder.kind] = trial
        return sorted(found.values(), key=lambda row: row.work)

    def best_of(self, ladder: Ladder, before: Trial | None = None) -> Trial | None:
        """The least step that does, else the one that leaves least, lit on the full grid in every window."""
        trial = None
        for _ in range(ROUNDS):
            count = self._climbed(ladder)
            laid = ladder.step(count) if count else None
            if laid is None:
                return None
            rough = self.over(self.looks(laid, self.focus, COARSER))
            if before is not None and rough >= SURE:
                return self._roughly(ladder, laid, before)
            trial = self._lit(ladder, laid, before)
            if trial.reaches or rough >= SURE:
                return self._lesser(ladder, count, trial, before)
            worst = self.worst(self.looks(laid))
            if set(worst) <= set(self.focus):
                return trial
            self.focus = tuple(sorted({*self.focus, *worst}))
        return trial

    def _lesser(self, ladder: Ladder, count: int, trial: Trial, before: Trial | None) -> Trial:
        """A step or two less, where the coarse grid asked for too much."""
        for less in range(count - 1, max(count - 1 - LESSER, 0), -1):
            laid = ladder.step(less) if trial.reaches else None
            other = self._lit(ladder, laid, before) if laid is not None else trial
            if not other.reaches or laid is None:
                break
            trial = other
        return trial

    def _climbed(self, ladder: Ladder) -> int:
        """The least step that does on the coarse grid, else the one that leaves least; 0 where none fits."""
        last = _last_fitting(ladder)
        rough: dict[int, float] = {}

        def over(count: int) -> float:
            if count not in rough:
                laid = ladder.step(count)
                rough[count] = np.inf if laid is None else self._over_or_harm(laid)
            return rough[count]

        found = least_step(last, lambda count: over(count) < SURE)
        if found is not None:
            return found
        lit = [count for count in rough if np.isfinite(rough[count])]
        best = min(lit, key=lambda count: rough[count], default=None)
        return 0 if best is None else best

    def _over_or_harm(self, laid: Laid) -> float:
        """On the coarse grid; what brings the other finding does not do."""
        looks = self.looks(laid, self.focus, COARSER)
        over = self.over(looks)
        return max(over, 1.0) if self.harms(looks) else over

    def _roughly(self, ladder: Ladder, laid: Laid, before: Trial | None) -> Trial:
        """On the coarse grid alone: enough to see that it does not do."""
        looks = self.looks(laid, self.focus, COARSER)
        return Trial(
            kinds=(*(before.kinds if before else ()), ladder.kind), work=ladder.work + (before.work if before else 0),
            steps=(*(before.steps if before else ()), laid), times=self.times(looks), ratio=self.ratio(looks),
            apart=apart(looks), share=0.0, over=self.over(looks), reaches=False,
        )

    def _lit(self, ladder: Ladder, laid: Laid, before: Trial | None) -> Trial:
        return self._lit_again(self._roughly(ladder, laid, before))

    # --- pairs -------------------------------------------------------------------------------------------------------

    def pairs(self, singles: Sequence[Trial], *, most_work: int) -> list[Trial]:
        """The pairs that do with the least work; else the one that leaves least."""
        own = {ladder.kind: ladder for ladder in self.ladders_now}
        kinds = [(first, second) for first in own for second in own if own[first].work < own[second].work <= most_work]
        found: list[Trial] = []
        for first, second in sorted(kinds, key=lambda pair: own[pair[0]].work + own[pair[1]].work):
            if all(row.over > HELPS * self.over(self.now) for row in singles if row.kinds[0] in (first, second)):
                continue
            best: Trial | None = None
            for begun in self._begun(own[first], singles):
                for ladder in ladders(self.room, begun.laid, kinds=(second,)):
                    trial = self.best_of(ladder, begun)
                    if trial is not None and _better(trial, best):
                        best = trial
                if best is not None and best.reaches:
                    break
            if best is not None:
                found.append(best)
            if sum(row.reaches for row in found) >= (1 if any(row.reaches for row in singles) else MOST_PAIRS):
                break
        reaching = [row for row in found if row.reaches]
        return reaching or [self._lit_again(row) for row in sorted(found, key=lambda row: row.over)[:1]]

    def _lit_again(self, row: Trial) -> Trial:
        """The same on the full grid, in every window."""
        full = self.looks(row.laid)
        return replace(row, times=self.times(full), ratio=self.ratio(full), apart=apart(full), share=self._share(full),
                       over=self.over(full), reaches=self.over(full) < 1.0 and not self.harms(full))

    def _share(self, full: Sequence[Look]) -> float:
        return min(after.luminance_cd_m2 / max(look.luminance_cd_m2, 1e-9)
                   for after, look in zip(full, self.now, strict=True))

    def _begun(self, ladder: Ladder, singles: Sequence[Trial]) -> Iterable[Trial]:
        """The best step of the first kind alone, its last step and one half way."""
        alone = next((row for row in singles if row.kinds == (ladder.kind,)), None)
        last = _last_fitting(ladder)
        laid = [ladder.step(count) for count in sorted({last, (last + 1) // 2}) if count]
        made = [*([alone.laid] if alone else []), *(row for row in laid if row is not None)]
        return [self._roughly(ladder, row, None) for row in dict.fromkeys(made[:PAIRED])]


def _better(one: Trial, other: Trial | None) -> bool:
    """Does rather than does not; then the less work, then the less seen."""
    if other is None or one.reaches != other.reaches:
        return other is None or one.reaches
    return one.work < other.work if one.reaches and one.work != other.work else one.over < other.over


def _last_fitting(ladder: Ladder) -> int:
    """The last step that fits; a ladder of growing lengths fits up to some step."""
    if ladder.step(ladder.steps) is not None or ladder.kind not in ("gap", "sheet"):
        return ladder.steps
    return (least_step(ladder.steps, lambda count: ladder.step(count) is None) or 1) - 1
