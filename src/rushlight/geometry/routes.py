"""Exact shortest routes on the parts of a model: round keep-outs, through crossings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from rushlight.errors import OutOfRange, UnknownName
from rushlight.geometry.approach import Approach, NoApproach, approaches
from rushlight.geometry.bends import Bend, bends
from rushlight.geometry.layout import Crossing, LayoutTrouble, Place, RouteMap, Sheet, build_layout
from rushlight.geometry.outline import FloatArray, Point, Points
from rushlight.geometry.region import KeepOut
from rushlight.geometry.sight import IntArray
from rushlight.geometry.visibility import geodesics, way

__all__ = [
    "Crossing", "KeepOut", "LayoutTrouble", "Leg", "NoRoute", "Place", "Route", "RouteMap", "Sheet",
    "build_layout", "distances", "shortest_route", "shortest_routes",
]


@dataclass(frozen=True, slots=True)
class Leg:
    """The stretch of a route on one part: flat points in order, and its real length (stretch included).

    `grow_mm` is the radius with which the corners of free space were rounded.
    """

    part: str
    points_mm: Points
    length_mm: float
    grow_mm: float = 0.0

    @property
    def bends(self) -> tuple[Bend, ...]:
        """Every bend of the leg, in order."""
        return bends(self.points_mm, grow_mm=self.grow_mm)


@dataclass(frozen=True, slots=True)
class Route:
    """A shortest route: legs in order, the crossings between them."""

    length_mm: float
    legs: tuple[Leg, ...]
    crossings: tuple[str, ...]

    @property
    def bends(self) -> tuple[Bend, ...]:
        """Every bend along the route, in order."""
        return tuple(bend for leg in self.legs for bend in leg.bends)

    @property
    def min_bend_radius_mm(self) -> float:
        """The tightest bend's radius [mm]; infinite for a straight route."""
        return min((bend.radius_mm for bend in self.bends), default=math.inf)

    @property
    def turning_deg(self) -> float:
        """The sum of all turns [deg]."""
        return math.fsum(bend.angle_deg for bend in self.bends)


@dataclass(frozen=True, slots=True)
class NoRoute:
    """Why there is no route, on which part.

    `why` is one of: bad-part, outside, in-keep-out, no-free-space, walled-in, split (same part, pieces apart),
    no-crossing.
    """

    why: str
    part: str
    text: str


def distances(
    route_map: RouteMap, points: Sequence[Place | tuple[str, float, float]], others: Sequence[Place] | None = None
) -> FloatArray:
    """Shortest distances between all pairs of places.

    Parameters
    ----------
    route_map : RouteMap
        From `build_layout`.
    points : sequence of (part, x_mm, y_mm)
        Rows of the matrix.
    others : sequence of (part, x_mm, y_mm) or None
        Columns of the matrix; None takes `points`, which is quicker.
    Returns
    -------
    array, shape (n, m)
        Lengths [mm], stubs, stretch and crossings included; infinite where there is no route (ask
        `shortest_route` why).
    Raises
    ------
    UnknownName
        If a place names a part that is not there.
    """
    rows = _attach(route_map, points)
    columns = rows if others is None else _attach(route_map, others)
    out = np.full((len(rows.sheet), len(columns.sheet)), math.inf)
    for index in _shared_sheets(rows, columns):
        _fill_sheet(route_map, index, (rows, columns), out)
    _through_crossings(route_map, rows, columns, out)
    same = (rows.sheet[:, None] == columns.sheet[None, :]) & (rows.sheet[:, None] >= 0)
    out[same & np.all(rows.asked[:, None] == columns.asked[None, :], axis=2)] = 0.0
    return out


def shortest_route(
    route_map: RouteMap, a: Place | tuple[str, float, float], b: Place | tuple[str, float, float]
) -> Route | NoRoute:
    """The shortest route between two places, or why there is none.

    Parameters
    ----------
    route_map : RouteMap
        From `build_layout`.
    a, b : (part, x_mm, y_mm)
        The ends.
    Returns
    -------
    Route or NoRoute
    Raises
    ------
    UnknownName
        If a place names a part that is not there.
    """
    return shortest_routes(route_map, [(a, b)])[0]


def shortest_routes(
    route_map: RouteMap, pairs: Sequence[tuple[Place | tuple[str, float, float], Place | tuple[str, float, float]]]
) -> tuple[Route | NoRoute, ...]:
    """`shortest_route` for many pairs; what the parts need is made once.

    Parameters
    ----------
    route_map : RouteMap
        From `build_layout`.
    pairs : sequence of (a, b)
        The ends of each route.
    Returns
    -------
    tuple of Route or NoRoute
        In the order of the pairs.
    Raises
    ------
    UnknownName
        If a place names a part that is not there.
    """
    ends = _attach(route_map, [place for pair in pairs for place in pair])
    tracer = _Tracer(route_map, ends, _to_portals(route_map, ends))
    return tuple(tracer.route(2 * k, 2 * k + 1) for k in range(len(pairs)))


