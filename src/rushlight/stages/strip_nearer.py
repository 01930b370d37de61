"""A strip brought nearer to its windows, to go into the depth that there is: how even they look then."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.stages.strip_depth import STRIP_TALL_MM, sheets_mm
from rushlight.stages.strip_looks import looks_of
from rushlight.stages.strip_place import Laid, Room, place_of, room_of
from rushlight.stages.strip_ways import other_rows
from rushlight.stages.strips import LOOKING

STEP_MM = 0.5
"""Gaps are told in such steps."""

LEAST_GAP_MM = 1.0
"""Nearer nobody sets a strip (project rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearer:
    """A strip as near as the depth asks, of its own kind or a finer one: what is seen of its LEDs, in times of what a
    trained eye just sees, and brightest over darkest within that window."""

    laid: Laid
    times: float
    ratio: float

    @property
    def even(self) -> bool:
        """Whether ordinary looking passes over its LEDs."""
        return self.times < LOOKING


def nearer(design: Design, strip: str, depth_mm: float) -> tuple[Nearer, ...]:
    """The strip as it must lie to go into a depth, and finer ones that are more even there.

    Parameters
    ----------
    design : Design
        The whole design.
    strip : str
        Name of an emitter that is a strip.
    depth_mm : float
        Free depth behind its windows [mm].
    Returns
    -------
    tuple of Nearer
        The first that is even, of its own kind before finer ones, stands first; else the most even one. None where not
        even a bare strip goes in.
    """
    place = place_of(design, design.loom.emitter(strip))
    room = room_of(replace(place, depth_mm=math.inf), design.drawer)
    gap = math.floor((depth_mm - sheets_mm(design.drawer, place.now.openings) - STRIP_TALL_MM) / STEP_MM) * STEP_MM
    if gap < LEAST_GAP_MM:
        return ()
    near = replace(place.now, run=replace(place.now.run, gap_mm=gap))
    rows = [row for row in (near, *other_rows(design.drawer, near)) if room.fits(row)]
    looked = [_looked(room, row) for row in rows]
    return tuple(sorted(looked, key=lambda row: (not row.even, 0.0 if row.even else row.times)))


def _looked(room: Room, laid: Laid) -> Nearer:
    looks = looks_of(room, laid, tuple(range(len(laid.openings))), posts=False, coarser=1)
    most = max((look.alone for look in looks), key=lambda row: row.times)
    return Nearer(laid=laid, times=most.times, ratio=most.ratio)
