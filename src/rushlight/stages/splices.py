"""Splices of a net: which leads end in each, and the tube over its joint."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from rushlight.geometry.bundle import NoTube, choose_tube
from rushlight.geometry.circles import first_packing
from rushlight.geometry.layout import Place
from rushlight.geometry.tree import SpliceTree
from rushlight.model.design_loom import Lead, Sleeve, Splice
from rushlight.model.drawer import Drawer, TubePart
from rushlight.model.place import Spot
from rushlight.stages.bundles import tube_size
from rushlight.units import Range

BARE_JOINT_MM = 8.0
"""Length of a soldered joint of small leads (common practice, no source)."""

TUBE_OVERLAP_MM = 3.0
"""Tube reaches past each end of the bare joint (parts_heat_shrink_rules.csv)."""


def splices_of(
    drawer: Drawer, net: tuple[str, str | None], tree: SpliceTree, *, names: list[str], leads: tuple[Lead, ...],
    sites: Sequence[Place],
) -> tuple[Splice, ...]:
    """The splices of a net, by its name and its circuit's, with the leads that end in each and the tube over it."""
    ending: dict[str, list[Lead]] = {}
    for lead in leads:
        for end in (lead.start, lead.end):
            ending.setdefault(end, []).append(lead)
    made = []
    for name, node in zip(names, tree.nodes, strict=True):
        if node.kind != "splice":
            continue
        own = tuple(ending.get(name, ()))
        made.append(
            Splice(
                name=name, net=net[0], circuit=net[1], spot=Spot(*sites[node.site]),
                leads=tuple(lead.name for lead in own), sleeve=_sleeve(drawer, name, own), stagger_mm=math.inf,
            )
        )
    return tuple(made)


def _sleeve(drawer: Drawer, name: str, leads: tuple[Lead, ...]) -> Sleeve:
    """Tube over a joint: it must pass over the side with more leads, and grip the lone lead on the other."""
    widths = sorted((drawer.wire(lead.wire).outer_mm for lead in leads), reverse=True)
    many = first_packing(tuple(widths[1:] or widths)).diameter_mm
    lone = widths[-1]
    tube = _tube_over(drawer.tubes, max(many, widths[0]), lone)
    overlap = max(TUBE_OVERLAP_MM, many)
    return Sleeve(name=f"over {name}", where=name, tube=tube, cut_mm=math.ceil((BARE_JOINT_MM + 2 * overlap) / 0.85),
                  grips_mm=lone)


@lru_cache(maxsize=256)
def _tube_over(tubes: tuple[TubePart, ...], widest_mm: float, grips_mm: float) -> str:
    """Kept, because most joints of a loom are alike."""
    fit = choose_tube([tube_size(tube) for tube in tubes], Range.exactly(widest_mm), grips_mm)
    return "insulating tape" if isinstance(fit, NoTube) else fit.tube.name


def staggered(splices: tuple[Splice, ...]) -> tuple[Splice, ...]:
    """Splices with the distance to the nearest other one on the same part."""
    on_part: dict[str, list[Splice]] = {}
    for splice in splices:
        on_part.setdefault(splice.spot.part, []).append(splice)
    made = []
    for splice in splices:
        near = (
            math.dist(splice.spot.at_mm, other.spot.at_mm)
            for other in on_part[splice.spot.part] if other.name != splice.name
        )
        made.append(replace(splice, stagger_mm=min(near, default=math.inf)))
    return tuple(made)
