"""Which LED feeds a bundle, and how many tails it may feed so that they look alike."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.geometry.capacity import HAND_MADE, equal_bundle_ratio, fibres_that_fit
from rushlight.model.design import PlacedLamp
from rushlight.model.drawer import Drawer, FibrePart, LedPart
from rushlight.model.plan import Lamp, Plan, Row
from rushlight.optics.fibre import Tail, tail_flux
from rushlight.optics.fibre_loss import Bend
from rushlight.stages.fibre_light import LEAST_BEND, USUAL_JOINT, LedJoint, launch_into, led_joint
from rushlight.stages.led_currents import least_a
from rushlight.stages.parts_law import fibre_of, fibre_part, led_current_a, most_apart
from rushlight.stages.pins import held, held_number
from rushlight.stages.sources.common import matching_leds
from rushlight.units import Range

MOST_TAILS = 19
"""More tails than this on one LED are hard to cut, dress and sleeve by hand (common practice, no source)."""

USUAL_TAIL_MM = 200.0
"""Length of tail that is reckoned with before the loom is known."""

OPEN_COST_MM = 400.0
"""Length of fibre that one more LED with tails is worth: an LED, a resistor, a sleeve, two joints (common practice)."""

LOOSEST = 0.64
"""Share of its circle that the best bundle of three fibres or more fills at the least, where it is wider than its two
widest side by side (pinned: found by packing)."""

LONE_TIMES = 2.0
"""An LED that feeds one fibre alone may be so many times farther from the least current, if it is narrower (project
rule): nothing is shared that would need the wide face."""

WIDTH_STEPS = 24
"""Widths of a mixed bundle that are looked at, from its widest fibre to the LED's face."""


@dataclass(frozen=True, slots=True)
class TailKind:
    """A tail as its LED sees it: its fibre, its end at the lamp, and the axial intensity [cd] wanted there."""

    fibre_mm: float
    tip: str
    wanted_cd: float


@dataclass(frozen=True, slots=True)
class Feed:
    """An LED for a class of tails: how many it may feed, how wide their bundle may be as made by hand, and the axial
    intensity of a usual tail of each fibre and end at 1 A.

    Usual is the geometric mean of a tail in the middle and one in the outer ring.
    """

    led: LedPart
    capacity: int
    widest_mm: float
    tail_cd_per_a: Mapping[tuple[float, str], Range]

    def light_a_for(self, kind: TailKind) -> float:
        """What a tail wants, as the current that would give it if light went with current [A]."""
        per_a = self.tail_cd_per_a[kind.fibre_mm, kind.tip].typical
        return kind.wanted_cd / per_a if per_a > 0 else math.inf

    def amps_for(self, kind: TailKind) -> float:
        """The current with which a tail gives what is wanted of it [A]."""
        light_a = self.light_a_for(kind)
        return led_current_a(self.led, light_a) if light_a < math.inf else math.inf


@dataclass(frozen=True, slots=True)
class _Ends:
    """A tail's end at the lamp, with the quarter turn into its hole (radius over width), and the joint at the other."""

    tip: str
    joint: LedJoint
    turn: float


def tail_cd_per_a(
    drawer: Drawer, led: LedPart, fibre_mm: float, *, tip: str = "polished", joint: LedJoint = USUAL_JOINT
) -> Range:
    """Axial intensity of a tail at 1 A in the bundle's middle, its ends finished so, turned into its hole."""
    return _tail_cd_per_a(led, fibre_part(drawer, fibre_mm), 0.0, _Ends(tip, joint, bend_over_width(drawer)))


def bend_over_width(drawer: Drawer) -> float:
    """The lasting bend radius that a fibre is laid with, over its width (habit `fibre_bend`)."""
    return drawer.habit("fibre_bend").low or 20.0


@lru_cache(maxsize=4096)
def _tail_cd_per_a(led: LedPart, fibre: FibrePart, offset_mm: float, ends: _Ends) -> Range:
    """Kept, because every class of tails and every number of them asks for the same few."""
    turn = Bend(max(ends.turn, LEAST_BEND) * fibre.diameter_mm, 90.0)
    tail = Tail(offset_mm=Range.exactly(offset_mm), length_mm=USUAL_TAIL_MM, bends=(turn,),
                wavelength_nm=led.dominant_nm, inlet=ends.joint.inlet, tip=ends.tip)
    return tail_flux(launch_into(led, 1.0, ends.joint), fibre_of(fibre), tail).axial_intensity_cd


def outer_offset_mm(fibre_mm: float, bundle_mm: float) -> float:
    """How far from the middle of a bundle of a width the farthest fibre lies."""
    return max(bundle_mm - fibre_mm, 0.0) / 2


