"""A state in the dark as the model stands: parts on one another, poses taken, seen from the plan's bearing."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from rushlight.errors import UnknownName
from rushlight.geometry.bearing import direction
from rushlight.geometry.folded import moved_by
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.place import Point
from rushlight.model.plan import State
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Drawing, Layer, Picture, Polyline, Sheet, Text
from rushlight.sheets.amounts import sentence
from rushlight.sheets.dark import (
    EDGE_MM,
    HIGH_MM,
    LARGEST_SCALE,
    PART,
    SMALL_SCALES,
    WIDE_MM,
    Laid,
    glow_shape,
    half_cd_m2,
    seen_lights,
)
from rushlight.sheets.glow import Glow, View, glow_png
from rushlight.sheets.night_pools import PaperPool, ShownPool, one_line, shown_pools
from rushlight.sheets.night_words import listed, way_words
from rushlight.sheets.place import SCALES
from rushlight.sheets.words import shortened, slug
from rushlight.stages.outlook import beams_of, outlook, root_attitude, turned_in
from rushlight.stages.stands import base_point, frame_to_root, panels_of, values_in

Array = NDArray[np.float64]

USUAL_DEG = (65.0, 12.0)
"""Bearing and height from which it is seen where the plan names none: off the beam, but less than a bare fibre's cone
(half angle 30 degrees), so that lamps in a ship's side are seen."""

NEARER_MM = 0.5
"""A wall hides a lamp only if it lies nearer to the eye by this: what the lamp sits on does not."""


@dataclass(frozen=True, slots=True)
class Flat:
    """A flat piece of a part as the eye sees it.

    `own` is what it covers on its part's drawing, by the place `at` of it; `outer`: its outer face looks at the eye.
    `area` is what it covers on the picture, `lines` its edges with those of its openings [mm of model]; `near` is
    (a, b, c): how near the eye the place (x, y) of the picture lies on it is a x + b y + c [mm].
    """

    part: str
    at: Point
    own: Any
    outer: bool
    area: Any
    lines: Any
    near: tuple[float, float, float]


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet of them; none where no parts stand on one another whose bearing is known."""
    pictures = standing_pictures(design)
    return (Sheet("standing", "In the dark, as it stands", pictures),) if pictures else ()


def standing_pictures(design: Design) -> tuple[Drawing, ...]:
    """One picture a state; none where no parts stand on one another whose bearing is known."""
    parts = _tree(design)
    if len(parts) < 2:
        return ()
    return tuple(_picture(design, state, parts) for state in design.plan.states)


def standing_picture(design: Design, state: str, seen_from_deg: tuple[float, float] | None = None) -> Drawing | None:
    """The picture of one state, seen from a bearing and height [deg] or as the plan has it; None as in all states.

    Raises
    ------
    UnknownName
        The plan has no such state.
    """
    names = [row.name for row in design.plan.states]
    if state not in names:
        raise UnknownName("state", state, names)
    turned = design if seen_from_deg is None else _turned(design, *seen_from_deg)
    parts = _tree(turned)
    return None if len(parts) < 2 else _picture(turned, turned.plan.states[names.index(state)], parts)


def _turned(design: Design, bearing_deg: float, height_deg: float) -> Design:
    """The same design, looked at from elsewhere: nothing but what is seen follows from that."""
    subject = replace(design.plan.subject, viewing_bearing_deg=bearing_deg, viewing_height_deg=height_deg)
    return replace(design, plan=replace(design.plan, subject=subject))


def _tree(design: Design) -> tuple[Part, ...]:
    """The parts of known attitude that stand on one another, of all such heaps the one with the most lamps."""
    plan = design.plan
    heaps: dict[str, list[Part]] = {}
    for part in plan.parts:
        if root_attitude(plan, part) is not None:
            heaps.setdefault(frame_to_root(plan, part.name, base_point(part), {})[1], []).append(part)
    carried = [lamp.spot.part for lamp in design.lamps if lamp.spot]
    none: list[Part] = []
    return tuple(max(heaps.values(), key=lambda heap: sum(part.name in carried for part in heap), default=none))


@dataclass(frozen=True, slots=True)
class _Eye:
    """Who looks: the picture's x, y and the way to the eye as rows, over the root part's drawing."""

    rows: Array
    values: dict[str, float]


def seen_from(design: Design) -> tuple[float, float]:
    """Bearing and height of the eye [deg]."""
    subject = design.plan.subject
    return USUAL_DEG if subject.viewing_bearing_deg is None else (
        subject.viewing_bearing_deg, subject.viewing_height_deg)


def _eye(design: Design, state: str, one: Part) -> _Eye:
    """The eye over the drawing on which all parts of the heap stand, told by one of them."""
    root = design.plan.part(frame_to_root(design.plan, one.name, base_point(one), {})[1])
    lies, (bearing_deg, height_deg) = root_attitude(design.plan, root), seen_from(design)
    assert lies is not None
    to_eye, right = direction(bearing_deg, height_deg), direction(bearing_deg - 90.0)
    return _Eye(np.stack([right, np.cross(to_eye, right), to_eye]) @ lies, values_in(design.plan, state))


def _seen(design: Design, eye: _Eye, part: str, at: Point, points: Any) -> Array:
    """Points of the piece at a place of a part: x, y on the picture and how near the eye, shape (n, 3)."""
    frame, _ = frame_to_root(design.plan, part, at, eye.values)
    return np.asarray(moved_by(frame, points) @ eye.rows.T)


def flats_of(design: Design, parts: tuple[Part, ...], state: str) -> tuple[Flat, ...]:
    """Every flat piece of the parts as the plan's eye sees it in a state; pieces seen edge on are left out."""
    eye, found = _eye(design, state, parts[0]), []
    for part in parts:
        holes = shapely.union_all([shapely.make_valid(shapely.Polygon(row.shape_mm)) for row in part.openings])
        for panel in panels_of(part, base_point(part)):
            spot = panel.area.representative_point()
            at = (float(spot.x), float(spot.y))
            corner, across, up = _seen(design, eye, part.name, at, [at, (at[0] + 1.0, at[1]), (at[0], at[1] + 1.0)])
            a, b = across - corner, up - corner
            turned = float(a[0] * b[1] - a[1] * b[0])
            if abs(turned) < 1e-6:
                continue
            area, holed = (_thrown(design, eye, part.name, at, shape)
                           for shape in (panel.area, panel.area.difference(holes)))
            near = np.linalg.solve(np.array([[*a[:2]], [*b[:2]]]), np.array([a[2], b[2]]))
            start = float(corner[2] - near @ corner[:2])
            outer = (turned > 0.0) == (part.drawn_from == "outside")
            found.append(Flat(part.name, at, panel.area, outer, area, shapely.boundary(holed),
                              (float(near[0]), float(near[1]), start)))
    return tuple(found)


