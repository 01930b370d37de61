"""The model as it stands: which lamps nearer pieces hide, beside a plain z-buffer and plain ray casting in numpy.

Rows of bench_light.py. The lamps are those of the tug demo, taken over and over.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import cycle, islice
from pathlib import Path

import numpy as np
import shapely
from light_rows import light_row, timed
from numpy.typing import NDArray

import rushlight
from rushlight.model.design import Design, PlacedLamp
from rushlight.open_plan import open_plan
from rushlight.sheets import standing
from rushlight.sheets.standing import NEARER_MM, Flat, flats_of, hidden, standing_picture

Array = NDArray[np.float64]

TUG = Path(rushlight.__file__).parent / "demos" / "tug"
STATE, PIXEL_MM = "under way", 0.25
QUICK, FULL = (10, 100), (10, 50, 125, 500)


def rows(full: bool) -> list[dict[str, object]]:
    """For each number of lamps: what hides them, beside two general ways; then the whole picture."""
    design = open_plan(TUG).design
    made: list[dict[str, object]] = []
    for count in FULL if full else QUICK:
        made += _rows(design, count)
        if count >= len(design.lamps):
            more = _more(design, count - len(design.lamps))
            _, seconds = timed(lambda more=more: standing_picture(more, STATE))  # type: ignore[misc]
            words = f"model as it stands, {count} lamps: the whole picture with its light"
            made.append(light_row(words, count, seconds, None, ""))
    return made


def _more(design: Design, count: int) -> Design:
    """The design with so many lamps more: those that stand on its parts, copied over and over."""
    some = list(islice(cycle(_standing(design)), count))
    lamps = tuple(replace(lamp, name=f"{lamp.name} / {n}") for n, lamp in enumerate(some))
    pairs = list(zip(some, lamps, strict=True))
    rows = {(row.lamp, row.state): row for row in design.light.lamps}
    light = tuple(replace(rows[old.name, state.name], lamp=new.name) for old, new in pairs
                  for state in design.plan.states if (old.name, state.name) in rows)
    sources = tuple(replace(design.source(old.name), lamp=new.name) for old, new in pairs)
    return replace(design, lamps=(*design.lamps, *lamps), sources=(*design.sources, *sources),
                   light=replace(design.light, lamps=(*design.light.lamps, *light)))


def _standing(design: Design) -> list[PlacedLamp]:
    parts = {part.name for part in standing._tree(design)}
    return [row for row in design.lamps if row.spot and row.spot.part in parts]


def _rows(design: Design, count: int) -> list[dict[str, object]]:
    parts = standing._tree(design)
    flats, eye = flats_of(design, parts, STATE), standing._eye(design, STATE, parts[0])
    spots = [lamp.spot for lamp in islice(cycle(_standing(design)), count) if lamp.spot]
    at = np.array([standing._seen(design, eye, spot.part, spot.at_mm, [spot.at_mm])[0] for spot in spots])
    ours, seconds = timed(lambda: hidden(flats, at))
    buffered, slow = timed(lambda: _buffered(flats, at))
    cast, rays = timed(lambda: _cast(flats, at))
    words = f"model as it stands, {count} lamps"
    return [
        light_row(f"{words}: what hides them (z-buffer in numpy, {PIXEL_MM} mm)", count, seconds, slow,
                  _alike(ours, buffered)),
        light_row(f"{words}: what hides them (ray casting in numpy)", count, seconds, rays, _alike(ours, cast)),
    ]


def _buffered(flats: tuple[Flat, ...], at: Array) -> NDArray[np.bool_]:
    """Every piece laid into a raster of depths, then the lamps' pixels looked up."""
    boxes = np.array([flat.area.bounds for flat in flats])
    left, low = boxes[:, :2].min(axis=0) - 1.0
    wide, high = (math.ceil(side / PIXEL_MM) + 8 for side in boxes[:, 2:].max(axis=0) - (left, low))
    x, y = np.meshgrid(left + PIXEL_MM * (np.arange(wide) + 0.5), low + PIXEL_MM * (np.arange(high) + 0.5))
    depth = np.full((high, wide), -math.inf)
    for flat in flats:
        near = flat.near[0] * x + flat.near[1] * y + flat.near[2]
        depth = np.where(shapely.contains_xy(flat.area, x, y) & (near > depth), near, depth)
    column, row = ((at[:, :2] - (left, low)) / PIXEL_MM).astype(int).T
    return np.asarray(depth[row.clip(0, high - 1), column.clip(0, wide - 1)] > at[:, 2] + NEARER_MM)


def _cast(flats: tuple[Flat, ...], at: Array) -> NDArray[np.bool_]:
    """A ray from every lamp to the eye against every edge of every piece: inside by the even-odd rule."""
    found = np.zeros(len(at), bool)
    for flat in flats:
        inside = np.zeros(len(at), bool)
        for piece in shapely.get_parts(flat.area):
            for ring in (piece.exterior, *piece.interiors):
                a, b = (np.asarray(ring.coords)[cut] for cut in (slice(None, -1), slice(1, None)))
                spans = (a[:, 1] > at[:, 1, None]) != (b[:, 1] > at[:, 1, None])
                with np.errstate(divide="ignore", invalid="ignore"):
                    cross = a[:, 0] + (at[:, 1, None] - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
                inside ^= np.asarray((spans & (at[:, 0, None] < cross)).sum(axis=1) % 2 == 1)
        near = flat.near[0] * at[:, 0] + flat.near[1] * at[:, 1] + flat.near[2]
        found |= inside & (near > at[:, 2] + NEARER_MM)
    return found


def _alike(ours: NDArray[np.bool_], other: NDArray[np.bool_]) -> str:
    return f"{int((ours == other).sum())} of {len(ours)} alike, {int(ours.sum())} hidden"
