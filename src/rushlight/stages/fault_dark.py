"""From how much light on a lamp is seen at the bench: whether a fault leaves it dark, whatever its current."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import LIT_A
from rushlight.model.design import Design
from rushlight.optics.eye import Room, background_cd_m2, least_seen_cd_m2, viewing_room, visual_angle_deg
from rushlight.stages.parts_law import usual_light_a

Array = NDArray[np.float64]

SHADED, BENCH = "dim", "lit"
"""Rooms of viewing_rooms.csv: a lamp looked at with a hand round it, and as it lies on the bench."""

NEAR_MM = 250.0
"""From how near a lamp is looked at: the usual near point of a reader (common practice)."""

BESIDE = 0.5
"""Reflectance of what lies round a lamp: plastic primed or painted in mid tones (project proposal)."""

PLAIN = 3.0
"""So many times what is just seen is plain to everybody (project proposal)."""


def shown_light_a(design: Design, names: Sequence[str]) -> Array:
    """Light under which an emitter is dark to everybody, and from which it is lit to everybody.

    Parameters
    ----------
    design : Design
        With its light.
    names : sequence of str
        Emitters.
    Returns
    -------
    array
        Light as `parts_law.emitter_light_a` counts it [A], shape (2, emitters): what is just seen of the brightest of
        its lamps with a hand round it, and PLAIN times what is just seen on the bench. An emitter of which no lamp's
        light is known goes by a third of the current LIT_A and three times it.
    Source
    ------
    Contrast and summation of viewing_rooms.csv (`eye.least_seen_cd_m2`); a lamp's luminance goes with its light.
    """
    emitters = [design.loom.emitter(name) for name in names]
    by_current = np.array([np.full(len(names), LIT_A / PLAIN), np.full(len(names), LIT_A * PLAIN)])
    found = usual_light_a(design.drawer, emitters, by_current) if emitters else by_current
    least = _seen_per_a(design)
    for k, name in enumerate(names):
        if name in least:
            found[:, k] = least[name]
    return np.asarray(found)


def _seen_per_a(design: Design) -> dict[str, tuple[float, float]]:
    """The two of each emitter with a lamp whose light is known, by its best seen lamp."""
    lit_a = {(state.state, row.emitter): row.light_a for state in design.power.states for row in state.lit}
    sizes_mm = {source.lamp: source.seen_mm for source in design.sources}
    feeds = {lamp: emitter.name for emitter in design.loom.emitters for lamp in emitter.lamps}
    shaded, bench = viewing_room(SHADED), viewing_room(BENCH)
    found: dict[str, tuple[float, float]] = {}
    for row in design.light.lamps:
        name = feeds[row.lamp]
        light_a = lit_a[row.state, name]
        if row.luminance_cd_m2.typical > 0.0 and light_a > 0.0:
            per_a = row.luminance_cd_m2.typical / light_a
            now = (_least_cd_m2(shaded, sizes_mm[row.lamp]) / per_a,
                   PLAIN * _least_cd_m2(bench, sizes_mm[row.lamp]) / per_a)
            found[name] = min(found.get(name, now), now)
    return found


def _least_cd_m2(room: Room, size_mm: float) -> float:
    """What is just seen of a lamp of that size [cd/m2]: the eye sums the light of a small one over more than it is."""
    summed = room.summation_arcmin / (60.0 * visual_angle_deg(max(size_mm, 1e-3), NEAR_MM))
    least = least_seen_cd_m2(room, background_cd_m2=background_cd_m2(room.illuminance_lx, BESIDE))
    return least * max(summed, 1.0) ** 2
