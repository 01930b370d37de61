"""Lamps with a sector: which way they point, and how wide their beam is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.findings._lights import emitters_of
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.design_loom import Emitter
from rushlight.model.place import Spot
from rushlight.optics.emitter import pattern_order
from rushlight.optics.fibre_loss import scatters

AXES: dict[str, float | None] = {
    "ahead": 0.0, "starboard": 90.0, "astern": 180.0, "port": 270.0, "up": None, "down": None,
}
"""Bearing of a lamp's axis by its facing; None: it points up or down. Outward and inward tell no bearing."""


@dataclass(frozen=True, slots=True)
class SectorLamp:
    """A lamp with a sector, as its beam law needs it."""

    name: str
    spot: Spot | None
    axis_deg: float | None
    from_deg: float
    to_deg: float
    half_angle_deg: float

    @property
    def width_deg(self) -> float:
        """Width of the sector."""
        return (self.to_deg - self.from_deg) % 360.0 or 360.0

    @property
    def order(self) -> float:
        """Exponent of the beam."""
        return pattern_order(self.half_angle_deg)


def sector_lamps(design: Design) -> tuple[SectorLamp, ...]:
    """Lit lamps with an arc whose bearing is known."""
    feeds = emitters_of(design)
    return tuple(
        _one(design, lamp, feeds[lamp.name])
        for lamp in design.lamps
        if lamp.arc_deg is not None and lamp.facing in AXES and lamp.name in feeds
    )


def _one(design: Design, lamp: PlacedLamp, emitter: Emitter) -> SectorLamp:
    assert lamp.arc_deg is not None
    return SectorLamp(
        lamp.name, lamp.spot, AXES[lamp.facing], lamp.arc_deg[0], lamp.arc_deg[1],
        half_angle_deg=_half_angle(design, emitter, lamp.name),
    )


def _half_angle(design: Design, emitter: Emitter, lamp: str) -> float:
    """Of the LED; of a polished fibre tip the edge of its cone, of one that scatters that of a matt lamp."""
    if emitter.kind != "illuminator":
        return design.drawer.led(emitter.part_row).half_angle_deg
    tail = next((tail for tail in design.loom.tails if tail.lamp == lamp), None)
    if scatters(tail.tip if tail else "polished"):
        return 60.0
    return math.degrees(math.asin(min(design.drawer.fibre(tail.fibre_mm if tail else 0.5).numerical_aperture, 0.99)))
