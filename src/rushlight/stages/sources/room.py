"""An LED in a room, seen through an opening."""

from __future__ import annotations

import math

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.plan import MadeBy, Plan
from rushlight.stages.parts_law import led_flux_lm
from rushlight.stages.rooms import BOXED_ROOM_MM, opening_mm2, opening_named, shared_space, windows_of
from rushlight.stages.sources.common import matching_leds


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Lamps that the plan ties to an opening."""
    return lamp.opening is not None and lamp.made_of == "lamps"


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """The LED of the lamp's colour with the most flux; the opening, as a disc of its area, is what the eye sees.

    Windows of one space share its LED.
    """
    led = insisted.led if insisted and insisted.led else brightest(drawer, lamp)
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    seen = 2 * math.sqrt(opening_mm2(opening) / math.pi)
    return Source(
        lamp=lamp.name, kind="room", led=led, fibre_mm=None, strip=None, hole_mm=None, drill=None, seen_mm=seen,
        seen_subject_mm=seen * plan.subject.scale, why=_why(plan, lamp, insisted), insisted=insisted is not None,
        room=space.name if (space := shared_space(plan, opening)) else None,
    )


def brightest(drawer: Drawer, lamp: PlacedLamp) -> str:
    """A room is lit by flux alone, so the LED that gives most of it at the same current."""
    leds = matching_leds(drawer, lamp.colour)
    return min(leds, key=lambda led: (-led_flux_lm(led, 0.01).typical, led.face_mm, led.name)).name


def _why(plan: Plan, lamp: PlacedLamp, insisted: MadeBy | None) -> str:
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    shared = shared_space(plan, opening)
    if shared is not None:
        start = "as the plan insists" if insisted else f"seen through the opening {lamp.opening}"
        return f"{start}; one LED lights '{shared.name}' behind {len(windows_of(plan, shared))} windows"
    known = any(space.name == lamp.opening for space in plan.spaces)
    room = "its own space" if known else f"a room boxed in to {BOXED_ROOM_MM:g} mm each way"
    start = "as the plan insists" if insisted else f"seen through the opening {lamp.opening}"
    return f"{start}; reckoned in {room}"