def _spread(led: LedPart, fibre: FibrePart, *, bundle_mm: float, ends: _Ends) -> float:
    """Intensity of a tail in the middle over one at the rim of a bundle of a width, as made by hand."""
    middle = _tail_cd_per_a(led, fibre, 0.0, ends).typical
    outer = _tail_cd_per_a(led, fibre, outer_offset_mm(fibre.diameter_mm, bundle_mm), ends).typical
    return middle / outer if outer > 0 else math.inf


def feed_for(
    plan: Plan, drawer: Drawer, lamps: list[PlacedLamp], *, kinds: tuple[TailKind, ...], most_a: float
) -> Feed:
    """The LED that feeds these lamps with the fewest LEDs, its tails alike within the habit `equal`.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        For the modeller's own choices, and the LEDs.
    lamps : list of PlacedLamp
        Lamps of one class.
    kinds : tuple of TailKind
        Their tails.
    most_a : float
        Current that an LED may take at most [A].
    Returns
    -------
    Feed
        Of LEDs that serve with equally few pieces, the one whose current is nearest to the least; for a lone tail the
        narrowest of those within LONE_TIMES of that. Chips are left out unless the modeller names one: a bundle
        cannot be sleeved onto them.
    """
    own = insisted_led(plan, lamps[0])
    candidates = [drawer.led(own)] if own else [led for led in matching_leds(drawer, lamps[0].colour) if _round(led)]
    feeds = [
        _feed(plan, drawer, led, lamps=lamps, kinds=kinds)
        for led in candidates or matching_leds(drawer, lamps[0].colour)
    ]

    least = least_a(drawer)

    def rank(feed: Feed) -> tuple[bool, int, float, str]:
        amps = max(feed.amps_for(kind) for kind in set(kinds))
        too_bright = least**2 / amps if amps > 0 else math.inf  # below the least it gives more than is wanted
        return (amps > most_a, leds_for(kinds, feed), max(amps, too_bright), feed.led.name)

    best = min(feeds, key=rank)
    if len(lamps) == 1:
        over, pieces, current_a, _ = rank(best)
        near = [feed for feed in feeds
                if rank(feed)[:2] == (over, pieces) and rank(feed)[2] <= LONE_TIMES * current_a]
        best = min(near, key=lambda feed: (feed.led.face_mm, rank(feed)))
    most = held_tails(plan, lamps)
    if most is None:
        return best
    return replace(best, capacity=_most_tails(drawer, best.led, kinds, most), widest_mm=_widest_mm(drawer, best.led))


def leds_for(kinds: Sequence[TailKind], feed: Feed) -> int:
    """How many LEDs such tails need: by count where they are of one width, by bundles that surely fit where not."""
    widths = [kind.fibre_mm for kind in kinds]
    if len(set(widths)) == 1:
        return math.ceil(len(widths) / feed.capacity)
    return len(bundles_that_fit(widths, widest_mm=feed.widest_mm, most=feed.capacity))


def bundles_that_fit(widths_mm: Sequence[float], *, widest_mm: float, most: int) -> list[list[int]]:
    """Tails shared out to bundles that surely are no wider than is allowed: the widest first, each to the first.

    Parameters
    ----------
    widths_mm : sequence of float
        Their diameters [mm].
    widest_mm : float
        Of a bundle as made by hand [mm]; a tail that is wider by itself gets a bundle of its own.
    most : int
        Tails of one bundle.
    Returns
    -------
    list of list of int
        Numbers of the tails of each bundle, each in order.
    """
    bundles: list[list[int]] = []
    for tail in sorted(range(len(widths_mm)), key=lambda k: -widths_mm[k]):
        into = next((own for own in bundles if len(own) < most and surely_mm(
            [widths_mm[k] for k in (*own, tail)]) * HAND_MADE <= widest_mm + 1e-9), None)
        if into is None:
            bundles.append([tail])
        else:
            into.append(tail)
    return [sorted(own) for own in bundles]


def surely_mm(widths_mm: Sequence[float]) -> float:
    """A width that the best bundle of fibres of several widths does not exceed, without packing them [mm].

    Source
    ------
    Two lie side by side; more fill LOOSEST of their circle at least: the least that random mixes of two and three
    widths on sale left in the packing engine was 0.641, of one wide fibre and two that are narrower.
    """
    two = sum(sorted(widths_mm)[-2:])
    return max(two, math.sqrt(math.fsum(mm**2 for mm in widths_mm) / LOOSEST)) if len(widths_mm) > 2 else two