def _thrown(design: Design, eye: _Eye, part: str, at: Point, shape: Any) -> Any:
    """A shape of a piece on the picture."""
    return shapely.make_valid(shapely.transform(shape, lambda flat: _seen(design, eye, part, at, flat)[:, :2]))


def hidden(flats: tuple[Flat, ...], at: Array) -> NDArray[np.bool_]:
    """Whether a piece lies between places (x, y, how near the eye), shape (n, 3), and the eye; shape (n,)."""
    found, (x, y, near) = np.zeros(len(at), bool), np.reshape(at, (-1, 3)).T
    for row in flats:
        nearer = np.flatnonzero(~found & (row.near[0] * x + row.near[1] * y + row.near[2] > near + NEARER_MM))
        found[nearer] = shapely.contains_xy(row.area, x[nearer], y[nearer])
    return found


def standing_glows(design: Design, state: State, parts: tuple[Part, ...]) -> dict[str, Glow]:
    """Every lit lamp of the parts that the eye sees, by name, at its place on the picture [mm of model]."""
    eye, flats = _eye(design, state.name, parts[0]), flats_of(design, parts, state.name)
    look, own = outlook(design, state.name, direction(*seen_from(design))), {part.name: part for part in parts}
    lights, leans = seen_lights(design, state.name, look), _leans(design, state.name)
    some = [(lamp, lamp.spot) for lamp in design.lamps
            if lamp.name in lights and lamp.spot is not None and lamp.spot.part in own]
    places = [_seen(design, eye, spot.part, spot.at_mm, [spot.at_mm])[0] for _, spot in some]
    found = {}
    for (lamp, spot), behind in zip(some, hidden(flats, np.array(places)), strict=True):
        flat = glow_shape(design, lamp, _as_drawn(own[spot.part]), lights[lamp.name])
        glow = _stood(design, eye, lamp, flat)
        if glow.shape_mm:
            glow = _left_of(glow, _nearer_than(_flat_at(flats, lamp), flats))
        elif behind:
            continue
        elif lamp.name in leans:
            glow = replace(glow, lean=leans[lamp.name])
        if glow.intensity_cd > 0.0:
            found[lamp.name] = glow
    return found


def _leans(design: Design, state: str) -> dict[str, Point]:
    """Of every flat lamp the way of its axis along the picture's x and y: it is drawn together along that."""
    bearing_deg, height_deg = seen_from(design)
    right = direction(bearing_deg - 90.0)
    up = np.cross(direction(bearing_deg, height_deg), right)
    found: dict[str, Point] = {}
    for name, beam in beams_of(design).items():
        spot = design.lamp(name).spot
        if spot is not None and beam.lies and beam.axis:
            turn = turned_in(design.plan, spot.part, state)
            axis = np.array(beam.axis) if turn is None else turn @ np.array(beam.axis)
            found[name] = (float(right @ axis), float(up @ axis))
    return found


