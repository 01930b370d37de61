"""Which fibre lamps may share an LED: alike ones, and those of other widths where that saves one."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from rushlight.model.design import FibreClass, PlacedLamp, Source
from rushlight.model.design_loom import Circuit
from rushlight.model.drawer import Drawer, FibrePart
from rushlight.model.plan import Plan
from rushlight.stages.bundle_choice import Feed, TailKind, feed_for, insisted_leds, leds_for
from rushlight.stages.fibre_light import LedJoint, led_joint
from rushlight.stages.led_currents import DERATE, MOST_A, least_a, pinned_a, sensible_a
from rushlight.stages.parts_law import led_light_a
from rushlight.stages.pins import held
from rushlight.stages.source_choice import SIZE_PLAY
from rushlight.stages.sources.fibre import USUAL_MM, of_width

EVEN_CLASS = 1.5
"""Lamps whose wanted intensities differ by no more than this may share one LED (habit `equal`)."""

UNKNOWN_PLAY = 2.0
"""The same beside the usual fibre, where nobody knows how large the lamp is (project rule)."""

MOST_WIDENED_MM = 1.0
"""No wider fibre is taken to save an LED: it would bend to 20 mm and more (habit `fibre_bend`)."""

MOST_WIDENED = 12
"""Groups of a plan that are given another fibre at most."""

HELD = ("current_ma", "fibres_per_led", "illuminator_part")
"""Choices that are held for a whole LED: lamps for which they differ do not share it."""

Shared = tuple[str, str, LedJoint, str]
"""What an LED's lamps always share: circuit, colour with the LED insisted on, joint, held bundle."""


@dataclass(frozen=True, slots=True)
class Lit:
    """The fibre lamps of a plan: what is made by what, and how bright each is wanted."""

    plan: Plan
    drawer: Drawer
    sources: Mapping[str, Source]
    wanted_cd: Mapping[str, float]
    lamps: tuple[PlacedLamp, ...]
    wants: Callable[[Mapping[str, Source]], Mapping[str, float]]
    """The wanted intensities [cd] with other sources: a wider lamp may be wanted brighter."""

    def kind(self, lamp: PlacedLamp) -> TailKind:
        """A lamp's tail as its LED sees it."""
        source = self.sources[lamp.name]
        return TailKind(source.fibre_mm or 0.0, source.tip, self.wanted_cd[lamp.name])


@dataclass(frozen=True, slots=True)
class _Group:
    """Lamps that one kind of LED may feed; how many LEDs fewer that takes where unlike ones were put together."""

    shared: Shared
    lamps: tuple[PlacedLamp, ...]
    saved: int = 0


@dataclass(frozen=True, slots=True)
class Classed:
    """The classes, and the sources of lamps whose fibre was chosen anew so that they share an LED, by lamp."""

    classes: tuple[FibreClass, ...]
    changed: Mapping[str, Source]


def fibre_classes(lit: Lit, lamps: list[PlacedLamp], circuits: tuple[Circuit, ...]) -> Classed:
    """Fibre lamps that may share an LED, and the LED.

    Parameters
    ----------
    lit : Lit
        Plan, parts, sources and wanted intensities.
    lamps : list of PlacedLamp
        Lamps that are lit.
    circuits : tuple of Circuit
        Lamps of one circuit are switched together.
    Returns
    -------
    Classed
        Lamps of one circuit, colour and joint, of one width, wanted alike within EVEN_CLASS. Then lamps of other
        widths join where that takes fewer LEDs and one current suits them all within EVEN_CLASS, each width's tails
        alike from the middle to the rim within the habit `equal`; where no one asks for a width, another fibre of
        nearly the lamp's size is taken if that saves an LED. A bundle that the modeller holds stays together.
    Source
    ------
    The intensity of a tail goes with its core's area at one luminance (conservation of radiance), see `optics.fibre`.
    """
    groups = _joined(lit, _alike_groups(lit, lamps, circuits))
    groups, lit, changed = _widened(lit, groups)
    return Classed(tuple(_class(lit, group, number) for number, group in enumerate(groups, 1)), changed)