# --- places -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class _Attached:
    """Places as arrays; sheet -1 marks one that cannot be reached, `why` says the reason."""

    places: tuple[Place, ...]
    asked: FloatArray
    home: IntArray
    sheet: IntArray
    legal: FloatArray
    piece: IntArray
    stub: FloatArray
    why: tuple[NoApproach | None, ...]


def _attach(route_map: RouteMap, points: Sequence[Place | tuple[str, float, float]]) -> _Attached:
    places = tuple(Place(p[0], float(p[1]), float(p[2])) for p in points)
    number = {s.sheet.name: k for k, s in enumerate(route_map.sheets)}
    for place in places:
        if place.part not in number:
            raise UnknownName("part", place.part, number)
        if not (math.isfinite(place.x_mm) and math.isfinite(place.y_mm)):
            raise OutOfRange("place", place, "finite coordinates")
    home = np.array([number[p.part] for p in places], dtype=int)
    asked = np.array([p[1:] for p in places], dtype=float).reshape(-1, 2)
    found: dict[int, Approach | NoApproach] = {}
    for index in sorted(set(home.tolist())):
        here = np.flatnonzero(home == index)
        found.update(zip(here.tolist(), approaches(route_map.sheets[index].space, asked[here]), strict=True))
    return _attached(places, asked, home, [found[k] for k in range(len(places))])


def _attached(
    places: tuple[Place, ...], asked: FloatArray, home: IntArray, found: list[Approach | NoApproach]
) -> _Attached:
    legal = np.array([f.legal_mm if isinstance(f, Approach) else (0.0, 0.0) for f in found]).reshape(-1, 2)
    piece = np.array([f.piece if isinstance(f, Approach) else -1 for f in found], dtype=int)
    stub = np.array([f.stub_mm if isinstance(f, Approach) else math.inf for f in found])
    why = tuple(f if isinstance(f, NoApproach) else None for f in found)
    return _Attached(places, asked, home, np.where(piece >= 0, home, -1), legal, piece, stub, why)


def _fill_sheet(route_map: RouteMap, index: int, sides: tuple[_Attached, _Attached], out: FloatArray) -> None:
    rows, columns = sides
    here, there = np.flatnonzero(rows.sheet == index), np.flatnonzero(columns.sheet == index)
    routed = route_map.sheets[index]
    a = (rows.legal[here], rows.piece[here])
    b = a if columns is rows else (columns.legal[there], columns.piece[there])
    flat = geodesics(routed.graph, a, b)
    stubs = rows.stub[here][:, None] + columns.stub[there][None, :]
    out[np.ix_(here, there)] = (flat + stubs) * routed.sheet.stretch


def _through_crossings(route_map: RouteMap, rows: _Attached, columns: _Attached, out: FloatArray) -> None:
    if not route_map.net.portals:
        return
    near = _to_portals(route_map, rows)
    far = near if columns is rows else _to_portals(route_map, columns)
    reach = np.full_like(near, math.inf)
    for p in _reached(near):
        np.minimum(reach, near[:, p, None] + route_map.net.length_mm[None, p, :], out=reach)
    for q in _reached(far):
        np.minimum(out, reach[:, q, None] + far[None, :, q], out=out)


def _reached(ends_mm: FloatArray) -> list[int]:
    """Crossing ends that some of the places reach on their own part: no way leads through the others."""
    found: list[int] = np.flatnonzero(np.isfinite(ends_mm).any(axis=0)).tolist()
    return found


def _to_portals(route_map: RouteMap, ends: _Attached) -> FloatArray:
    """Distance from each place to each crossing end on its own part; infinite elsewhere."""
    portals = route_map.net.portals
    out = np.full((len(ends.sheet), len(portals)), math.inf)
    doors = _attached(
        tuple(p.place for p in portals),
        np.array([p.place[1:] for p in portals], dtype=float).reshape(-1, 2),
        np.array([p.sheet for p in portals], dtype=int),
        [p.approach for p in portals],
    )
    for index in _shared_sheets(ends, doors):
        _fill_sheet(route_map, index, (ends, doors), out)
    return out


def _shared_sheets(some: _Attached, others: _Attached) -> list[int]:
    """Parts on which places of both stand and can be reached: of many parts a few."""
    return sorted(set(some.sheet.tolist()) & set(others.sheet.tolist()) - {-1})


