"""LEDs in rooms, seen through openings: the opening glows with the light that the room throws about."""

from __future__ import annotations

import math

from rushlight.model.design import Emitter
from rushlight.model.plan import Opening
from rushlight.optics.wall import cavity_lx
from rushlight.stages.order import Build
from rushlight.stages.parts_law import led_flux_lm
from rushlight.units import Range

ROOM_REFLECTANCE = 0.6
"""A room painted light inside (from memory, typical; 0.4 to 0.8)."""

ROOM_SPREAD = (0.4, 2.0)
"""What is not known of a room's size and paint, as factors (project proposal)."""

SMALL_ROOM_MM = 30.0
"""Side of the cube taken for a room of which nothing is known."""


def room_light(build: Build, emitter: Emitter, lamp: str, current_a: float) -> tuple[Range, Range, Range]:
    """Flux out of the opening, axial intensity and luminance of a lit room.

    Luminance of the walls seen through the opening: E rho / pi, E from the closed cavity's inter-reflection.
    """
    opening = _opening(build, lamp)
    area_m2 = room_area_m2(build, emitter.spot.part)
    flux = led_flux_lm(build.drawer.led(emitter.part_row), current_a)
    per_lm = cavity_lx(1.0, area_m2=area_m2, reflectance=ROOM_REFLECTANCE) * ROOM_REFLECTANCE / math.pi
    luminance = flux.times(per_lm).times(Range(ROOM_SPREAD[0], 1.0, ROOM_SPREAD[1]))
    clear_m2 = opening_mm2(opening) * 1e-6 if opening else (SMALL_ROOM_MM * 1e-3 / 3) ** 2
    intensity = luminance.times(clear_m2)
    return intensity.times(math.pi), intensity, luminance


def _opening(build: Build, lamp: str) -> Opening | None:
    placed = next(row for row in build.lamps if row.name == lamp)
    part = placed.spot.part if placed.spot else ""
    return next(
        (opening for row in build.plan.parts if row.name == part for opening in row.openings
         if opening.name == placed.opening), None,
    )


def room_area_m2(build: Build, part: str) -> float:
    """Inner surface of the space that a part belongs to; of a small cube where no space is known."""
    for space in build.plan.spaces:
        if part in space.parts:
            length, width, height = (size / 1000 for size in space.size_mm)
            return 2 * (length * width + width * height + length * height)
    return 6 * (SMALL_ROOM_MM / 1000) ** 2


def opening_mm2(opening: Opening) -> float:
    """Area of an opening."""
    corners = opening.shape_mm
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