def _flat_at(flats: tuple[Flat, ...], lamp: PlacedLamp) -> Flat | None:
    """The piece on which a lamp lies; None where it is seen edge on."""
    spot = lamp.spot
    mine = [row for row in flats if spot and row.part == spot.part]
    return min(mine, key=lambda row: row.own.distance(shapely.Point(spot.at_mm)), default=None) if spot else None


def _left_of(glow: Glow, before: Any) -> Glow:
    """What is seen of an opening past nearer pieces, with as much of its light."""
    whole = shapely.make_valid(shapely.Polygon(glow.shape_mm))
    seen = whole.difference(before)
    if seen.area >= whole.area * (1.0 - 1e-9):
        return glow
    share = seen.area / whole.area if whole.area > 0.0 else 0.0
    return replace(glow, shape_mm=one_line(seen), intensity_cd=glow.intensity_cd * share)


def _nearer_than(flat: Flat | None, flats: tuple[Flat, ...]) -> Any:
    """What pieces nearer to the eye hide of one."""
    return shapely.union_all([_before(other, flat) for other in flats if flat and other is not flat])


def _before(other: Flat, flat: Flat) -> Any:
    """What of another piece lies between one and the eye: where they pass through each other, up to that line."""
    if not flat.area.intersects(other.area):
        return shapely.Polygon()
    left, low, right, top = flat.area.intersection(other.area).bounds
    a, b, c = np.subtract(other.near, flat.near)
    box = [(left, low), (right, low), (right, top), (left, top)]
    far = [float(a * x + b * y + c) for x, y in box]
    if max(far) <= NEARER_MM:
        return shapely.Polygon()
    hides = other.area if min(far) >= 0.0 else other.area.intersection(_clipped(box, far))
    return shapely.union_all([piece for piece in shapely.get_parts(hides) if piece.area > 0.0])


def _clipped(ring: list[Point], far: list[float]) -> Any:
    """What of a convex ring lies where a value, straight between its corners' values, is above zero."""
    kept: list[Point] = []
    for n, (x, y) in enumerate(ring):
        (u, v), here, there = ring[n - 1], far[n], far[n - 1]
        if (here > 0.0) != (there > 0.0):
            share = there / (there - here)
            kept.append((u + share * (x - u), v + share * (y - v)))
        if here > 0.0:
            kept.append((x, y))
    return shapely.Polygon(kept)


def standing_pools(design: Design, state: State, parts: tuple[Part, ...]) -> tuple[PaperPool, ...]:
    """Floodlit ground and walls that light comes through, where the eye sees their outer face [mm of model].

    Matt ground and walls are as bright from every side (Lambert), so what is seen of each is only laid aslant.
    """
    eye, flats = _eye(design, state.name, parts[0]), flats_of(design, parts, state.name)
    found = []
    for pool in shown_pools(design):
        for flat in flats if state.name in pool.states else ():
            if flat.part == pool.part and flat.outer:
                found += _pool_on(design, eye, pool, flat, _nearer_than(flat, flats))
    return tuple(found)


def _pool_on(design: Design, eye: _Eye, pool: ShownPool, flat: Flat, before: Any) -> list[PaperPool]:
    """A pool on one piece, without what nearer pieces hide."""
    edge = pool.edge_mm or design.plan.part(pool.part).outline_mm
    lit = flat.own.intersection(shapely.make_valid(shapely.Polygon(edge)))
    seen = _thrown(design, eye, pool.part, flat.at, lit).difference(before)
    if seen.area <= 0.0:
        return []
    (x, y), step = pool.corner_mm, pool.step_mm
    start, column, row = _seen(design, eye, pool.part, flat.at, [(x, y), (x + step, y), (x, y + step)])[:, :2]
    along, up = column - start, row - start
    return [PaperPool((float(start[0]), float(start[1])), (float(along[0]), float(up[1])), pool.cd_m2, pool.xy,
                      pool.rhythm, one_line(seen), (float(along[1]), float(up[0])))]


def _as_drawn(part: Part) -> Laid:
    """The part laid where it is drawn, at its own size."""
    xs, ys = zip(*part.outline_mm, strict=True)
    return Laid(replace(part, drawn_from="outside"), (min(xs), min(ys)), 1.0)


