"""LEDs in rooms, seen through openings: the opening glows with the light that the room throws about."""

from __future__ import annotations

import math

from rushlight.model.drawer import Drawer, LedPart
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Opening
from rushlight.optics.wall import cavity_lx
from rushlight.stages.parts_law import led_flux_lm
from rushlight.units import Range

ROOM_REFLECTANCE = 0.6
"""A room painted light inside (from memory, typical; 0.4 to 0.8)."""

ROOM_SPREAD = (0.4, 2.0)
"""What is not known of a room's size and paint, as factors (project proposal)."""

BOXED_ROOM_MM = 30.0
"""Side of the cube into which a lit room is boxed, unless a space of the opening's name gives its size."""

CLEAR_PART = Range(0.85, 0.9, 0.92)
"""Transmittance of a clear window (from memory, typical)."""


def room_light(
    plan: Plan, drawer: Drawer, led: LedPart, *, opening: Opening | None, current_a: float
) -> tuple[Range, Range, Range]:
    """Flux out of the opening, axial intensity and luminance of a lit room.

    Luminance of the walls seen through the opening: E rho / pi, E from the closed cavity's inter-reflection,
    weakened by what stands in the opening.
    """
    area_m2 = room_area_m2(plan, opening)
    per_lm = cavity_lx(1.0, area_m2=area_m2, reflectance=ROOM_REFLECTANCE) * ROOM_REFLECTANCE / math.pi
    spread = Range(ROOM_SPREAD[0], 1.0, ROOM_SPREAD[1])
    luminance = led_flux_lm(led, current_a).times(per_lm).times(spread).times(opening_through(drawer, opening))
    intensity = luminance.times(opening_mm2(opening) * 1e-6)
    return intensity.times(math.pi), intensity, luminance


def opening_through(drawer: Drawer, opening: Opening | None) -> Range:
    """Transmittance of what stands in an opening: its clear part and its sheets."""
    if opening is None:
        return CLEAR_PART
    through = CLEAR_PART if opening.clear else Range.exactly(1.0)
    for row in opening.diffusers:
        through = through.times(drawer.diffuser(row.sheet).transmittance)
    return through


def opening_named(plan: Plan, part: str | None, name: str | None) -> Opening | None:
    """An opening of a part by name; None if there is no such."""
    parts = [row for row in plan.parts if row.name == part]
    return next((row for found in parts for row in found.openings if row.name == name), None)


def room_area_m2(plan: Plan, opening: Opening | None) -> float:
    """Inner surface of the room behind an opening: of the space that bears its name, else of a boxed cube."""
    for space in plan.spaces:
        if opening is not None and space.name == opening.name:
            return box_area_m2(space.size_mm)
    return box_area_m2((BOXED_ROOM_MM,) * 3)


def space_area_m2(plan: Plan, part: str) -> float:
    """Inner surface of the first space that a part belongs to; of a boxed cube where none is known."""
    sizes = [space.size_mm for space in plan.spaces if part in space.parts]
    return box_area_m2(sizes[0] if sizes else (BOXED_ROOM_MM,) * 3)


def box_area_m2(size_mm: tuple[float, ...]) -> float:
    """Surface of a box."""
    length, width, height = (size / 1000 for size in size_mm)
    return 2 * (length * width + width * height + length * height)


def opening_mm2(opening: Opening | None) -> float:
    """Area of an opening; of one 5 mm wide where none is named."""
    if opening is None:
        return 25.0
    corners = opening.shape_mm
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