def _alike_groups(lit: Lit, lamps: list[PlacedLamp], circuits: tuple[Circuit, ...]) -> list[_Group]:
    """Same circuit, colour, joint, fibre, end and held choices, wanted alike; or a bundle that is held."""
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    insisted = insisted_leds(lit.plan, lamps)
    heaps: dict[tuple[Shared, float, str, tuple[str | None, ...]], list[PlacedLamp]] = {}
    for lamp in lamps:
        source = lit.sources[lamp.name]
        if source.kind == "fibre":
            bundle = held(lit.plan, "bundle", lamp.group, lamp.name) or ""
            shared = (circuit_of[lamp.name], lamp.colour.name + (insisted[lamp.name] or ""),
                      led_joint(lit.plan, lit.drawer, lamp.group, lamp.name), bundle)
            # Held for one row, it is not held for the other rows that would share its LED.
            fast = tuple(held(lit.plan, choice, lamp.group, lamp.name) for choice in HELD)
            own = (0.0, "", ()) if bundle else (source.fibre_mm or 0.0, source.tip, fast)
            heaps.setdefault((shared, *own), []).append(lamp)
    return [
        _Group(shared, group) for (shared, *_), heap in heaps.items()
        for group in ([tuple(heap)] if shared[3] else _alike(heap, lit.wanted_cd))
    ]


def _alike(lamps: list[PlacedLamp], wanted_cd: Mapping[str, float]) -> list[tuple[PlacedLamp, ...]]:
    """Cut a heap where the wanted intensity rises by more than EVEN_CLASS over the group's least."""
    groups: list[list[PlacedLamp]] = []
    for lamp in sorted(lamps, key=lambda lamp: wanted_cd[lamp.name]):
        least = wanted_cd[groups[-1][0].name] if groups else 0.0
        if groups and wanted_cd[lamp.name] <= least * EVEN_CLASS:
            groups[-1].append(lamp)
        else:
            groups.append([lamp])
    return [_in_order(lamps, group) for group in groups]


def _in_order(lamps: list[PlacedLamp], group: list[PlacedLamp]) -> tuple[PlacedLamp, ...]:
    names = {lamp.name for lamp in group}
    return tuple(lamp for lamp in lamps if lamp.name in names)


# --- widths that share --------------------------------------------------------------------------------------------


def _joined(lit: Lit, groups: list[_Group]) -> list[_Group]:
    """Groups put together while that takes fewer LEDs, what saves most first."""
    known: dict[tuple[int, int], int] = {}

    def saved(first: _Group, second: _Group) -> int:
        if (id(first), id(second)) not in known:
            known[id(first), id(second)] = _saved(lit, first, second)
        return known[id(first), id(second)]

    made = list(groups)  # kept, so that every id stays its own
    while True:
        trials = [(saved(a, b), a, b) for a, b in combinations(groups, 2) if _may_join(lit, a, b)]
        if not trials or not (best := max(trials, key=lambda trial: trial[0]))[0]:
            return groups
        both = _Group(best[1].shared, (*best[1].lamps, *best[2].lamps), best[0] + best[1].saved + best[2].saved)
        made.append(both)
        groups = [both if group is best[1] else group for group in groups if group is not best[2]]


def _may_join(lit: Lit, one: _Group, other: _Group) -> bool:
    """Whether an LED could feed both: they differ in width, end or brightness alone, and no bundle is held."""
    if one.shared != other.shared or one.shared[3]:
        return False
    return not lit.plan.pinned or all(
        held(lit.plan, choice, *_names(one)) == held(lit.plan, choice, *_names(other)) for choice in HELD
    )


def _names(group: _Group) -> list[str]:
    return [name for lamp in group.lamps for name in (lamp.group, lamp.name)]


