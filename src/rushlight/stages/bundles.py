"""Bundles: which tail lies where in its bundle, how wide it is, what holds it."""

from __future__ import annotations

from dataclasses import replace

from rushlight.geometry.bundle import (
    NoTube,
    TubeSize,
    choose_tube,
    free_places,
    hand_class,
    hand_made_diameter_mm,
    one_more_is_free,
    ring_of_each,
    sleeve_places,
)
from rushlight.geometry.circles import Packing, enclosing_circle
from rushlight.model.design_loom import Bundle, Emitter, Sleeve, Tail
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
    """Diameter of a bundle as a hand makes it [mm]: as bundles of its fibres were read, else as reckoned.

    What was read holds the fibre's own tolerance: it was of the same reel.
    """
    fibres = [drawer.fibre(mm) for mm in sorted(set(packing.diameters_mm))]
    read = [drawer.measured(BUNDLE_WIDTH, tied(fibre, packing.count)) for fibre in fibres]
    known = [factor for factor in read if factor is not None]
    if known and len(known) == len(fibres):
        middle = sum(factor.typical for factor in known) / len(known)
        return Range(min(one.low for one in known), middle, max(one.high for one in known)).times(packing.diameter_mm)
    loosest = max(fibre.tolerance_mm / fibre.diameter_mm for fibre in fibres)
    return hand_made_diameter_mm(packing, diameter_tolerance=loosest)


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
