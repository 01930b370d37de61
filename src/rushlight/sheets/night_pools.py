"""What the pictures by night show besides lamps: floodlit ground, walls that let light through, bands of a strip."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.design_light import WallGlow, WallSpot
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Point
from rushlight.stages.outlook import eye_of, outlook
from rushlight.stages.sources.common import light_colour
from rushlight.stages.spots import spot_shares

if TYPE_CHECKING:
    from rushlight.sheets.dark import Laid, Layout


@dataclass(frozen=True, slots=True)
class ShownPool:
    """One ground under all of its floodlights, or one wall that light comes through.

    Luminance from below upwards, colour, and the rhythm that all lamps share. `edge_mm` is where it ends on its part;
    empty: at the part's outline.
    """

    part: str
    states: tuple[str, ...]
    lamps: tuple[str, ...]
    corner_mm: Point
    step_mm: float
    cd_m2: tuple[tuple[float, ...], ...]
    xy: Point
    rhythm: str
    edge_mm: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class PaperPool:
    """The same on paper, y up: the first node, the way to the next column and row, the part's edge.

    The next column lies (step_mm[0], lean_mm[0]) on, the next row (lean_mm[1], step_mm[1]).
    """

    origin_mm: Point
    step_mm: Point
    cd_m2: tuple[tuple[float, ...], ...]
    xy: Point
    rhythm: str
    edge_mm: tuple[Point, ...]
    lean_mm: Point = (0.0, 0.0)


BANDED_FROM = 0.02
"""Michelson contrast from which a strip's bands are drawn; below it an opening looks even."""


LEAST_CD_M2 = 5e-4
"""Faintest wall that is laid into a picture: half the least luminance seen in the darkest of the viewing rooms."""


MOST_SPOTS = 60
"""So many spots beside sources are drawn, the brightest; more would only make the picture's data longer."""


@dataclass(frozen=True, slots=True)
class ShownBands:
    """Luminance along an opening over its mean, in even steps between two places on the part."""

    ends_mm: tuple[Point, Point]
    values: tuple[float, ...]


def shown_bands(design: Design) -> dict[str, ShownBands]:
    """By lamp, every opening in which the LEDs of its strip can be told apart."""
    found = {strip.lamp: bands_of(design, strip.lamp) for strip in design.light.strips}
    return {lamp: bands for lamp, bands in found.items() if bands}


def bands_of(design: Design, lamp: str) -> ShownBands | None:
    """The bands in one lamp's opening; None where it looks even."""
    strip = next((row for row in design.light.strips if row.lamp == lamp), None)
    if strip is None or strip.contrast < BANDED_FROM or strip.ends_mm[0] == strip.ends_mm[1]:
        return None
    return ShownBands(strip.ends_mm, tuple(round(value, 3) for _, value in strip.profile[::2]))


def shown_pools(design: Design) -> tuple[ShownPool, ...]:
    """Every floodlit ground, every wall that light comes through with its spots, every seam, ring and hole."""
    return (*_grounds(design), *_walls(design), *_spots(design), *_ways_out(design))


def _walls(design: Design) -> tuple[ShownPool, ...]:
    """Walls at their even luminance, without their openings; states in which a wall shows alike are one."""
    placed = {lamp.name: lamp for lamp in design.lamps}
    found: dict[tuple[str, float, Point, tuple[str, ...]], list[str]] = {}
    for leak in design.light.leaks:
        for glow in leak.glows:
            cd_m2 = float(f"{glow.luminance_cd_m2.typical:.3g}")
            if cd_m2 >= LEAST_CD_M2:
                found.setdefault((leak.part, cd_m2, glow.xy, glow.lamps), []).append(glow.state)
    edges = {part.name: _wall_edge(part) for part in design.plan.parts if any(key[0] == part.name for key in found)}
    return tuple(
        ShownPool(part, tuple(states), lamps, edges[part][0], 1.0, ((cd_m2, cd_m2), (cd_m2, cd_m2)), xy,
                  _rhythm([placed[name] for name in lamps]), edges[part])
        for (part, cd_m2, xy, lamps), states in found.items() if edges[part]
    )


