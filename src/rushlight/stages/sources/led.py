"""An LED at the lamp's own place: in a hole, or a chip on the surface for a floodlight."""

from __future__ import annotations

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer, LedPart
from rushlight.model.plan import MadeBy, Plan
from rushlight.stages.sources.common import drill_for, led_for

LEAST_HOLE_MM = 1.7
"""A lamp narrower than the smallest lensed LED (1.8 mm, parts_led_packages.csv) is left to fibre."""

LEAD_HOLE_MM = 1.0
"""Pass hole of a chip LED's two wires (common practice, no source)."""


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Floodlights, and lamps as wide as an LED."""
    return is_flood(plan, lamp) or (lamp.model_mm is not None and lamp.model_mm >= LEAST_HOLE_MM)


def is_flood(plan: Plan, lamp: PlacedLamp) -> bool:
    """Whether a lamp throws a pool of light."""
    if lamp.made_of == "rows":
        return any(row.lights_mm is not None for row in plan.rows if row.name == lamp.group)
    return any(entry.lights_mm is not None for entry in plan.lamps if entry.name == lamp.group)


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """The LED of the lamp's colour whose body is nearest to its size."""
    use = "deck" if is_flood(plan, lamp) else "hole"
    if insisted and insisted.led:
        part = drawer.led(insisted.led)
    else:
        part = led_for(drawer, lamp.colour, use=use, face_mm=lamp.model_mm or (1.6 if use == "deck" else 3.0))
    hole = part.hole_mm or LEAD_HOLE_MM
    return Source(
        lamp=lamp.name, kind="led", led=part.name, fibre_mm=None, strip=None, hole_mm=hole,
        drill=drill_for(drawer, hole), seen_mm=part.face_mm, seen_subject_mm=part.face_mm * plan.subject.scale,
        why=_why(lamp, part, use, insisted), insisted=insisted is not None,
    )


def _why(lamp: PlacedLamp, part: LedPart, use: str, insisted: MadeBy | None) -> str:
    if insisted:
        return "as the plan insists"
    if use == "deck":
        return "a floodlight needs an LED of its own to throw a pool of light"
    if lamp.model_mm is None:
        return f"size not known: a {part.package} LED"
    return f"{lamp.model_mm:.1f} mm at scale is wide enough for a {part.package} LED"
