"""An LED in a room, seen through an opening."""

from __future__ import annotations

import math

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.plan import MadeBy, Plan
from rushlight.stages.rooms import BOXED_ROOM_MM, opening_mm2, opening_named
from rushlight.stages.sources.common import led_for


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Lamps that the plan ties to an opening."""
    return lamp.opening is not None and lamp.made_of == "lamps"


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """A small LED of the lamp's colour; the opening, as a disc of its area, is what the eye sees."""
    led = insisted.led if insisted and insisted.led else led_for(drawer, lamp.colour, use="hole", face_mm=3.0).name
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    seen = 2 * math.sqrt(opening_mm2(opening) / math.pi)
    return Source(
        lamp=lamp.name, kind="room", led=led, fibre_mm=None, strip=None, hole_mm=None, drill=None, seen_mm=seen,
        seen_subject_mm=seen * plan.subject.scale, why=_why(plan, lamp, insisted), insisted=insisted is not None,
    )


def _why(plan: Plan, lamp: PlacedLamp, insisted: MadeBy | None) -> str:
    known = any(space.name == lamp.opening for space in plan.spaces)
    room = "its own space" if known else f"a room boxed in to {BOXED_ROOM_MM:g} mm each way"
    start = "as the plan insists" if insisted else f"seen through the opening {lamp.opening}"
    return f"{start}; reckoned in {room}"
