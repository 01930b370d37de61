"""From a plan's parts and crossings to the maps on which leads and fibres are routed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from rushlight.errors import OutOfRange
from rushlight.geometry.approach import Approach, approach
from rushlight.geometry.layout import Crossing as MapCrossing
from rushlight.geometry.layout import Place, RouteMap, Sheet, build_layout, routed_sheet
from rushlight.geometry.region import QUARTER_SEGMENTS, nearest_edge_mm
from rushlight.geometry.region import KeepOut as Region
from rushlight.geometry.relief import Height, surface_length_mm, surface_stretch
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Crossing, Plan
from rushlight.model.plan_part import Bay, KeepOut, Opening, Part, StringLength

WIRE_MARGIN_MM = 1.0
"""Leads keep this clear of edges and keep-outs (project proposal: half a thick lead and room for glue)."""

ROUND_SIDES = 32
"""Corners of the polygon that stands for a round keep-out (drawn round it, so that clearance holds)."""

WIRE_CHORDS = 4
"""Chords to a quarter turn of a corner that leads pass: no bend of a lead is measured, so few are enough."""

UNKNOWN_RELIEF_SHARE = 0.15
"""Slack carried by routes on a part whose depth is unknown (project proposal: a 33 degree slope throughout)."""

ROOM_SHARES = (1.0, 0.5, 0.25)

CARRIES = {"leads and fibres": ("wire", "fibre"), "leads": ("wire",), "fibres": ("fibre",)}


@dataclass(frozen=True, slots=True)
class Fit:
    """A place moved to where something can really sit, and how far it was moved."""

    spot: Spot
    moved_mm: float


def wire_map(plan: Plan) -> RouteMap:
    """Where leads may run."""
    return build_layout(
        _sheets(plan), _crossings(plan), margin_mm=WIRE_MARGIN_MM, kind="wire", chords=WIRE_CHORDS
    )


def fibre_map(plan: Plan, bend_radius_mm: float) -> RouteMap:
    """Where fibres may run so that every bend is at least so wide.

    A part that leaves no room for it gets half the radius, then a quarter, then the bare margin; the tightest bend
    that results stays on each tail, and is a finding where it is under the habit.
    """
    sheets = [replace(sheet, bend_radius_mm=_roomy(sheet, bend_radius_mm)) for sheet in _sheets(plan)]
    return build_layout(
        sheets, _crossings(plan), margin_mm=WIRE_MARGIN_MM, bend_radius_mm=bend_radius_mm, kind="fibre"
    )


def _roomy(sheet: Sheet, radius_mm: float) -> float:
    """The largest share of a radius at which a part's free space stays in as many pieces as with the bare margin."""
    bare = _pieces(sheet, 0.0, WIRE_CHORDS)
    return next((radius_mm * share for share in ROOM_SHARES if _pieces(sheet, radius_mm * share) == bare), 0.0)


def _pieces(sheet: Sheet, radius_mm: float, chords: int = QUARTER_SEGMENTS) -> int:
    routed = routed_sheet(sheet, margin_mm=WIRE_MARGIN_MM, bend_radius_mm=radius_mm, chords=chords)
    return len(routed.space.pieces)


def _sheets(plan: Plan) -> list[Sheet]:
    return [
        Sheet(name=part.name, outline_mm=part.outline_mm, keep_outs=tuple(_regions(part)), stretch=stretch_of(part))
        for part in plan.parts
    ]


def _regions(part: Part) -> list[Region]:
    """Keep-outs, bays and openings: nothing runs across any of them."""
    keep = [Region(row.name, keep_out_shape(row)) for row in part.keep_outs]
    bays = [Region(bay.name, bay_shape(bay)) for bay in part.bays]
    openings = [Region(f"opening {row.name}", row.shape_mm) for row in part.openings]
    return keep + bays + openings


def keep_out_shape(row: KeepOut) -> tuple[Point, ...]:
    """Corners of a keep-out, however it was given; a round one as a polygon drawn round it."""
    if row.centre_mm is not None and row.radius_mm is not None:
        return _round(row.centre_mm, row.radius_mm)
    if row.rect_mm is not None:
        return Opening(name=row.name, rect_mm=row.rect_mm).shape_mm
    return row.outline_mm


