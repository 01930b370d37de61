"""What the pictures by night show besides lamps: floodlit ground, and the bands that a strip leaves in an opening."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.sheet import Point

if TYPE_CHECKING:
    from rushlight.sheets.dark import Laid, Layout


@dataclass(frozen=True, slots=True)
class ShownPool:
    """One ground under all of its floodlights: luminance from below upwards, colour, and the rhythm that all share."""

    part: str
    states: tuple[str, ...]
    lamps: tuple[str, ...]
    corner_mm: Point
    step_mm: float
    cd_m2: tuple[tuple[float, ...], ...]
    xy: Point
    rhythm: str


@dataclass(frozen=True, slots=True)
class PaperPool:
    """The same on paper, y up: the first node, the way to the next column and row, the part's edge."""

    origin_mm: Point
    step_mm: Point
    cd_m2: tuple[tuple[float, ...], ...]
    xy: Point
    rhythm: str
    edge_mm: tuple[Point, ...]


BANDED_FROM = 0.02
"""Michelson contrast from which a strip's bands are drawn; below it an opening looks even."""


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
    """Every ground that the plan names; luminance of matt ground, lx times its reflectance over pi."""
    placed = {lamp.name: lamp for lamp in design.lamps}
    return tuple(
        ShownPool(
            ground.part, ground.states, ground.lamps, ground.corner_mm, ground.step_mm,
            tuple(tuple(float(f"{lx * ground.reflectance / math.pi:.3g}") for lx in row) for row in ground.lx),
            _mixed([placed[name] for name in ground.lamps]), _rhythm([placed[name] for name in ground.lamps]),
        )
        for ground in design.light.grounds if ground.part is not None
    )


def _mixed(lamps: list[PlacedLamp]) -> Point:
    """Colour of all lamps at equal luminance."""
    xyz = np.array([(lamp.colour.x / lamp.colour.y, 1.0, (1.0 - lamp.colour.x - lamp.colour.y) / lamp.colour.y)
                    for lamp in lamps]).sum(axis=0)
    return (round(float(xyz[0] / xyz.sum()), 6), round(float(xyz[1] / xyz.sum()), 6))


def _rhythm(lamps: list[PlacedLamp]) -> str:
    """The rhythm of all of them; steady if they differ."""
    found = {lamp.rhythm for lamp in lamps}
    return found.pop() if len(found) == 1 and found != {"steady"} else ""


def paper_pools(design: Design, state: str, layout: Layout) -> tuple[PaperPool, ...]:
    """Floodlit grounds of a state on the parts that a layout shows."""
    places = {laid.part.name: laid for laid in layout.parts}
    return tuple(paper_pool(pool, places[pool.part]) for pool in shown_pools(design)
                 if pool.part in places and state in pool.states)


def paper_pool(pool: ShownPool, laid: Laid) -> PaperPool:
    """A ground where its part lies on paper."""
    x, y = pool.corner_mm
    start, across, up = laid.at((x, y)), laid.at((x + pool.step_mm, y)), laid.at((x, y + pool.step_mm))
    return PaperPool(start, (across[0] - start[0], up[1] - start[1]), pool.cd_m2, pool.xy, pool.rhythm,
                     tuple(laid.at(point) for point in laid.part.outline_mm))