# --- tracing ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class _Tracer:
    """Traces single routes over a map; distances to crossings are made once."""

    route_map: RouteMap
    ends: _Attached
    doors: FloatArray

    def route(self, a: int, b: int) -> Route | NoRoute:
        for k in (a, b):
            no = self.ends.why[k]
            if no is not None:
                part = self.ends.places[k].part
                bad = bool(self.route_map.sheets[self.ends.home[k]].space.troubles)
                return NoRoute("bad-part" if bad else no.why, part, f"{part}: {no.text}")
        if self.ends.places[a] == self.ends.places[b]:
            return Route(0.0, (), ())
        direct = self._leg(int(self.ends.home[a]), self._end(a), self._end(b))
        through, chain = self._best_chain(a, b)
        if not math.isfinite(min(direct.length_mm, through)):
            return self._apart(a, b)
        return Route(direct.length_mm, (direct,), ()) if direct.length_mm <= through else self._chained(a, b, chain)

    def _end(self, k: int) -> _End:
        return _End(self.ends.places[k], int(self.ends.home[k]), self.ends.legal[k], int(self.ends.piece[k]))

    def _door(self, k: int) -> _End:
        portal = self.route_map.net.portals[k]
        return _End(portal.place, portal.sheet, np.array(portal.approach.legal_mm), portal.approach.piece)

    def _leg(self, sheet: int, a: _End, b: _End) -> Leg:
        routed = self.route_map.sheets[sheet]
        if (a.sheet, a.piece) != (b.sheet, b.piece):
            return Leg(routed.sheet.name, (), math.inf)
        _, middle = way(routed.graph, (a.legal, b.legal), a.piece)
        points = _without_repeats((a.place[1:], *middle, b.place[1:]))
        length = math.fsum(math.dist(p, q) for p, q in pairwise(points)) * routed.sheet.stretch
        grow = max(self.route_map.margin_mm, self.route_map.bend_radius_mm)
        return Leg(routed.sheet.name, points, length, grow)

    def _best_chain(self, a: int, b: int) -> tuple[float, tuple[int, ...]]:
        """Length over crossings, and the crossing ends passed, in order."""
        net = self.route_map.net
        if not net.portals:
            return math.inf, ()
        total = self.doors[a][:, None] + net.length_mm + self.doors[b][None, :]
        p, q = divmod(int(np.argmin(total)), len(net.portals))
        if not math.isfinite(total[p, q]):
            return math.inf, ()
        chain = [p]
        while chain[-1] != q:
            chain.append(int(net.next_portal[chain[-1], q]))
        return float(total[p, q]), tuple(chain)

    def _chained(self, a: int, b: int, chain: tuple[int, ...]) -> Route:
        stops = [self._end(a), *(self._door(k) for k in chain), self._end(b)]
        portals = self.route_map.net.portals
        passing = {n: portals[k].crossing for n, (k, m) in enumerate(pairwise(chain), start=1) if self._passes(k, m)}
        used = [self.route_map.crossings[k] for k in passing.values()]
        legs = tuple(self._leg(s.sheet, s, t) for n, (s, t) in enumerate(pairwise(stops)) if n not in passing)
        length = math.fsum([*(leg.length_mm for leg in legs), *(c.length_mm for c in used)])
        return Route(length, legs, tuple(c.name for c in used))

    def _passes(self, k: int, m: int) -> bool:
        """Whether two ends in a row pass their crossing (both may lie on one part, where walking can be shorter)."""
        net = self.route_map.net
        crossing = net.portals[k].crossing
        own = crossing == net.portals[m].crossing
        return own and self.route_map.crossings[crossing].length_mm <= float(net.length_mm[k, m]) + 1e-9

    def _apart(self, a: int, b: int) -> NoRoute:
        p, q = self.ends.places[a], self.ends.places[b]
        if p.part == q.part:
            text = f"{p.part}: {_at(p)} and {_at(q)} lie in pieces of free space that no lead can pass between"
            return NoRoute("split", p.part, text)
        text = f"no crossing leads from {p.part} at {_at(p)} to {q.part} at {_at(q)}"
        return NoRoute("no-crossing", q.part, text)


@dataclass(frozen=True, slots=True, eq=False)
class _End:
    place: Place
    sheet: int
    legal: FloatArray
    piece: int


def _at(place: Place) -> str:
    return f"({place.x_mm:.1f}, {place.y_mm:.1f}) mm"


def _without_repeats(points: Sequence[Point]) -> Points:
    return tuple(p for k, p in enumerate(points) if k == 0 or p != points[k - 1])
