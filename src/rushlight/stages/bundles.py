"""Bundles: which tail lies where in its bundle, how wide it is, what holds it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rushlight.geometry.bundle import (
    NoTube,
    TubeSize,
    choose_tube,
    free_places,
    hand_class,
    hand_factor,
    one_more_is_free,
    ring_of_each,
    sleeve_places,
)
from rushlight.geometry.circles import Packing, enclosing_circle
from rushlight.model.design_loom import Bundle, Emitter, Loom, Sleeve, Tail
from rushlight.model.drawer import Drawer, FibrePart, TubePart
from rushlight.stages.tail_places import TailWants, tails_in_places
from rushlight.units import Range

LED_SLEEVE_MM = 15.0
"""Length of the black sleeve over an LED and the start of its bundle (common practice, no source)."""

BUNDLE_WIDTH = "bundle width"
"""The bench method that reads how wide a hand ties."""

BUNDLED_SHARE = 0.5
"""Tails run together for about half of the shortest one (common practice, no source)."""


def tube_size(tube: TubePart) -> TubeSize:
    """A tube as the law takes it."""
    return TubeSize(tube.name, tube.supplied_bore_mm, tube.recovered_bore_mm, tube.recovered_wall_mm)


def bundle_of(
    drawer: Drawer, emitter: Emitter, tails: tuple[Tail, ...], wants: TailWants
) -> tuple[Bundle, tuple[Tail, ...]]:
    """One illuminator's bundle, and its tails with their places in it."""
    packing = enclosing_circle(tuple(tail.fibre_mm for tail in tails))
    width = hand_made_width(drawer, packing)
    placed = tails_in_places(drawer, drawer.led(emitter.part_row), (packing, width), tails, wants)
    placed = tuple(replace(tail, ring=ring) for tail, ring in zip(placed, ring_of_each(packing), strict=True))
    led = drawer.led(emitter.part_row)
    length_mm = max(min(tail.length_mm for tail in tails) * BUNDLED_SHARE, 10.0)
    sleeves = (
        *_held(drawer, packing, width, length_mm=length_mm),
        _black(drawer, led.body_mm, width.typical),
    )
    bundle = Bundle(
        name=f"bundle {emitter.name}", emitter=emitter.name, tails=tuple(tail.name for tail in placed),
        fibre_mm=packing.diameters_mm, centres_mm=packing.centres_mm, ideal_mm=packing.diameter_mm,
        hand_made_mm=width, lower_bound_mm=packing.lower_bound_mm, status=str(packing.status),
        led_face_mm=led.face_mm, sleeves=sleeves, notes=_notes(packing),
    )
    return bundle, placed


def tied(fibre: FibrePart, count: int) -> str:
    """What a hand's bundles are kept under: the fibre, and how many are tied alike."""
    return f"{fibre.name}, {hand_class(count)}"


def hand_made_width(drawer: Drawer, packing: Packing) -> Range:
    """Diameter of a bundle as a hand makes it [mm]: as bundles of its fibres were read, else as reckoned."""
    return hand_times(drawer, packing.diameters_mm).times(packing.diameter_mm)


def hand_times(drawer: Drawer, fibre_mm: Sequence[float]) -> Range:
    """How wide a hand ties a bundle of these fibres, over the ideal one [-].

    What was read holds the fibre's own tolerance: it was of the same reel. Of a mix of which some fibres alone were
    read the others are tied as tightly, for it is the hand that was read; in their share of the section they are off
    by their own tolerance and that of those read.
    """
    fibres = [drawer.fibre(mm) for mm in sorted(set(fibre_mm))]
    off = {fibre.name: fibre.tolerance_mm / fibre.diameter_mm for fibre in fibres}
    usual, loosest = hand_factor(len(fibre_mm)), max(off.values())
    usual = Range(usual.low * (1 - loosest), usual.typical, usual.high * (1 + loosest))
    read = {fibre.name: drawer.measured(BUNDLE_WIDTH, tied(fibre, len(fibre_mm))) for fibre in fibres}
    known = {name: factor for name, factor in read.items() if factor is not None}
    if not known:
        return usual
    middle = sum(factor.typical for factor in known.values()) / len(known)
    unread_mm2 = sum(mm**2 for mm in fibre_mm if drawer.fibre(mm).name not in known)
    more = unread_mm2 / sum(mm**2 for mm in fibre_mm) * (
        max(off[name] for name in known) + max((own for name, own in off.items() if name not in known), default=0.0))
    low = min(one.low for one in known.values()) * (1 - more)
    high = max(one.high for one in known.values()) * (1 + more)
    if more and low <= usual.high and usual.low <= high:
        low, high = max(low, usual.low), min(high, usual.high)
    return Range(low, min(max(middle, low), high), high)


def tied_so(loom: Loom, widths_mm: Mapping[str, Range]) -> Loom:
    """A loom with some bundles, by name, tied so wide, and their tails as far from the middle as that takes them.

    Source
    ------
    `geometry.bundle.loose_offsets_mm`: r (D' - d) / (D - d), so an offset goes with D' - d.
    """
    of = {tail: bundle for bundle in loom.bundles if bundle.name in widths_mm for tail in bundle.tails}
    return replace(loom, tails=tuple(_moved(tail, of[tail.name], widths_mm) if tail.name in of else tail
                                     for tail in loom.tails))


def _moved(tail: Tail, bundle: Bundle, widths_mm: Mapping[str, Range]) -> Tail:
    room, middle = bundle.hand_made_mm.typical - tail.fibre_mm, tail.offset_mm.typical
    if room <= 0.0:
        return tail
    width = widths_mm[bundle.name]
    return replace(tail, offset_mm=Range(*(middle * max(end - tail.fibre_mm, 0.0) / room
                                           for end in (width.low, width.typical, width.high))))


def _held(drawer: Drawer, packing: Packing, width: Range, *, length_mm: float) -> tuple[Sleeve, ...]:
    """Pieces of tube at the LED, in the middle and at the fan-out; tape where no tube fits."""
    fit = choose_tube([tube_size(tube) for tube in drawer.tubes], width, packing.diameter_mm)
    tube = "tape" if isinstance(fit, NoTube) else fit.tube.name
    return tuple(
        Sleeve(name=place.place, where=f"{place.from_led_mm:.0f} mm from the LED", tube=tube, cut_mm=place.cut_mm,
               grips_mm=packing.diameter_mm)
        for place in sleeve_places(length_mm, packing.diameter_mm)
    )


def _black(drawer: Drawer, led_mm: float, bundle_mm: float) -> Sleeve:
    """The opaque sleeve that joins LED and bundle and keeps stray light in."""
    wide, narrow = max(led_mm, bundle_mm), min(led_mm, bundle_mm)
    fit = choose_tube([tube_size(tube) for tube in drawer.tubes], Range.exactly(wide), narrow)
    tube = "black tape" if isinstance(fit, NoTube) else fit.tube.name
    return Sleeve(name="black, over LED and bundle", where="at the joint", tube=tube, cut_mm=LED_SLEEVE_MM,
                  grips_mm=narrow)


def _notes(packing: Packing) -> tuple[str, ...]:
    """Whether one more of the narrowest fibre is free: by the table of equal ones, in the holes of a mixed bundle."""
    least = min(packing.diameters_mm)
    if least == max(packing.diameters_mm):
        return ("one more fibre would not make it wider",) if one_more_is_free(packing.count) else ()
    free = free_places(packing, least)
    if not free:
        return ()
    more = "one more fibre" if free == 1 else f"{free} more fibres"
    return (f"{more} of {least:g} mm would not make it wider",)