def held_tails(plan: Plan, lamps: list[PlacedLamp]) -> int | None:
    """How many fibres the modeller puts on one LED, if that is held fast."""
    value = held_number(plan, "fibres_per_led", *(name for lamp in lamps for name in (lamp.group, lamp.name)))
    return None if value is None else int(value)


def insisted_led(plan: Plan, lamp: PlacedLamp) -> str | None:
    """The LED that the modeller names for a lamp or its row, as its source or as a held choice."""
    return insisted_leds(plan, [lamp])[lamp.name]


def insisted_leds(plan: Plan, lamps: list[PlacedLamp]) -> dict[str, str | None]:
    """The same for many lamps, by their names."""
    written: tuple[Lamp | Row, ...] = (*plan.lamps, *plan.rows)
    sources = {entry.name: entry.source.led for entry in written if entry.source is not None}
    return {lamp.name: held(plan, "led", lamp.group, lamp.name) or sources.get(lamp.group) or None for lamp in lamps}


def _round(led: LedPart) -> bool:
    return led.lens != "chip"


def _feed(
    plan: Plan, drawer: Drawer, led: LedPart, *, lamps: list[PlacedLamp], kinds: tuple[TailKind, ...]
) -> Feed:
    """As many tails as fit and look alike within the habit `equal`."""
    alike = most_apart(drawer)
    most = _most_tails(drawer, led, kinds, held_tails(plan, lamps) or MOST_TAILS)
    joint = led_joint(plan, drawer, lamps[0].group, lamps[0].name)
    turn = bend_over_width(drawer)
    own = tuple(dict.fromkeys((fibre_part(drawer, kind.fibre_mm), _Ends(kind.tip, joint, turn)) for kind in kinds))
    if len({fibre.diameter_mm for fibre, _ in own}) == 1:
        return _even_feed(led, own, most=most, alike=alike)
    return _mixed_feed(led, own, most=most, alike=alike, face_mm=_widest_mm(drawer, led))


@lru_cache(maxsize=1024)
def _even_feed(led: LedPart, own: tuple[tuple[FibrePart, _Ends], ...], *, most: int, alike: float) -> Feed:
    """Kept, because every class of every edit asks for the same few."""
    fibre_mm = own[0][0].diameter_mm
    widths = [_equal_mm(fibre_mm, count) for count in range(1, most + 1)]
    even = [n for n, mm in enumerate(widths, 1)
            if all(_spread(led, fibre, bundle_mm=mm, ends=ends) <= alike for fibre, ends in own)]
    capacity = max(even, default=1)
    return _usual(led, own, capacity=capacity, widest_mm=widths[capacity - 1])


@lru_cache(maxsize=1024)
def _mixed_feed(
    led: LedPart, own: tuple[tuple[FibrePart, _Ends], ...], *, most: int, alike: float, face_mm: float
) -> Feed:
    """The widest bundle on the LED in which the tails of every width look alike, from the middle to the rim."""
    least = max(fibre.diameter_mm for fibre, _ in own)
    room = max(face_mm - least, 0.0)
    steps = [least + room * k / WIDTH_STEPS for k in range(WIDTH_STEPS + 1)]
    even = [mm for mm in steps if all(_spread(led, fibre, bundle_mm=mm, ends=ends) <= alike for fibre, ends in own)]
    return _usual(led, own, capacity=most, widest_mm=max(even, default=least))


def _usual(led: LedPart, own: tuple[tuple[FibrePart, _Ends], ...], *, capacity: int, widest_mm: float) -> Feed:
    usual = {}
    for fibre, ends in own:
        spread = _spread(led, fibre, bundle_mm=widest_mm, ends=ends)
        usual[fibre.diameter_mm, ends.tip] = _tail_cd_per_a(led, fibre, 0.0, ends).times(spread**-0.5)
    return Feed(led, capacity, widest_mm, usual)


def _equal_mm(fibre_mm: float, count: int) -> float:
    """Width of a bundle of equal fibres, as made by hand."""
    return equal_bundle_ratio(count) * HAND_MADE * fibre_mm if count > 1 else fibre_mm


def _most_tails(drawer: Drawer, led: LedPart, kinds: Sequence[TailKind], most: int) -> int:
    """By count alone where widths are mixed: their bundle's width says the rest."""
    widths = {kind.fibre_mm for kind in kinds}
    return most if len(widths) > 1 else min(fibres_that_fit(_widest_mm(drawer, led), *widths), most)


def _widest_mm(drawer: Drawer, led: LedPart) -> float:
    """The widest bundle that the habit allows on an LED's face."""
    return led.face_mm * (drawer.habit("bundle_led_width").high or 1.0)
