"""An LED strip behind openings."""

from __future__ import annotations

import math

from rushlight.model.design import Colour, PlacedLamp, Source
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.plan import MadeBy, Plan
from rushlight.stages.lamps import colour_of
from rushlight.stages.rooms import opening_mm2, opening_named


def suits(plan: Plan, lamp: PlacedLamp) -> bool:
    """Openings that the plan lights by a strip."""
    return lamp.made_of == "strips"


def choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """The strip that the plan names, else the closest in colour with the finest pitch that the supply can feed."""
    entry = next(strip for strip in plan.strips if strip.name == lamp.group)
    part = drawer.strip(entry.strip) if entry.strip else strip_of_colour(plan, drawer, colour_of(entry.colour))
    opening = opening_named(plan, entry.part, lamp.opening)
    seen = 2 * math.sqrt(opening_mm2(opening) / math.pi)
    return Source(
        lamp=lamp.name, kind="strip", led=part.name, fibre_mm=None, strip=part.name, hole_mm=None, drill=None,
        seen_mm=seen, seen_subject_mm=seen * plan.subject.scale,
        why="as the plan insists" if entry.strip else "a lit opening: strip behind it, least pitch and least power",
        insisted=entry.strip is not None,
    )


def supply_v(plan: Plan, drawer: Drawer) -> float:
    """Nominal voltage of the plan's supply; 12 V while none is named."""
    supply = plan.supply
    if supply is None:
        return 12.0
    if supply.kind == "cells":
        return drawer.cell(supply.cell).nominal_v * supply.in_series
    return 5.0 if supply.kind.startswith("usb") else supply.adapter_v


def strip_of_colour(plan: Plan, drawer: Drawer, wanted: Colour) -> StripPart:
    """The strip closest in colour with the finest pitch that the supply can feed."""
    volts = supply_v(plan, drawer)

    def rank(part: StripPart) -> tuple[float, ...]:
        colour = colour_of(part.colour)
        off = (colour.x - wanted.x) ** 2 + (colour.y - wanted.y) ** 2
        return (abs(part.supply_v - volts), round(off, 4), part.pitch_mm, part.power_w_per_m)

    return min(drawer.strips, key=lambda part: (rank(part), part.name))