def _wall_edge(part: Part) -> tuple[Point, ...]:
    """The part without its openings as one closed line."""
    return one_line(_wall(part))


def _wall(part: Part) -> BaseGeometry:
    """The part without its openings."""
    holes = shapely.union_all([shapely.Polygon(row.shape_mm).buffer(0) for row in part.openings])
    return shapely.Polygon(part.outline_mm).buffer(0).difference(holes)


def one_line(wall: BaseGeometry) -> tuple[Point, ...]:
    """A shape as one closed line: rings joined by ways that are gone there and back."""
    pieces = [piece for piece in shapely.get_parts(shapely.get_parts(wall)) if piece.area > 0.0]
    rings = [list(ring.coords) for piece in pieces for ring in (piece.exterior, *piece.interiors)]
    line = [point for ring in rings for point in (*ring, rings[0][0])]
    return tuple((round(x, 4), round(y, 4)) for x, y in line)


def _spots(design: Design) -> tuple[ShownPool, ...]:
    """The brightest spots beside sources, on top of the even glow of their walls."""
    placed, walls = {lamp.name: lamp for lamp in design.lamps}, dict[str, BaseGeometry]()
    seen = [spot for spot in design.light.spots if spot.luminance_cd_m2.typical >= LEAST_CD_M2]
    made = []
    for spot in sorted(seen, key=lambda row: -row.luminance_cd_m2.typical)[:MOST_SPOTS]:
        if spot.part not in walls:
            walls[spot.part] = _wall(design.plan.part(spot.part))
        corner, step, shares, edge = _spot_grid(spot, walls[spot.part])
        states: dict[float, list[WallGlow]] = {}
        for glow in spot.glows:
            states.setdefault(float(f"{glow.luminance_cd_m2.typical:.3g}"), []).append(glow)
        made += [
            ShownPool(spot.part, tuple(glow.state for glow in alike), alike[0].lamps, corner, step,
                      tuple(tuple(float(f"{cd_m2 * share:.3g}") for share in row) for row in shares), alike[0].xy,
                      _rhythm([placed[name] for name in alike[0].lamps]), edge)
            for cd_m2, alike in states.items() if edge
        ]
    return tuple(made)


def _spot_grid(
    spot: WallSpot, wall: BaseGeometry
) -> tuple[Point, float, npt.NDArray[np.float64], tuple[Point, ...]]:
    """Corner, step and shares of a spot out to three times its distance behind the wall, and where it ends there."""
    reach = 3.0 * (spot.off_mm + spot.from_mm)
    xs, ys = zip(*spot.points_mm, strict=True)
    box = (min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach)
    step = max(reach / 6.0, max(box[2] - box[0], box[3] - box[1]) / 40.0)
    across, up = (box[0] + step * np.arange(math.ceil((box[2] - box[0]) / step) + 1),
                  box[1] + step * np.arange(math.ceil((box[3] - box[1]) / step) + 1))
    shares = spot_shares(spot, np.stack(np.meshgrid(across, up), axis=-1))
    near = shapely.MultiPoint(spot.points_mm).buffer(reach, quad_segs=6)
    hole = shapely.Point(spot.points_mm[0]).buffer(spot.from_mm, quad_segs=6)
    shown = wall.intersection(near).difference(hole) if len(spot.points_mm) == 1 else wall.intersection(near)
    return (round(box[0], 4), round(box[1], 4)), round(step, 6), shares, one_line(shown)


