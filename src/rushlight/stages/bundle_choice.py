"""Which LED feeds a bundle, and how many tails it may feed so that they look alike."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.geometry.capacity import HAND_MADE, equal_bundle_ratio, fibres_that_fit
from rushlight.model.design import PlacedLamp
from rushlight.model.drawer import Drawer, FibrePart, LedPart
from rushlight.model.plan import Lamp, Plan, Row
from rushlight.optics.fibre import Tail, tail_flux
from rushlight.stages.fibre_light import USUAL_JOINT, LedJoint, launch_into, led_joint
from rushlight.stages.parts_law import fibre_of, fibre_part
from rushlight.stages.pins import held, held_number
from rushlight.stages.sources.common import matching_leds
from rushlight.units import Range

MOST_TAILS = 19
"""More tails than this on one LED are hard to cut, dress and sleeve by hand (common practice, no source)."""

USUAL_TAIL_MM = 200.0
"""Length of tail that is reckoned with before the loom is known."""


@dataclass(frozen=True, slots=True)
class Feed:
    """An LED for a class of tails: how many it may feed, and the axial intensity of a usual tail at 1 A.

    Usual is the geometric mean of a tail in the middle and one in the outer ring.
    """

    led: LedPart
    capacity: int
    tail_cd_per_a: Range


@dataclass(frozen=True, slots=True)
class _Ends:
    """A tail's end at the lamp, and the joint at the other."""

    tip: str
    joint: LedJoint


def tail_cd_per_a(
    drawer: Drawer, led: LedPart, fibre_mm: float, *, tip: str = "polished", joint: LedJoint = USUAL_JOINT
) -> Range:
    """Axial intensity of a straight tail at 1 A in the bundle's middle, its ends finished so."""
    return _tail_cd_per_a(led, fibre_part(drawer, fibre_mm), 0.0, _Ends(tip, joint))


@lru_cache(maxsize=4096)
def _tail_cd_per_a(led: LedPart, fibre: FibrePart, offset_mm: float, ends: _Ends) -> Range:
    """Kept, because every class of tails and every number of them asks for the same few."""
    tail = Tail(offset_mm=offset_mm, length_mm=USUAL_TAIL_MM, wavelength_nm=led.dominant_nm, inlet=ends.joint.inlet,
                tip=ends.tip)
    return tail_flux(launch_into(led, 1.0, ends.joint), fibre_of(fibre), tail).axial_intensity_cd


def outer_offset_mm(fibre_mm: float, count: int) -> float:
    """Distance of the outer ring of a hand-made bundle from its middle."""
    return (equal_bundle_ratio(count) * HAND_MADE - 1) * fibre_mm / 2 if count > 1 else 0.0


def _spread(led: LedPart, fibre: FibrePart, fibre_mm: float, *, count: int, ends: _Ends) -> float:
    """Intensity of a tail in the middle over one in the outer ring of a bundle of so many fibres."""
    middle = _tail_cd_per_a(led, fibre, 0.0, ends).typical
    outer = _tail_cd_per_a(led, fibre, outer_offset_mm(fibre_mm, count), ends).typical
    return middle / outer if outer > 0 else math.inf


def feed_for(
    plan: Plan, drawer: Drawer, lamps: list[PlacedLamp], *, fibre_mm: float, target_cd: float, most_a: float,
    tip: str = "polished",
) -> Feed:
    """The LED that feeds these lamps with the fewest LEDs, its tails alike within the habit `equal`.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        For the modeller's own choices, and the LEDs.
    lamps : list of PlacedLamp
        Lamps of one class.
    fibre_mm, target_cd : float
        Their fibre [mm], and the brightest intensity wanted of them [cd].
    most_a : float
        Current that an LED may take at most [A].
    tip : str
        How their ends at the lamps are finished.
    Returns
    -------
    Feed
        Of LEDs that serve with equally few pieces, the one that is bright enough at the least current. Chips are
        left out unless the modeller names one: a bundle cannot be sleeved onto them.
    """
    own = insisted_led(plan, lamps[0])
    candidates = [drawer.led(own)] if own else [led for led in matching_leds(drawer, lamps[0].colour) if _round(led)]
    feeds = [
        _feed(plan, drawer, led, lamps=lamps, fibre_mm=fibre_mm, tip=tip)
        for led in candidates or matching_leds(drawer, lamps[0].colour)
    ]

    def rank(feed: Feed) -> tuple[bool, int, float, str]:
        amps = target_cd / feed.tail_cd_per_a.typical
        return (amps > most_a, math.ceil(len(lamps) / feed.capacity), max(amps, 0.001), feed.led.name)

    best = min(feeds, key=rank)
    most = held_tails(plan, lamps)
    return best if most is None else replace(best, capacity=_fitting(drawer, best.led, fibre_mm, most))


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


def _feed(plan: Plan, drawer: Drawer, led: LedPart, *, lamps: list[PlacedLamp], fibre_mm: float, tip: str) -> Feed:
    """As many tails as fit and look alike within the habit `equal`."""
    alike = drawer.habit("equal").high or 1.5
    most = _fitting(drawer, led, fibre_mm, held_tails(plan, lamps) or MOST_TAILS)
    ends = _Ends(tip, led_joint(plan, drawer, lamps[0].group, lamps[0].name))
    return _even_feed(led, fibre_part(drawer, fibre_mm), fibre_mm, most=most, alike=alike, ends=ends)


@lru_cache(maxsize=1024)
def _even_feed(
    led: LedPart, fibre: FibrePart, fibre_mm: float, *, most: int, alike: float, ends: _Ends
) -> Feed:
    """Kept, because every class of every edit asks for the same few."""
    even = [n for n in range(1, most + 1) if _spread(led, fibre, fibre_mm, count=n, ends=ends) <= alike]
    capacity = max(even, default=1)
    spread = _spread(led, fibre, fibre_mm, count=capacity, ends=ends)
    return Feed(led, capacity, _tail_cd_per_a(led, fibre, 0.0, ends).times(spread**-0.5))


def _fitting(drawer: Drawer, led: LedPart, fibre_mm: float, most: int) -> int:
    return min(fibres_that_fit(_widest_mm(drawer, led), fibre_mm), most)


def _widest_mm(drawer: Drawer, led: LedPart) -> float:
    """The widest bundle that the habit allows on an LED's face."""
    return led.face_mm * (drawer.habit("bundle_led_width").high or 1.0)
