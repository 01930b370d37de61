"""An LED in a room, seen through an opening."""

from __future__ import annotations

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.plan import MadeBy, Plan
from rushlight.stages.sources.common import led_for


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Lamps that the plan ties to an opening."""
    return lamp.opening is not None and lamp.made_of == "lamps"


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """A small LED of the lamp's colour; the opening is what the eye sees."""
    led = insisted.led if insisted and insisted.led else led_for(drawer, lamp.colour, use="hole", face_mm=3.0).name
    seen = lamp.model_mm or drawer.led(led).face_mm
    return Source(
        lamp=lamp.name, kind="room", led=led, fibre_mm=None, strip=None, hole_mm=None, drill=None, seen_mm=seen,
        seen_subject_mm=seen * plan.subject.scale,
        why="as the plan insists" if insisted else f"seen through the opening {lamp.opening}",
        insisted=insisted is not None,
    )