def _saved(lit: Lit, one: _Group, other: _Group) -> int:
    """LEDs fewer; 0 where one current does not suit all."""
    both = _Group(one.shared, (*one.lamps, *other.lamps))
    feed, apart = _feed(lit, both), [(_kinds(lit, group), _feed(lit, group)) for group in (one, other)]
    if not _suits_all(lit, both, feed) or _over_more(lit, feed, apart):
        return 0
    return max(sum(leds_for(kinds, own) for kinds, own in apart) - leds_for(_kinds(lit, both), feed), 0)


def _suits_all(lit: Lit, group: _Group, feed: Feed) -> bool:
    """Whether what the tails want, none below the least current, lies within EVEN_CLASS and what LEDs bear."""
    kinds = _kinds(lit, group)
    bears_a = max(feed.led.max_ma / 1000, MOST_A) * DERATE
    return _current_a(lit, feed, kinds) <= bears_a and _apart(lit, feed, kinds) <= EVEN_CLASS


def _over_more(lit: Lit, feed: Feed, apart: list[tuple[tuple[TailKind, ...], Feed]]) -> bool:
    """Whether a tail would come out farther over what is wanted of it on the shared LED than on one of its own kind,
    and more than EVEN_CLASS: the least current holds lamps up that are wanted dimmer."""
    shared_a = _current_a(lit, feed, [kind for kinds, _ in apart for kind in kinds])
    return any(
        _over(feed, kind, shared_a) > max(EVEN_CLASS, _over(own, kind, _current_a(lit, own, kinds))) * (1 + 1e-9)
        for kinds, own in apart for kind in set(kinds) if own.light_a_for(kind) > 0 and feed.light_a_for(kind) > 0
    )


def _over(feed: Feed, kind: TailKind, current_a: float) -> float:
    """How many times what is wanted of it a tail gives at a current."""
    return led_light_a(feed.led, current_a).typical / feed.light_a_for(kind)


def _apart(lit: Lit, feed: Feed, kinds: Sequence[TailKind]) -> float:
    """How many times the light that is wanted least, none below that of the least current, the one wanted most is."""
    least = led_light_a(feed.led, least_a(lit.drawer)).typical
    wants = [max(feed.light_a_for(kind), least) for kind in set(kinds)]
    return max(wants) / min(wants)


def _current_a(lit: Lit, feed: Feed, kinds: Sequence[TailKind]) -> float:
    """The current that gives each tail what is wanted of it, and no less than LEDs take."""
    return max(least_a(lit.drawer), *(feed.amps_for(kind) for kind in kinds))


# --- another width ------------------------------------------------------------------------------------------------


def _widened(lit: Lit, groups: list[_Group]) -> tuple[list[_Group], Lit, dict[str, Source]]:
    """Groups that share an LED once one of them takes another fibre: what saves most first, at the least change."""
    changed: dict[str, Source] = {}
    for _ in range(MOST_WIDENED):
        best = max(_trials(lit, groups), key=lambda trial: trial.rank, default=None)
        if best is None:
            break
        both = _Group(best.other.shared, (*best.other.lamps, *best.group.lamps),
                      best.saved + best.other.saved + best.group.saved)
        groups = [both if group is best.other else group for group in groups if group is not best.group]
        changed.update({lamp.name: best.lit.sources[lamp.name] for lamp in best.group.lamps})
        lit = best.lit
    return groups, lit, changed


@dataclass(frozen=True, slots=True)
class _Trial:
    group: _Group
    other: _Group
    saved: int
    change: float
    lit: Lit

    @property
    def rank(self) -> tuple[int, float]:
        return self.saved, -self.change


def _trials(lit: Lit, groups: list[_Group]) -> list[_Trial]:
    """Each group with each other fibre that may make its lamps, beside each other group of the same kind."""
    found: list[_Trial] = []
    for group in groups:
        others = [other for other in groups if other is not group and _may_join(lit, other, group)]
        for fibre_mm in _other_widths(lit, group) if others else ():
            trial = _with_width(lit, group, fibre_mm)
            if trial is not None:
                change = abs(math.log(fibre_mm / (lit.sources[group.lamps[0].name].fibre_mm or fibre_mm)))
                found += [_Trial(group, other, saved, change, trial) for other in others
                          if (saved := _saved(trial, other, group))]
    return found


