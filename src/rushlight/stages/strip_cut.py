"""Strips that are drawn longer or shorter than they can be cut: what is laid, and where a whole number of cut lengths
would lie."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, StripPart
from rushlight.model.place import Point
from rushlight.model.plan import Strip
from rushlight.stages.strip_choice import cut_lengths
from rushlight.stages.strip_place import Laid, Room, laid_along, place_of, room_of, whole_line
from rushlight.stages.strips import run_of

TOLD_MM = 1.0
"""What a drawn strip differs from its cut lengths by is told from so much on: nobody cuts or glues finer (project
rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffCut:
    """A strip whose drawn run is no whole number of its cut lengths.

    `laid_mm` is what is built: so many cut lengths as go into the drawn run, one at least. `nearest` are the whole
    lengths next below (none under one cut length) and above, with whether each fits its place; `over_edge` tells that
    what is laid hangs over the edge of its part or over what stands there, and the drawn run does not.
    """

    strip: Strip
    part: StripPart
    drawn_mm: float
    laid_mm: float
    nearest: tuple[tuple[float, bool], ...]
    over_edge: bool

    @property
    def off_mm(self) -> float:
        """What stays without LEDs at its last end, or what lies past it."""
        return abs(self.drawn_mm - self.laid_mm)

    @property
    def offered_mm(self) -> float | None:
        """The nearest whole length that fits; None where none does."""
        fitting = [mm for mm, fits in self.nearest if fits]
        return min(fitting, key=lambda mm: abs(mm - self.drawn_mm), default=None)


def off_cut_strips(design: Design) -> tuple[OffCut, ...]:
    """Strips of the plan that are drawn otherwise than they can be cut.

    Parameters
    ----------
    design : Design
        The whole design.
    Returns
    -------
    tuple of OffCut
        In the order of the loom.
    """
    written = {strip.name for strip in design.plan.strips}
    found = (_off_cut(design, row) for row in design.loom.emitters if row.kind == "strip" and row.name in written)
    return tuple(row for row in found if row is not None)


def _off_cut(design: Design, emitter: Emitter) -> OffCut | None:
    run, part = run_of(emitter), design.drawer.strip(emitter.part_row)
    drawn, laid = drawn_mm(run), emitter.segments * part.segment_mm
    if abs(drawn - laid) <= TOLD_MM:
        return None
    room = _room_of_drawn(design, emitter)
    counts = sorted({max(cut_lengths(drawn, part.segment_mm), 1), cut_lengths(drawn, part.segment_mm) + 1})
    return OffCut(
        strip=run, part=part, drawn_mm=drawn, laid_mm=laid, over_edge=not fits_long(room, part, laid),
        nearest=tuple((count * part.segment_mm, fits_long(room, part, count * part.segment_mm)) for count in counts))


def drawn_mm(run: Strip) -> float:
    """How long a strip is drawn."""
    return sum(math.dist(a, b) for a, b in pairwise(run.along_mm))


def _room_of_drawn(design: Design, emitter: Emitter) -> Room:
    """The room for what is drawn: what is laid past it may lie over an edge."""
    place = place_of(design, emitter)
    part = design.drawer.strip(emitter.part_row)
    drawn = min(drawn_mm(place.now.run), emitter.segments * part.segment_mm)
    # How deep it is has a finding of its own.
    return room_of(replace(place, now=_long(place.now, drawn), depth_mm=math.inf), design.drawer, whole=False)


def _long(laid: Laid, length_mm: float) -> Laid:
    return laid_along(laid, whole_line(laid.run.along_mm, length_mm))


def fits_long(room: Room, part: StripPart, length_mm: float) -> bool:
    """Whether a strip would fit its place, cut or run straight on to a length."""
    return room.fits(replace(_long(room.place.now, length_mm), row=part.name))


def shorter_cut(drawer: Drawer, row: OffCut) -> StripPart | None:
    """The strip of the same colour and voltage with the longest cut length that goes into the drawn run."""
    fitting = [part for part in drawer.strips
               if (part.colour, part.supply_v) == (row.part.colour, row.part.supply_v)
               and cut_lengths(row.drawn_mm, part.segment_mm) >= 1]
    return max(fitting, key=lambda part: (part.segment_mm, -abs(part.power_w_per_m - row.part.power_w_per_m)),
               default=None)


def along_of(row: OffCut, length_mm: float) -> tuple[Point, ...]:
    """The strip's run, cut or run straight on to a length."""
    return tuple((round(x, 2), round(y, 2)) for x, y in whole_line(row.strip.along_mm, length_mm))