def _round(centre: Point, radius_mm: float) -> tuple[Point, ...]:
    out = radius_mm / math.cos(math.pi / ROUND_SIDES)
    angles = [2 * math.pi * k / ROUND_SIDES for k in range(ROUND_SIDES)]
    return tuple((centre[0] + out * math.cos(a), centre[1] + out * math.sin(a)) for a in angles)


def bay_shape(bay: Bay) -> tuple[Point, ...]:
    """Corners of a bay."""
    return Opening(name=bay.name, rect_mm=bay.rect_mm).shape_mm


def stretch_of(part: Part) -> float:
    """How much longer a route is than it looks on the flat part: the worst string length that was measured."""
    return max([1.0, *(_string_stretch(string) for string in part.relief.strings)])


def _string_stretch(string: StringLength) -> float:
    flat = math.dist(string.from_mm, string.to_mm)
    try:
        return surface_stretch(string.length_mm, flat)
    except OutOfRange:  # a string shorter than its marks are apart, or five times as long: told by a finding
        return 1.0


def relief_mm(part: Part, points_mm: tuple[Point, ...]) -> float:
    """Length that a leg has over its flat drawing: by measured heights, or as slack where the depth is unknown.

    A string's stretch is in the map already, so it adds nothing here.
    """
    flat = sum(math.dist(a, b) for a, b in pairwise(points_mm))
    if part.relief.heights and len(points_mm) > 1:
        heights = [Height(row.at_mm[0], row.at_mm[1], row.height_mm) for row in part.relief.heights]
        return max(surface_length_mm(points_mm, heights, step_mm=5.0) - flat, 0.0)
    return 0.0 if part.relief.known else UNKNOWN_RELIEF_SHARE * flat


def _crossings(plan: Plan) -> list[MapCrossing]:
    return [
        MapCrossing(
            row.name, _place(row, 0), _place(row, 1), length_mm=row.slack_mm, carries=CARRIES[row.carries]
        )
        for row in plan.crossings
    ]


def _place(row: Crossing, end: int) -> Place:
    return Place(row.ends[end].part, *row.ends[end].at_mm)


def settled(route_map: RouteMap, spot: Spot) -> Fit | None:
    """The nearest place to `spot` on its part where a lead can reach; None when the part has no free space.

    A place on an opening or in a keep-out moves to the nearest edge of free space: an LED that shines through an
    opening sits beside it.
    """
    routed = next(sheet for sheet in route_map.sheets if sheet.sheet.name == spot.part)
    if not routed.space.pieces:
        return None
    found = approach(routed.space, spot.at_mm)
    if isinstance(found, Approach):
        return Fit(spot, 0.0)
    best = nearest_edge_mm([piece.shape for piece in routed.space.pieces], spot.at_mm)
    return Fit(Spot(spot.part, *best), math.dist(best, spot.at_mm))


def roomy_spot(route_map: RouteMap, spot: Spot) -> Spot | None:
    """The nearest place to `spot` on its part that keeps the map's full clearance; None when there is none."""
    routed = next(sheet for sheet in route_map.sheets if sheet.sheet.name == spot.part)
    if not routed.space.pieces:
        return None
    found = approach(routed.space, spot.at_mm)
    if isinstance(found, Approach):
        return Spot(spot.part, *found.legal_mm)
    return Spot(spot.part, *nearest_edge_mm([piece.shape for piece in routed.space.pieces], spot.at_mm))


def feed_spot(plan: Plan, route_map: RouteMap) -> Spot | None:
    """Where the trunk enters the bay of the supply: the reachable place nearest to the bay's middle.

    Without a supply or a bay it is the middle of the first part's free space.
    """
    bay = find_bay(plan)
    if bay is None:
        first = next((sheet for sheet in route_map.sheets if sheet.space.pieces), None)
        return None if first is None else Spot(first.sheet.name, *first.space.pieces[0].inside_mm)
    part, row = bay
    x, y, width, height = row.rect_mm
    fit = settled(route_map, Spot(part.name, x + width / 2, y + height / 2))
    return None if fit is None else fit.spot


def find_bay(plan: Plan) -> tuple[Part, Bay] | None:
    """The bay that the supply names, else the plan's first."""
    bays = [(part, bay) for part in plan.parts for bay in part.bays]
    wanted = plan.supply.bay if plan.supply else None
    named = [pair for pair in bays if pair[1].name == wanted]
    return next(iter(named or bays), None)
