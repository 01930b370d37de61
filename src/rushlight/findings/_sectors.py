"""Lamps with a sector: what each sends to the bearings inside and outside of it, as the sheet of bearings has it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.place import Spot
from rushlight.optics.toward import Beam, Way, beam_share
from rushlight.stages.outlook import beams_of

BEYOND_DEG = 5.0
"""Beyond an edge light may still be seen so far (COLREGs 1972 Annex I 9(a))."""

UPRIGHT = 0.7
"""An axis that rises or falls by more than this (45 degrees) points up or down."""


@dataclass(frozen=True, slots=True)
class SectorLamp:
    """A lit lamp with a sector of which it is known where it shines.

    `inside` and `outside` are what it sends without a screen, level, to the dimmest bearing of its sector and to the
    brightest one more than BEYOND_DEG outside, over what it sends to the brightest one inside; `upright` where it
    points up or down.
    """

    name: str
    spot: Spot | None
    width_deg: float
    inside: float
    outside: float
    upright: bool


def sector_lamps(design: Design) -> tuple[SectorLamp, ...]:
    """Lit lamps with an arc whose axis is known, by their own word or by their part's."""
    beams = beams_of(design)
    return tuple(
        sector_lamp(lamp.name, lamp.spot, lamp.arc_deg, beam)
        for lamp in design.lamps
        if lamp.arc_deg is not None and (beam := beams.get(lamp.name)) and beam.axis is not None
    )


def sector_lamp(name: str, spot: Spot | None, arc_deg: tuple[float, float], beam: Beam) -> SectorLamp:
    """Looked at from every half degree and from the edges themselves."""
    width = (arc_deg[1] - arc_deg[0]) % 360.0 or 360.0
    bare = replace(beam, arc_deg=None)
    inside = [beam_share(bare, _level(arc_deg[0] + on)) for on in _steps(0.0, width)]
    outside = [beam_share(bare, _level(arc_deg[1] + on)) for on in _steps(BEYOND_DEG, 360.0 - width - BEYOND_DEG)]
    most = max(inside)
    seen = [share / most if most > 0.0 else float(share > 0.0) for share in (min(inside), max(outside, default=0.0))]
    upright = beam.axis is not None and abs(beam.axis[2]) > UPRIGHT
    return SectorLamp(name, spot, width, seen[0], min(seen[1], 1.0), upright)


def _steps(low: float, high: float) -> list[float]:
    count = max(math.ceil(2 * (high - low)), 1)
    return [low + (high - low) * k / count for k in range(count + 1)] if high >= low else []


def _level(bearing_deg: float) -> Way:
    turn = math.radians(bearing_deg)
    return (math.cos(turn), -math.sin(turn), 0.0)
