"""An independent check of routes and trees: it measures the answer and shares no step with the search.

The checks work from the drawing itself (outline and keep-outs as given), never from grown regions or graphs.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from rushlight.geometry.layout import Crossing, Place, Sheet
from rushlight.geometry.outline import Point, Points
from rushlight.geometry.routes import Leg, Route
from rushlight.geometry.tree import SplicePrices, SpliceTree

TOLERANCE_MM = 1e-4
"""Clearance, ends and lengths may be off by this."""

ARC_CHORD_DEG = 12.0
"""A single corner up to this is a chord of an arc, not a kink."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong with an answer: a stable key, and a sentence with the numbers."""

    key: str
    text: str


@dataclass(frozen=True, slots=True)
class Rules:
    """What a route must keep: clearance and bend radius [mm]; kind of thing that it carries (None: any)."""

    margin_mm: float
    bend_radius_mm: float = 0.0
    kind: str | None = None


def check_route(
    route: Route, ends: tuple[Place, Place], parts: Sequence[Sheet], crossings: Sequence[Crossing], *, rules: Rules
) -> tuple[Fault, ...]:
    """Every fault of a route: place, clearance, crossings, lengths, bends.

    Parameters
    ----------
    route : Route
        The answer to check.
    ends : (Place, Place)
        Where it should start and stop.
    parts, crossings
        The layout as drawn.
    rules : Rules
        Clearance, bend radius and kind.
    Returns
    -------
    tuple of Fault
        Empty for a good route. Keys: ends, outside, keep-out, clearance, crossing, kind, length, bend.
    Notes
    -----
    The first and the last segment of a leg may be a stub within the clearance, where its end lies within it; it must
    still stay inside the outline and off the keep-outs.
    """
    if not route.legs:
        same = ends[0] == ends[1] and route.length_mm == 0
        return () if same else (Fault("ends", "an empty route between two different places"),)
    sheets = {sheet.name: sheet for sheet in parts}
    found = [*_check_joints(route, ends, crossings, rules), *_check_length(route, sheets, crossings)]
    for leg in route.legs:
        found += _check_place(leg, sheets[leg.part], rules)
        found += _check_bends(leg, sheets[leg.part], rules)
    return tuple(found)


def check_tree(
    tree: SpliceTree,
    distance_mm: npt.ArrayLike,
    lamps: Sequence[int],
    feed: int,
    *,
    prices: SplicePrices,
    splice_sites: Sequence[int] | None = None,
) -> tuple[Fault, ...]:
    """Every fault of a splice tree: one tree, one lead a lamp, leads a splice, sites, lengths, cost.

    Parameters
    ----------
    tree : SpliceTree
        The answer to check.
    distance_mm : array, shape (s, s)
        Distances among the sites [mm].
    lamps : sequence of int
        The site of each lamp that the tree should reach.
    feed : int
        The feed's site.
    prices : SplicePrices
        As given to the search.
    splice_sites : sequence of int or None
        Sites where splices may lie.
    Returns
    -------
    tuple of Fault
        Empty for a good tree. Keys: one-tree, lamps, feed, leads, site, length, cost.
    """
    found = [*_check_whole(tree), *_check_ends(tree, lamps, feed), *_check_leads(tree, prices)]
    if splice_sites is not None:
        allowed = set(splice_sites)
        bad = [n.site for n in tree.nodes if n.kind == "splice" and n.site not in allowed]
        found += [Fault("site", f"a splice at site {k}, where none may lie") for k in bad]
    return (*found, *_check_lengths(tree, np.asarray(distance_mm, dtype=float), prices))


# --- routes -------------------------------------------------------------------------------------


def _check_joints(
    route: Route, ends: tuple[Place, Place], crossings: Sequence[Crossing], rules: Rules
) -> list[Fault]:
    found = []
    stops = [Place(leg.part, *leg.points_mm[k]) for leg in route.legs for k in (0, -1)]
    for want, got in ((ends[0], stops[0]), (ends[1], stops[-1])):
        if not _near(want, got):
            found.append(Fault("ends", f"the route ends at {got}, not at {want}"))
    named = {c.name: c for c in crossings}
    if len(route.crossings) != len(route.legs) - 1:
        return [*found, Fault("crossing", f"{len(route.legs)} legs but {len(route.crossings)} crossings")]
    for name, leave, enter in zip(route.crossings, stops[1:-1:2], stops[2:-1:2], strict=True):
        crossing = named.get(name)
        if crossing is None:
            found.append(Fault("crossing", f"there is no crossing '{name}'"))
            continue
        ways = ((crossing.a, crossing.b), (crossing.b, crossing.a))
        if not any(_near(p, leave) and _near(q, enter) for p, q in ways):
            found.append(Fault("crossing", f"crossing '{name}' is not entered and left at its own points"))
        if rules.kind is not None and rules.kind not in crossing.carries:
            found.append(Fault("kind", f"crossing '{name}' carries no {rules.kind}"))
    return found