def _ways_out(design: Design) -> tuple[ShownPool, ...]:
    """Seams, rings and holes at their typical luminance and width; those that no eye sees are left out."""
    placed = {lamp.name: lamp for lamp in design.lamps}
    found: dict[tuple[str, float, Point, tuple[str, ...], tuple[Point, ...]], list[str]] = {}
    for row in design.light.ways_out:
        for glow in row.glows if row.outlines_mm and row.seen_in else ():
            cd_m2 = float(f"{glow.luminance_cd_m2.typical:.3g}")
            if cd_m2 >= LEAST_CD_M2:
                key = (row.part, cd_m2, glow.xy, glow.lamps, _joined(row.outlines_mm))
                found.setdefault(key, []).append(glow.state)
    return tuple(
        ShownPool(part, tuple(states), lamps, edge[0], 1.0, ((cd_m2, cd_m2), (cd_m2, cd_m2)), xy,
                  _rhythm([placed[name] for name in lamps]), edge)
        for (part, cd_m2, xy, lamps, edge), states in found.items()
    )


def _joined(rings: tuple[tuple[Point, ...], ...]) -> tuple[Point, ...]:
    """Closed lines as one, by ways that are gone there and back."""
    return tuple(point for ring in rings for point in (*ring, rings[0][0]))


def _grounds(design: Design) -> tuple[ShownPool, ...]:
    """Every ground that the plan names; luminance of matt ground, lx times its reflectance over pi."""
    placed = {lamp.name: lamp for lamp in design.lamps}
    flux = {(row.lamp, row.state): row.flux_lm.typical for row in design.light.lamps}
    return tuple(
        ShownPool(
            ground.part, ground.states, ground.lamps, ground.corner_mm, ground.step_mm,
            tuple(tuple(float(f"{lx * ground.reflectance / math.pi:.3g}") for lx in row) for row in ground.lx),
            _mixed([(hue_of(design, placed[name]), flux[name, ground.states[0]]) for name in ground.lamps]),
            _rhythm([placed[name] for name in ground.lamps]),
        )
        for ground in design.light.grounds if ground.part is not None
    )


def hue_of(design: Design, lamp: PlacedLamp) -> Point:
    """The colour in which a lamp shows, x and y: of its LED where that is another than it should be."""
    lit = lamp.states and not lamp.dark
    colour = light_colour(design.drawer, design.source(lamp.name), lamp.colour) if lit else lamp.colour
    return (colour.x, colour.y)


def _mixed(lamps: list[tuple[Point, float]]) -> Point:
    """Colour (x, y) of all lamps together, each by its flux."""
    xyz = np.array([(lm * x / y, lm, lm * (1.0 - x - y) / y) for (x, y), lm in lamps]).sum(axis=0)
    return (round(float(xyz[0] / xyz.sum()), 6), round(float(xyz[1] / xyz.sum()), 6))


def _rhythm(lamps: list[PlacedLamp]) -> str:
    """The rhythm of all of them; steady if they differ."""
    found = {lamp.rhythm for lamp in lamps}
    return found.pop() if len(found) == 1 and found != {"steady"} else ""


def paper_pools(design: Design, state: str, layout: Layout) -> tuple[PaperPool, ...]:
    """Floodlit grounds of a state on the parts that a layout shows and that do not look away from the plan's eye."""
    behind = outlook(design, state, eye_of(design.plan)).behind
    places = {laid.part.name: laid for laid in layout.parts if laid.part.name not in behind}
    return tuple(paper_pool(pool, places[pool.part]) for pool in shown_pools(design)
                 if pool.part in places and state in pool.states)


def paper_pool(pool: ShownPool, laid: Laid) -> PaperPool:
    """A ground where its part lies on paper."""
    x, y = pool.corner_mm
    start, across, up = laid.at((x, y)), laid.at((x + pool.step_mm, y)), laid.at((x, y + pool.step_mm))
    edge = pool.edge_mm or laid.part.outline_mm
    return PaperPool(start, (across[0] - start[0], up[1] - start[1]), pool.cd_m2, pool.xy, pool.rhythm,
                     tuple(laid.at(point) for point in edge))
