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
    entry = next((strip for strip in plan.strips if strip.name == lamp.group), None)
    named = entry.strip if entry else None
    part = drawer.strip(named) if named else strip_of_colour(plan, drawer, lamp.colour)
    return behind(plan, lamp, part, insisted=bool(named or insisted))


def behind(plan: Plan, lamp: PlacedLamp, part: StripPart, *, insisted: bool = False) -> Source:
    """A lamp's opening before a strip."""
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    seen = 2 * math.sqrt(opening_mm2(opening) / math.pi)
    return Source(
        lamp=lamp.name, kind="strip", led=part.name, fibre_mm=None, strip=part.name, hole_mm=None, drill=None,
        seen_mm=seen, seen_subject_mm=seen * plan.subject.scale,
        insisted=insisted,
        why="as the plan insists" if insisted else "a lit opening: strip behind it, least pitch and least power",
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