def _near(a: Place, b: Place) -> bool:
    return a[0] == b[0] and math.dist(a[1:], b[1:]) <= TOLERANCE_MM


def _check_length(route: Route, sheets: dict[str, Sheet], crossings: Sequence[Crossing]) -> list[Fault]:
    found = []
    slack = {c.name: c.length_mm for c in crossings}
    total = math.fsum(slack.get(name, 0.0) for name in route.crossings)
    for leg in route.legs:
        real = _polyline_mm(leg.points_mm) * sheets[leg.part].stretch
        total += real
        if abs(real - leg.length_mm) > TOLERANCE_MM:
            found.append(Fault("length", f"leg on {leg.part}: {leg.length_mm:.4f} mm stated, {real:.4f} mm measured"))
    if abs(total - route.length_mm) > TOLERANCE_MM:
        found.append(Fault("length", f"route: {route.length_mm:.4f} mm stated, {total:.4f} mm measured"))
    return found


def _polyline_mm(points: Points) -> float:
    return math.fsum(math.dist(p, q) for p, q in pairwise(points))


def _check_place(leg: Leg, sheet: Sheet, rules: Rules) -> list[Fault]:
    """Inside the outline and off every keep-out, with the clearance except along a stub at either end."""
    import shapely

    outline = shapely.Polygon(sheet.outline_mm)
    posts = [(k.name, shapely.Polygon(k.points_mm)) for k in sheet.keep_outs]
    whole = shapely.LineString(leg.points_mm) if len(leg.points_mm) > 1 else shapely.Point(leg.points_mm[0])
    found = []
    if not shapely.covers(outline.buffer(TOLERANCE_MM), whole):
        found.append(Fault("outside", f"{leg.part}: the route leaves the outline"))
    for name, post in posts:
        if shapely.intersects(post.buffer(-TOLERANCE_MM), whole):
            found.append(Fault("keep-out", f"{leg.part}: the route crosses keep-out '{name}'"))
    inner = _without_stubs(leg, outline, [post for _, post in posts], rules.margin_mm)
    for name, edge in (("the outline", outline.exterior), *((f"keep-out '{n}'", p) for n, p in posts)):
        gap = math.inf if inner is None else float(shapely.distance(inner, edge))
        if gap < rules.margin_mm - TOLERANCE_MM:
            found.append(Fault("clearance", f"{leg.part}: {gap:.3f} mm from {name}, {rules.margin_mm:g} mm wanted"))
    return found


def _without_stubs(leg: Leg, outline: Any, posts: list[Any], margin_mm: float) -> Any:
    """The leg less a first and a last segment that starts within the clearance."""
    import shapely

    def tight(point: Point) -> bool:
        dot = shapely.Point(point)
        gaps = [shapely.distance(dot, outline.exterior), *(shapely.distance(dot, p) for p in posts)]
        return float(min(gaps)) < margin_mm - TOLERANCE_MM

    points = list(leg.points_mm)
    if len(points) > 1 and tight(points[0]):
        points = points[1:]
    if len(points) > 1 and tight(points[-1]):
        points = points[:-1]
    return None if len(points) < 2 else shapely.LineString(points)


def _check_bends(leg: Leg, sheet: Sheet, rules: Rules) -> list[Fault]:
    """No corner wider than a chord of an arc, no run of corners tighter than the bend radius; stubs excepted."""
    if rules.bend_radius_mm <= 0:
        return []
    points = np.array([p for k, p in enumerate(leg.points_mm) if k == 0 or math.dist(p, leg.points_mm[k - 1]) > 1e-6])
    step = np.diff(points, axis=0)
    if len(step) < 2:
        return []
    heading = np.unwrap(np.arctan2(step[:, 1], step[:, 0]))
    turn, length = np.diff(heading), np.hypot(step[:, 0], step[:, 1])
    stubs = _stub_corners(points, sheet, rules)
    found = []
    for k in np.flatnonzero(np.abs(np.degrees(turn)) > ARC_CHORD_DEG).tolist():
        if k + 1 not in stubs:
            found.append(Fault("bend", f"{leg.part}: a kink of {abs(math.degrees(turn[k])):.0f} deg"))
    tightest = _tightest(turn, length, {k - 1 for k in stubs})
    if tightest < rules.bend_radius_mm * (1 - 1e-3):
        found.append(Fault("bend", f"{leg.part}: bends with {tightest:.2f} mm, {rules.bend_radius_mm:g} mm wanted"))
    return found


