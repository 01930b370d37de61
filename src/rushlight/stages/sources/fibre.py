"""A fibre tail: one of many that an LED feeds, for lamps too small for an LED of their own."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.plan import MadeBy, Plan
from rushlight.optics.scale import fibre_hole_mm
from rushlight.stages.parts_law import fibre_part
from rushlight.stages.sources.common import drill_for, led_for

USUAL_MM = 0.5
"""Fibre for a lamp of unknown size: the usual one for portlights and markers (parts_fibre_stock.csv)."""


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Any lamp can be made by a fibre."""
    return True


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """The fibre nearest to the lamp's size, and the LED that suits its colour."""
    wanted = (insisted.fibre_mm if insisted else None) or lamp.model_mm or USUAL_MM
    fibre = fibre_part(drawer, wanted)
    hole = fibre_hole_mm(fibre.diameter_mm)
    led = insisted.led if insisted and insisted.led else led_for(drawer, lamp.colour, use="bundle", face_mm=3.0).name
    return Source(
        lamp=lamp.name, kind="fibre", led=led, fibre_mm=fibre.diameter_mm, strip=None, hole_mm=hole,
        drill=drill_for(drawer, hole), seen_mm=fibre.core_mm, seen_subject_mm=fibre.core_mm * plan.subject.scale,
        why=_why(lamp, fibre.diameter_mm, insisted), insisted=insisted is not None,
        tip=insisted.tip if insisted else "polished",
    )


def of_width(plan: Plan, drawer: Drawer, source: Source, fibre_mm: float) -> Source:
    """The same lamp made by another fibre, with its hole and what is then seen of it."""
    fibre = fibre_part(drawer, fibre_mm)
    hole = fibre_hole_mm(fibre.diameter_mm)
    return replace(
        source, fibre_mm=fibre.diameter_mm, hole_mm=hole, drill=drill_for(drawer, hole), seen_mm=fibre.core_mm,
        seen_subject_mm=fibre.core_mm * plan.subject.scale,
        why=f"{source.why}; {fibre.diameter_mm:g} mm in its place gives what is wanted on a shared LED",
    )


def _why(lamp: PlacedLamp, fibre_mm: float, insisted: MadeBy | None) -> str:
    if insisted:
        return "as the plan insists"
    if lamp.model_mm is None:
        return f"size not known: the usual {fibre_mm:g} mm fibre"
    return f"{lamp.model_mm:.2f} mm at scale is too small for an LED in a hole; nearest fibre {fibre_mm:g} mm"
