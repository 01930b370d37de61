"""What the kinds of source share: the LED that suits a colour and a use, and the drill that suits a hole."""

from __future__ import annotations

import math

from rushlight.model.design import Colour
from rushlight.model.drawer import Drawer, LedPart
from rushlight.stages.lamps import colour_of
from rushlight.stages.parts_law import lens_rank

SAME_COLOUR_XY = 0.05
"""Chromaticities nearer than this to the best match are one colour (project proposal: about one white bin)."""


def colour_distance(led: LedPart, colour: Colour) -> float:
    """Distance in CIE 1931 x, y between an LED and a wanted colour."""
    seen = colour_of(led.colour)
    return math.dist((seen.x, seen.y), (colour.x, colour.y))


def matching_leds(drawer: Drawer, colour: Colour) -> tuple[LedPart, ...]:
    """LEDs of the colour nearest to the wanted one; pre-wired ones are left to the modeller's word."""
    plain = [led for led in drawer.leds if led.pre_wired_v is None]
    nearest = min(colour_distance(led, colour) for led in plain)
    return tuple(led for led in plain if colour_distance(led, colour) <= nearest + SAME_COLOUR_XY / 5)


def led_for(drawer: Drawer, colour: Colour, *, use: str, face_mm: float) -> LedPart:
    """The LED of a colour for a use (bundle, hole, deck), with a face near to a width."""
    candidates = matching_leds(drawer, colour)
    return min(
        candidates,
        key=lambda led: (
            abs(math.log(led.face_mm / face_mm)) > 0.3, lens_rank(led, use), abs(math.log(led.face_mm / face_mm)),
            led.name,
        ),
    )


def drill_for(drawer: Drawer, hole_mm: float) -> str | None:
    """The smallest drill that is not under the hole; None when the largest is smaller."""
    fitting = [drill for drill in drawer.drills if drill.diameter_mm >= hole_mm - 1e-6]
    return min(fitting, key=lambda drill: (drill.diameter_mm, drill.name)).name if fitting else None


def drill_mm(drawer: Drawer, name: str | None, otherwise_mm: float) -> float:
    """The diameter that a drill makes."""
    return next((drill.diameter_mm for drill in drawer.drills if drill.name == name), otherwise_mm)