def _tightest(turn: npt.NDArray[np.float64], length: npt.NDArray[np.float64], skip: set[int]) -> float:
    """Least length over turn of any run of corners that turn one way, one chord's turn not counted."""
    radius = math.inf
    for first in range(len(turn)):
        total, run = 0.0, 0.0
        for last in range(first, len(turn)):
            if last in skip or turn[last] * turn[first] <= 0:
                break
            total += abs(float(turn[last]))
            run += float(length[last]) if last > first else 0.0
            spare = total - math.radians(ARC_CHORD_DEG)
            if spare > 0 and last > first:
                radius = min(radius, run / spare)
    return radius


def _stub_corners(points: npt.NDArray[np.float64], sheet: Sheet, rules: Rules) -> set[int]:
    """The corners where a stub meets its route: their bends are reported by the route, not ruled out."""
    import shapely

    edges = [shapely.Polygon(sheet.outline_mm).exterior, *(shapely.Polygon(k.points_mm) for k in sheet.keep_outs)]
    reach = max(rules.margin_mm, rules.bend_radius_mm)

    def near(point: npt.NDArray[np.float64]) -> bool:
        return min(float(shapely.distance(shapely.Point(point), edge)) for edge in edges) < reach

    return {k for k, end in ((1, points[0]), (len(points) - 2, points[-1])) if near(end)}


# --- trees --------------------------------------------------------------------------------------


def _check_whole(tree: SpliceTree) -> list[Fault]:
    """Connected and without a ring."""
    group = list(range(len(tree.nodes)))

    def root(k: int) -> int:
        while group[k] != k:
            k = group[k]
        return k

    found = []
    for edge in tree.edges:
        a, b = root(edge.a), root(edge.b)
        if a == b:
            found.append(Fault("one-tree", f"the lead {edge.a}-{edge.b} closes a ring"))
        group[a] = b
    parts = len({root(k) for k in group})
    if parts != 1:
        found.append(Fault("one-tree", f"the tree falls into {parts} parts"))
    return found


def _check_ends(tree: SpliceTree, lamps: Sequence[int], feed: int) -> list[Fault]:
    found = []
    held = Counter((n.lamp, n.site) for n in tree.nodes if n.kind == "lamp")
    wanted = Counter(enumerate(lamps))
    if held != wanted:
        found.append(Fault("lamps", f"lamps missing {sorted(wanted - held)}, too many {sorted(held - wanted)}"))
    feeds = [n.site for n in tree.nodes if n.kind == "feed"]
    if feeds != [feed]:
        found.append(Fault("feed", f"feeds at sites {feeds}, wanted one at {feed}"))
    return found


def _check_leads(tree: SpliceTree, prices: SplicePrices) -> list[Fault]:
    leads = Counter(k for e in tree.edges for k in (e.a, e.b))
    found = []
    for k, node in enumerate(tree.nodes):
        if node.kind == "splice" and not 3 <= leads[k] <= prices.max_leads:
            found.append(Fault("leads", f"splice {k} joins {leads[k]} leads, 3 to {prices.max_leads} allowed"))
        if node.kind != "splice" and leads[k] != 1 and len(tree.nodes) > 1:
            found.append(Fault("leads", f"{node.kind} {k} has {leads[k]} leads, wanted 1"))
    return found


def _check_lengths(tree: SpliceTree, distance: npt.NDArray[np.float64], prices: SplicePrices) -> list[Fault]:
    found = []
    cost = prices.splice_mm * sum(n.kind == "splice" for n in tree.nodes)
    for e in tree.edges:
        real = float(distance[tree.nodes[e.a].site, tree.nodes[e.b].site])
        cost += max(real, prices.least_lead_mm) + 2 * prices.end_allowance_mm
        if abs(real - e.length_mm) > TOLERANCE_MM:
            found.append(Fault("length", f"lead {e.a}-{e.b}: {e.length_mm:.4f} mm stated, {real:.4f} mm measured"))
    if abs(math.fsum(e.length_mm for e in tree.edges) - tree.length_mm) > TOLERANCE_MM:
        found.append(Fault("length", f"the tree's length of {tree.length_mm:.4f} mm is not the sum of its leads"))
    if abs(cost - tree.cost_mm) > TOLERANCE_MM:
        found.append(Fault("cost", f"cost {tree.cost_mm:.4f} stated, {cost:.4f} recomputed"))
    return found
