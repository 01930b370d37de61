"""An LED that cannot sit where its lamp is."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, listed, plain
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import contains
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Point, Spot
from rushlight.stages.layouts import bay_shape, keep_out_shape

AT_HOLE_MM = 1.0
"""An LED shines through its own hole, so it must sit at it."""

IN_ROOM_MM = 15.0
"""An LED in a room may sit about so far from the middle of its window (project proposal: half a room)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    lamps = {lamp.name: lamp for lamp in design.lamps}
    far: dict[str, list[tuple[float, Emitter]]] = {}
    for emitter in design.loom.emitters:
        lamp = lamps.get(emitter.name)
        if emitter.kind in ("led", "room") and lamp is not None and lamp.spot is not None:
            moved = math.dist(lamp.spot.at_mm, emitter.spot.at_mm)
            kind = "room" if _in_opening(design, lamp.spot) else emitter.kind
            if moved > _limit(kind) and not _told(design, lamp.spot):
                far.setdefault(kind, []).append((moved, emitter))
    return tuple(_trouble(kind, rows) for kind, rows in far.items())


def _told(design: Design, spot: Spot) -> bool:
    """Whether the lamp lies in a keep-out or a bay, which a finding about the plan tells."""
    part = design.plan.part(spot.part)
    return _within([keep_out_shape(row) for row in part.keep_outs] + [bay_shape(bay) for bay in part.bays], spot)


def _in_opening(design: Design, spot: Spot) -> bool:
    """Whether the lamp is seen through an opening, behind which its LED may stand back."""
    return _within([opening.shape_mm for opening in design.plan.part(spot.part).openings], spot)


def _within(corners: list[tuple[Point, ...]], spot: Spot) -> bool:
    shapes = [shape for outline in corners if isinstance(shape := shape_from_outline(outline), Shape)]
    return bool(shapes) and bool(contains(shapes, [spot.at_mm])[0])


def _limit(kind: str) -> float:
    return AT_HOLE_MM if kind == "led" else IN_ROOM_MM


def _trouble(kind: str, rows: list[tuple[float, Emitter]]) -> Trouble:
    moved, emitter = max(rows, key=lambda row: row[0])
    names = listed([row.name for _, row in rows])
    return Trouble(
        item=emitter.name, spot=emitter.spot, number=moved, limit=_limit(kind),
        grade=None if kind == "room" else Grade.WILL_FAIL,
        says=capital(f"{names}: the nearest free place for the LED is {plain(moved)} mm from the lamp; "
                     f"{plain(_limit(kind))} mm is the most."),
    )


RULE = Rule(
    key="loom.emitter-moved",
    grade=Grade.DOUBTFUL,
    title="LED far from its lamp",
    unit="mm",
    why="Beside its place an LED shines at the wall, not out of the hole or the window.",
    cure="Make room for it: move the lamp, or make the keep-out or the opening beside it smaller; or make the lamp by "
         "fibre.",
    source="geometry: free space of the part",
    look=_look,
)
