"""Which fibre lamps may share an LED: alike ones, and those of other widths where that saves one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from rushlight.model.design import FibreClass, PlacedLamp, Source
from rushlight.model.design_loom import Circuit
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.bundle_choice import Feed, TailKind, feed_for, insisted_leds, leds_for
from rushlight.stages.fibre_light import LedJoint, led_joint
from rushlight.stages.led_currents import DERATE, MOST_A, least_a, pinned_a, sensible_a
from rushlight.stages.pins import held

EVEN_CLASS = 1.5
"""Lamps whose wanted intensities differ by no more than this may share one LED (habit `equal`)."""

Shared = tuple[str, str, LedJoint, str]
"""What an LED's lamps always share: circuit, colour with the LED insisted on, joint, held bundle."""


@dataclass(frozen=True, slots=True)
class Lit:
    """The fibre lamps of a plan: what is made by what, and how bright each is wanted."""

    plan: Plan
    drawer: Drawer
    sources: Mapping[str, Source]
    wanted_cd: Mapping[str, float]

    def kind(self, lamp: PlacedLamp) -> TailKind:
        """A lamp's tail as its LED sees it."""
        source = self.sources[lamp.name]
        return TailKind(source.fibre_mm or 0.0, source.tip, self.wanted_cd[lamp.name])


@dataclass(frozen=True, slots=True)
class _Group:
    """Lamps that one kind of LED may feed."""

    shared: Shared
    lamps: tuple[PlacedLamp, ...]


def fibre_classes(lit: Lit, lamps: list[PlacedLamp], circuits: tuple[Circuit, ...]) -> tuple[FibreClass, ...]:
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
    tuple of FibreClass
        Lamps of one circuit, colour and joint, of one width, wanted alike within EVEN_CLASS. Then lamps of other
        widths join where that takes fewer LEDs and one current suits them all within EVEN_CLASS, each width's tails
        alike from the middle to the rim within the habit `equal`. A bundle that the modeller holds stays together.
    Source
    ------
    The intensity of a tail goes with its core's area at one luminance (conservation of radiance), see `optics.fibre`.
    """
    groups = _joined(lit, _alike_groups(lit, lamps, circuits))
    return tuple(_class(lit, group, number) for number, group in enumerate(groups, 1))


def _alike_groups(lit: Lit, lamps: list[PlacedLamp], circuits: tuple[Circuit, ...]) -> list[_Group]:
    """Same circuit, colour, joint, fibre and end, wanted alike; or a bundle that is held."""
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    insisted = insisted_leds(lit.plan, lamps)
    heaps: dict[tuple[Shared, float, str], list[PlacedLamp]] = {}
    for lamp in lamps:
        source = lit.sources[lamp.name]
        if source.kind == "fibre":
            bundle = held(lit.plan, "bundle", lamp.group, lamp.name) or ""
            shared = (circuit_of[lamp.name], lamp.colour.name + (insisted[lamp.name] or ""),
                      led_joint(lit.plan, lit.drawer, lamp.group, lamp.name), bundle)
            own = (0.0, "") if bundle else (source.fibre_mm or 0.0, source.tip)
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


HELD = ("current_ma", "fibres_per_led", "illuminator_part")
"""Choices that are held for a whole LED: lamps for which they differ do not join."""


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
        both = _Group(best[1].shared, (*best[1].lamps, *best[2].lamps))
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
    feed = _feed(lit, both)
    if not _suits_all(lit, both, feed):
        return 0
    apart = sum(leds_for(_kinds(lit, group), _feed(lit, group)) for group in (one, other))
    return max(apart - leds_for(_kinds(lit, both), feed), 0)


def _suits_all(lit: Lit, group: _Group, feed: Feed) -> bool:
    """Whether the currents that the tails want, none below the least, lie within EVEN_CLASS and what LEDs bear."""
    wants = [max(feed.amps_for(kind), least_a(lit.drawer)) for kind in set(_kinds(lit, group))]
    return max(wants) <= min(min(wants) * EVEN_CLASS, max(feed.led.max_ma / 1000, MOST_A) * DERATE)


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
        current_a=pinned_a(lit.plan, current, circuit, *_names(group)),
    )
