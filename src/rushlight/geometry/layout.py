"""The parts of a model as planes joined by crossings, made ready for routing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from rushlight.errors import OutOfRange, UnknownName
from rushlight.geometry.approach import Approach, NoApproach, approaches
from rushlight.geometry.outline import FloatArray, Points
from rushlight.geometry.region import QUARTER_SEGMENTS, FreeSpace, KeepOut, free_space
from rushlight.geometry.sight import IntArray
from rushlight.geometry.visibility import VisibilityGraph, geodesics, visibility_graph

KINDS = ("wire", "fibre")
"""What may pass a crossing."""

KEPT_SHEETS = 64
"""Sheets that are kept between layouts: an edit that leaves a part as it was need not work it out again."""


class Place(NamedTuple):
    """A point on a part."""

    part: str
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One part's inner side, flat. `stretch` turns flat lengths into real ones (see `relief.py`).

    `bend_radius_mm` is the part's own least bend radius where the map's does not suit it.
    """

    name: str
    outline_mm: Points
    keep_outs: tuple[KeepOut, ...] = ()
    stretch: float = 1.0
    bend_radius_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where things pass from a place on one part to a place on another, over a stated length with its slack."""

    name: str
    a: Place
    b: Place
    length_mm: float
    carries: tuple[str, ...] = KINDS


@dataclass(frozen=True, slots=True)
class LayoutTrouble:
    """What keeps a layout from being whole.

    `why` is one of: bad-outline (text of the outline's trouble), no-free-space, split (free space falls into pieces;
    the text gives a point in each), crossing-end (an end that cannot be reached; the crossing is not used).
    """

    why: str
    where: str
    text: str
    place: Place | None = None


@dataclass(frozen=True)
class RoutedSheet:
    """A sheet with its free space, and the visibility graph once something is routed on it."""

    sheet: Sheet
    space: FreeSpace

    @cached_property  # no slots for its sake
    def graph(self) -> VisibilityGraph:
        """The visibility graph of the free space; most parts of a map carry nothing and never need one."""
        return visibility_graph([piece.shape for piece in self.space.pieces])


@dataclass(frozen=True, slots=True)
class Portal:
    """One end of a usable crossing."""

    crossing: int
    place: Place
    sheet: int
    approach: Approach


@dataclass(frozen=True, slots=True, eq=False)
class PortalNet:
    """Distances among all crossing ends, closed over sheets and crossings, with the next end on each way."""

    portals: tuple[Portal, ...]
    length_mm: FloatArray
    next_portal: IntArray


@dataclass(frozen=True, slots=True)
class RouteMap:
    """All that routing needs, made once by `build_layout`; `troubles` is for the user to read."""

    sheets: tuple[RoutedSheet, ...]
    crossings: tuple[Crossing, ...]
    margin_mm: float
    bend_radius_mm: float
    net: PortalNet = field(compare=False, repr=False)
    troubles: tuple[LayoutTrouble, ...]


def build_layout(
    parts: Sequence[Sheet],
    crossings: Sequence[Crossing] = (),
    *,
    margin_mm: float,
    bend_radius_mm: float = 0.0,
    kind: str | None = None,
    chords: int = QUARTER_SEGMENTS,
) -> RouteMap:
    """Free space, visibility graph and crossings of all parts, made once for many questions.

    Parameters
    ----------
    parts : sequence of Sheet
        Parts with different names.
    crossings : sequence of Crossing
        Links between places on them; lengths [mm] 0 or more.
    margin_mm : float
        Clearance from outlines and keep-outs [mm], 0 or more.
    bend_radius_mm : float
        Least bend radius [mm], 0 or more.
    kind : str or None
        Use only crossings that carry this kind ("wire", "fibre"); None uses all.
    chords : int
        Chords to a quarter turn of a round corner, as in `free_space`; bends are measured rightly with the usual
        number alone.
    Returns
    -------
    RouteMap
        With every trouble found; the rest stays usable.
    Raises
    ------
    OutOfRange
        For a negative length or factor, or a part's name given twice.
    UnknownName
        If a crossing names a part that is not there.
    Source
    ------
    Visibility graph: see `visibility_graph`. Checked against brute force in networkx in tests/outside/.
    """
    _check(parts, crossings)
    used = tuple(c for c in crossings if kind is None or kind in c.carries)
    sheets = tuple(
        routed_sheet(sheet, margin_mm=margin_mm, bend_radius_mm=bend_radius_mm, chords=chords) for sheet in parts
    )
    portals, bad_ends = _portals(sheets, used)
    troubles = (*(t for sheet in sheets for t in _sheet_troubles(sheet)), *bad_ends)
    return RouteMap(sheets, used, margin_mm, bend_radius_mm, _portal_net(sheets, portals, used), troubles)


def _check(parts: Sequence[Sheet], crossings: Sequence[Crossing]) -> None:
    names = [sheet.name for sheet in parts]
    for sheet in parts:
        if names.count(sheet.name) > 1:
            raise OutOfRange("part", sheet.name, "a name used once")
        if not (math.isfinite(sheet.stretch) and sheet.stretch >= 1):
            raise OutOfRange("stretch", sheet.stretch, "1 or more, finite")
    for crossing in crossings:
        if not (math.isfinite(crossing.length_mm) and crossing.length_mm >= 0):
            raise OutOfRange("length_mm", crossing.length_mm, "0 or more, finite")
        for end in (crossing.a, crossing.b):
            if end[0] not in names:
                raise UnknownName("part", end[0], names)


def routed_sheet(
    sheet: Sheet, *, margin_mm: float, bend_radius_mm: float, chords: int = QUARTER_SEGMENTS
) -> RoutedSheet:
    """One part's free space, ready for routing.

    Parameters
    ----------
    sheet : Sheet
        The part; its own bend radius goes before the map's.
    margin_mm, bend_radius_mm : float
        Clearance and least bend radius of the map [mm], 0 or more.
    chords : int
        Chords to a quarter turn of a round corner.
    Returns
    -------
    RoutedSheet
        The same object for the same question, as long as it is kept.
    """
    radius = bend_radius_mm if sheet.bend_radius_mm is None else sheet.bend_radius_mm
    return _routed(_plain(sheet, radius), margin_mm, chords)


def _plain(sheet: Sheet, radius_mm: float) -> Sheet:
    """The sheet in tuples alone and with its radius settled, so that it can be looked up."""
    outline = tuple((p[0], p[1]) for p in sheet.outline_mm)
    keep_outs = tuple(KeepOut(k.name, tuple((p[0], p[1]) for p in k.points_mm)) for k in sheet.keep_outs)
    return Sheet(sheet.name, outline, keep_outs, sheet.stretch, radius_mm)


@lru_cache(maxsize=KEPT_SHEETS)
def _routed(sheet: Sheet, margin_mm: float, chords: int) -> RoutedSheet:
    radius_mm = sheet.bend_radius_mm or 0.0
    space = free_space(
        sheet.outline_mm, sheet.keep_outs, margin_mm=margin_mm, bend_radius_mm=radius_mm, chords=chords,
        name=sheet.name,
    )
    return RoutedSheet(sheet, space)


def _sheet_troubles(routed: RoutedSheet) -> list[LayoutTrouble]:
    name, pieces = routed.sheet.name, routed.space.pieces
    if routed.space.troubles:
        return [LayoutTrouble("bad-outline", name, t.text) for t in routed.space.troubles]
    if not pieces:
        return [LayoutTrouble("no-free-space", name, f"{name}: nothing is left once the clearance is kept")]
    if len(pieces) == 1:
        return []
    spots = "; ".join(f"{p.area_mm2:.0f} mm2 round ({p.inside_mm[0]:.0f}, {p.inside_mm[1]:.0f})" for p in pieces)
    text = f"{name}: free space falls into {len(pieces)} pieces, no lead passes between them: {spots}"
    return [LayoutTrouble("split", name, text, Place(name, *pieces[1].inside_mm))]


def _portals(
    sheets: tuple[RoutedSheet, ...], crossings: tuple[Crossing, ...]
) -> tuple[tuple[Portal, ...], list[LayoutTrouble]]:
    number = {s.sheet.name: k for k, s in enumerate(sheets)}
    portals: list[Portal] = []
    troubles: list[LayoutTrouble] = []
    for index, crossing in enumerate(crossings):
        ends = [Place(*crossing.a), Place(*crossing.b)]
        reached = [approaches(sheets[number[e.part]].space, [e[1:]])[0] for e in ends]
        bad = [(e, r) for e, r in zip(ends, reached, strict=True) if isinstance(r, NoApproach)]
        troubles += [_bad_end(crossing, end, no) for end, no in bad]
        good = [r for r in reached if isinstance(r, Approach)]
        if not bad:
            portals += [Portal(index, e, number[e.part], r) for e, r in zip(ends, good, strict=True)]
    return tuple(portals), troubles


def _bad_end(crossing: Crossing, end: Place, no: NoApproach) -> LayoutTrouble:
    text = f"crossing '{crossing.name}' cannot be used: its end on {end.part} at {no.text}"
    return LayoutTrouble("crossing-end", crossing.name, text, end)


def _portal_net(
    sheets: tuple[RoutedSheet, ...], portals: tuple[Portal, ...], crossings: tuple[Crossing, ...]
) -> PortalNet:
    count = len(portals)
    length = np.full((count, count), math.inf)
    np.fill_diagonal(length, 0.0)
    for index, routed in enumerate(sheets):
        here = np.array([k for k, p in enumerate(portals) if p.sheet == index], dtype=int)
        if len(here):
            xy = np.array([portals[k].approach.legal_mm for k in here])
            piece = np.array([portals[k].approach.piece for k in here])
            stub = np.array([portals[k].approach.stub_mm for k in here])
            ends = (xy, piece)
            flat = geodesics(routed.graph, ends, ends)
            full = (flat + stub[:, None] + stub[None, :]) * routed.sheet.stretch
            length[np.ix_(here, here)] = np.where(np.eye(len(here), dtype=bool), 0.0, full)
    for k in range(0, count, 2):
        slack = crossings[portals[k].crossing].length_mm
        length[k, k + 1] = length[k + 1, k] = min(slack, float(length[k, k + 1]))
    return PortalNet(portals, *_floyd_warshall(length))


def _floyd_warshall(length: FloatArray) -> tuple[FloatArray, IntArray]:
    """Closed distances and the next node on each way; a handful of nodes, and lengths of 0 are allowed."""
    out = length.copy()
    following = np.where(np.isfinite(out), np.arange(len(out))[None, :], -1)
    for k in range(len(out)):
        over = out[:, k, None] + out[None, k, :]
        shorter = over < out
        out = np.where(shorter, over, out)
        following = np.where(shorter, following[:, k, None], following)
    return out, following