def _stood(design: Design, eye: _Eye, lamp: PlacedLamp, flat: Glow) -> Glow:
    """The glow of a lamp on its drawing as it stands."""
    assert lamp.spot is not None

    def stood(points: tuple[Point, ...]) -> tuple[Point, ...]:
        seen = _seen(design, eye, lamp.spot.part, lamp.spot.at_mm, points) if points and lamp.spot else ()
        return tuple((float(row[0]), float(row[1])) for row in seen)

    return replace(flat, at_mm=stood((flat.at_mm,))[0], shape_mm=stood(flat.shape_mm),
                   ends_mm=stood(flat.ends_mm))  # type: ignore[arg-type]


# --- on paper ------------------------------------------------------------------------------------------------------


def _picture(design: Design, state: State, parts: tuple[Part, ...]) -> Drawing:
    flats, glows = flats_of(design, parts, state.name), standing_glows(design, state, parts)
    boxes = [row.area.bounds for row in flats] + [(*glow.at_mm, *glow.at_mm) for glow in glows.values()]
    left, low = (min(box[k] for box in boxes) for k in (0, 1)) if boxes else (0.0, 0.0)
    right, top = (max(box[k] for box in boxes) for k in (2, 3)) if boxes else (1.0, 1.0)
    room = (WIDE_MM - 2 * EDGE_MM, HIGH_MM - 3 * EDGE_MM)
    fits = [scale for scale in (*(s for s in SCALES if s <= LARGEST_SCALE), *SMALL_SCALES)
            if (right - left) * scale <= room[0] and (top - low) * scale <= room[1]]
    scale = fits[0] if fits else SMALL_SCALES[-1]
    wide, high = (right - left) * scale + 2 * EDGE_MM, (top - low) * scale + 3 * EDGE_MM

    def on(point: Point) -> Point:
        return (EDGE_MM + (point[0] - left) * scale, 2 * EDGE_MM + (point[1] - low) * scale)

    paper = [replace(glow, at_mm=on(glow.at_mm), radius_mm=glow.radius_mm * scale,
                     shape_mm=tuple(map(on, glow.shape_mm)), ends_mm=(on(glow.ends_mm[0]), on(glow.ends_mm[1])))
             for glow in glows.values()]
    pools = [replace(pool, origin_mm=on(pool.origin_mm), step_mm=_times(pool.step_mm, scale),
                     lean_mm=_times(pool.lean_mm, scale), edge_mm=tuple(map(on, pool.edge_mm)))
             for pool in standing_pools(design, state, parts)]
    view = View(scale, design.plan.subject.viewing_distance_mm, half_cd_m2(design))
    layers = (
        Layer("picture", (Picture((0.0, 0.0), wide, high, glow_png(paper, wide, high, view, pools)),)),
        Layer("outline", tuple(_edge(line, on) for row in flats for line in edges_seen(row, flats))),
        Layer("text", (Text((wide - EDGE_MM, EDGE_MM), shortened(sentence(state.name), 40), size=4, anchor="se",
                            colour="pale"),)),
    )
    words = (f"stands-{slug(state.name)}", f"{sentence(state.name)}, as it stands")
    return Drawing(*words, wide, high, layers, scale=scale, caption=_words(design, state, parts, len(glows)))


def _times(way: Point, scale: float) -> Point:
    return (way[0] * scale, way[1] * scale)


def edges_seen(flat: Flat, flats: tuple[Flat, ...]) -> list[Any]:
    """The edges of a piece as lines, without what nearer pieces hide of them."""
    lines = flat.lines
    for other in flats:
        hides = _before(other, flat) if other is not flat else shapely.Polygon()
        if not hides.is_empty:
            lines = lines.difference(hides)
    merged = shapely.line_merge(lines) if lines.geom_type == "MultiLineString" else lines
    return [line for line in shapely.get_parts(merged) if line.length > 0.0]


def _near(flat: Flat, x: float, y: float) -> float:
    """How near the eye a place of the picture lies on a piece [mm]."""
    return flat.near[0] * x + flat.near[1] * y + flat.near[2]


def _edge(line: Any, on: Any) -> Polyline:
    return Polyline(tuple(on((float(x), float(y))) for x, y in line.coords), PART)


def _words(design: Design, state: State, parts: tuple[Part, ...], seen: int) -> str:
    names = {part.name for part in parts}
    lit = {row.lamp for row in design.light.lamps if row.state == state.name}
    on = [lamp.name for lamp in design.lamps if lamp.name in lit and lamp.spot and lamp.spot.part in names]
    left = sorted({lamp.spot.part for lamp in design.lamps if lamp.name in lit and lamp.spot} - names)
    words = (f"Seen from {way_words(*seen_from(design))}, parallel rays: "
             f"{seen} of {len(on)} lit lamps, the others look away or are hidden. Lit windows have their true "
             "brightness, as far as nearer walls leave them free; floodlit ground and walls that light comes through "
             "are as bright as on the flat picture.")
    return f"{words} Not known where on it they stand: {listed(left)}." if left else words
