"""Numbers that tie drawings, tables and templates together."""

from __future__ import annotations

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.design_loom import Emitter
from rushlight.model.sheet import Point


def lamp_numbers(design: Design) -> dict[str, int]:
    """Each lamp's number in the book: its place in the lamp list, from 1."""
    return {lamp.name: number for number, lamp in enumerate(design.lamps, start=1)}


def lamps_on(design: Design, part: str) -> tuple[tuple[int, PlacedLamp, Source], ...]:
    """Lamps with a place on that part: number, lamp, what makes it."""
    numbers = lamp_numbers(design)
    pairs = zip(design.lamps, design.sources, strict=True)
    return tuple((numbers[lamp.name], lamp, source) for lamp, source in pairs if lamp.spot and lamp.spot.part == part)


def emitters_on(design: Design, part: str) -> tuple[Emitter, ...]:
    """What is wired and sits on that part."""
    return tuple(emitter for emitter in design.loom.emitters if emitter.spot.part == part)


def ends_on(design: Design, part: str) -> tuple[tuple[str, Point, float | None], ...]:
    """Crossings that end on that part: name, place, pass hole."""
    return tuple(
        (crossing.name, end.at_mm, crossing.hole_mm)
        for crossing in design.plan.crossings for end in crossing.ends if end.part == part
    )