def _other_widths(lit: Lit, group: _Group) -> list[float]:
    """Fibres of nearly the size of all of a group's lamps, none of them asked for by the modeller; of whole rows."""
    sources = [lit.sources[lamp.name] for lamp in group.lamps]
    if any(source.insisted for source in sources) or len({source.fibre_mm for source in sources}) > 1:
        return []
    names = {lamp.group for lamp in group.lamps}
    own = {lamp.name for lamp in group.lamps}
    if any(lamp.group in names and lamp.name not in own for lamp in lit.lamps):
        return []
    now = sources[0].fibre_mm
    return [row.diameter_mm for row in lit.drawer.fibres
            if row.diameter_mm != now and all(_suits_size(lamp, row, now or USUAL_MM) for lamp in group.lamps)]


def _suits_size(lamp: PlacedLamp, fibre: FibrePart, now_mm: float) -> bool:
    """Near to the lamp's size; of a lamp of unknown size to the usual fibre's. A wider one still bends in a model."""
    wanted, play = (lamp.model_mm, SIZE_PLAY) if lamp.model_mm is not None else (USUAL_MM, UNKNOWN_PLAY)
    near = max(fibre.core_mm / wanted, wanted / fibre.core_mm) <= play
    return near and (fibre.diameter_mm < now_mm or fibre.diameter_mm <= MOST_WIDENED_MM)


def _with_width(lit: Lit, group: _Group, fibre_mm: float) -> Lit | None:
    """As it would be lit then; None where others hang on the size of these lamps."""
    own = {lamp.name: of_width(lit.plan, lit.drawer, lit.sources[lamp.name], fibre_mm) for lamp in group.lamps}
    sources = {**lit.sources, **own}
    wanted = lit.wants(sources)
    if any(wanted[name] != cd for name, cd in lit.wanted_cd.items() if name not in own):
        return None
    return replace(lit, sources=sources, wanted_cd=wanted)


# --- classes ------------------------------------------------------------------------------------------------------


def _kinds(lit: Lit, group: _Group) -> tuple[TailKind, ...]:
    return tuple(lit.kind(lamp) for lamp in group.lamps)


def _feed(lit: Lit, group: _Group) -> Feed:
    return feed_for(lit.plan, lit.drawer, list(group.lamps), kinds=_kinds(lit, group), most_a=MOST_A * DERATE)


def _class(lit: Lit, group: _Group, number: int) -> FibreClass:
    feed, kinds, (circuit, *_, bundle) = _feed(lit, group), _kinds(lit, group), group.shared
    current = sensible_a(lit.drawer, feed.led, max(feed.amps_for(kind) for kind in kinds))
    return FibreClass(
        name=f"class {number}", lamps=tuple(lamp.name for lamp in group.lamps),
        fibres_mm=tuple(kind.fibre_mm for kind in kinds), tips=tuple(kind.tip for kind in kinds), led=feed.led.name,
        capacity=feed.capacity, widest_mm=feed.widest_mm, circuit=circuit, bundle=bundle,
        current_a=pinned_a(lit.plan, current, circuit, *_names(group)), why=_why(lit, group, feed),
    )


def _why(lit: Lit, group: _Group, feed: Feed) -> str:
    """Why unlike lamps share an LED, in numbers; nothing where they are alike."""
    if group.shared[3]:
        return f"you hold the bundle '{group.shared[3]}'"
    if not group.saved:
        return ""
    names = ", ".join(f"'{name}'" for name in dict.fromkeys(lamp.group for lamp in group.lamps))
    times = _apart(lit, feed, _kinds(lit, group))
    return (f"one LED feeds {names} with one current that suits all within {times:.2g} times, "
            f"{group.saved} LED{'s' if group.saved > 1 else ''} fewer")
