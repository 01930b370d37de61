"""What the kinds of source share: the LED that suits a colour and a use, and the drill that suits a hole."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from rushlight.model.design import Colour, Source
from rushlight.model.drawer import Drawer, DrillPart, LedPart
from rushlight.stages.lamps import colour_of
from rushlight.stages.parts_law import lens_rank

SAME_COLOUR_XY = 0.05
"""Chromaticities nearer than this to the best match are one colour (project proposal: about one white bin)."""


def colour_distance(led: LedPart, colour: Colour) -> float:
    """Distance in CIE 1931 x, y between an LED and a wanted colour."""
    seen = colour_of(led.colour)
    return math.dist((seen.x, seen.y), (colour.x, colour.y))


def light_colour(drawer: Drawer, source: Source, wanted: Colour) -> Colour:
    """The colour in which a lamp shows: the wanted one, else that of what makes it where that is another.

    Parameters
    ----------
    drawer : Drawer
        Its LEDs and strips.
    source : Source
        What makes the lamp.
    wanted : Colour
        As the plan has it.
    Returns
    -------
    Colour
        The wanted one within SAME_COLOUR_XY of it, and where a white LED sits under clear colour.
    """
    row = drawer.strip(source.led) if source.kind == "strip" else drawer.led(source.led)
    led = colour_of(row.colour)
    under_clear = wanted.cct_k is None and led.cct_k is not None
    near = math.dist((led.x, led.y), (wanted.x, wanted.y)) <= SAME_COLOUR_XY
    return wanted if near or under_clear else led


def matching_leds(drawer: Drawer, colour: Colour) -> tuple[LedPart, ...]:
    """LEDs of the colour nearest to the wanted one; pre-wired ones are left to the modeller's word."""
    known = _choices(drawer.leds)
    if colour not in known.matching:
        plain = [led for led in drawer.leds if led.pre_wired_v is None]
        nearest = min(colour_distance(led, colour) for led in plain)
        near = nearest + SAME_COLOUR_XY / 5
        known.matching[colour] = tuple(led for led in plain if colour_distance(led, colour) <= near)
    return known.matching[colour]


def led_for(drawer: Drawer, colour: Colour, *, use: str, face_mm: float) -> LedPart:
    """The LED of a colour for a use (bundle, hole, deck), with a face near to a width."""
    known, wish = _choices(drawer.leds), (colour, use, face_mm)
    if wish not in known.best:
        known.best[wish] = min(
            matching_leds(drawer, colour),
            key=lambda led: (
                abs(math.log(led.face_mm / face_mm)) > 0.3, lens_rank(led, use),
                abs(math.log(led.face_mm / face_mm)), led.name,
            ),
        )
    return known.best[wish]


@dataclass(frozen=True, slots=True)
class _Choices:
    """What was chosen already from one drawer's LEDs: many lamps of a plan wish for the same."""

    leds: tuple[LedPart, ...]
    matching: dict[Colour, tuple[LedPart, ...]] = field(default_factory=dict)
    best: dict[tuple[Colour, str, float], LedPart] = field(default_factory=dict)


_last = [_Choices(())]


def _choices(leds: tuple[LedPart, ...]) -> _Choices:
    known = _last[0]
    if known.leds is not leds:
        known = _last[0] = _Choices(leds)
    return known


def drill_for(drawer: Drawer, hole_mm: float) -> str | None:
    """The smallest drill that is not under the hole; None when the largest is smaller."""
    known = _drills_of(drawer.drills)
    if hole_mm not in known:
        fitting = [drill for drill in drawer.drills if drill.diameter_mm >= hole_mm - 1e-6]
        known[hole_mm] = min(fitting, key=lambda drill: (drill.diameter_mm, drill.name)).name if fitting else None
    return known[hole_mm]


_drilled: list[tuple[tuple[DrillPart, ...], dict[float, str | None]]] = [((), {})]


def _drills_of(drills: tuple[DrillPart, ...]) -> dict[float, str | None]:
    """What was found already among these drills."""
    if _drilled[0][0] is not drills:
        _drilled[0] = (drills, {})
    return _drilled[0][1]


def drill_mm(drawer: Drawer, name: str | None, otherwise_mm: float) -> float:
    """The diameter that a drill makes."""
    return next((drill.diameter_mm for drill in drawer.drills if drill.name == name), otherwise_mm)
