"""Trees of least wire: the plain spanning tree, and the splice tree of a loom."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rushlight.errors import OutOfRange
from rushlight.geometry._splice_dp import Branch, Task, solve
from rushlight.geometry._splice_search import FEED, SpliceSearch
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.sight import IntArray

EXACT_LAMPS = 8
"""Up to this many lamps the tree is solved exactly on its sites."""

EXACT_SITES = 300
"""Sites that the exact method takes; of more, those nearest to the lamps and the feed."""

PATCH_BRANCHES = 7
"""Branches of a patch that is solved anew."""

MOST_ROUNDS = 6000
"""Search rounds of the largest trees, and of all trees of one loom together."""


@dataclass(frozen=True, slots=True)
class SplicePrices:
    """What leads and splices cost beside their length.

    `end_allowance_mm` is cut extra at each end of each lead; `splice_mm` is the length of wire that one splice's
    work is worth; `max_leads` is the most leads that one splice joins, the one towards the feed included;
    `least_lead_mm` is the shortest lead that can be made (0 allows a splice on a lamp's own legs).
    """

    end_allowance_mm: float = 10.0
    splice_mm: float = 25.0
    max_leads: int = 4
    least_lead_mm: float = 0.0

    def __post_init__(self) -> None:
        for name in ("end_allowance_mm", "splice_mm", "least_lead_mm"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise OutOfRange(name, value, "0 or more, finite")
        if not 3 <= self.max_leads <= 12:
            raise OutOfRange("max_leads", self.max_leads, "3 to 12")


@dataclass(frozen=True, slots=True)
class TreeNode:
    """A node at a site: kind "feed", "lamp" (its place in the list of lamps) or "splice" (lamp -1)."""

    kind: str
    site: int
    lamp: int = -1


@dataclass(frozen=True, slots=True)
class TreeEdge:
    """One lead between two nodes, `a` the end towards the feed; its length without end allowances."""

    a: int
    b: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class SpliceTree:
    """A loom's tree: node 0 is the feed; every other node has one lead towards it.

    `length_mm` sums the leads' lengths; `cost_mm` adds end allowances and splices. `exact` says that no
    cheaper tree exists on the given sites.
    """

    nodes: tuple[TreeNode, ...]
    edges: tuple[TreeEdge, ...]
    length_mm: float
    cost_mm: float
    exact: bool

    @property
    def splices(self) -> int:
        """How many splices the tree has."""
        return sum(node.kind == "splice" for node in self.nodes)


@dataclass(frozen=True, slots=True)
class SpanningTree:
    """Edges (a, b, length) of a plain spanning tree, a < b, and their sum."""

    edges: tuple[TreeEdge, ...]
    length_mm: float


def spanning_tree(distance_mm: npt.ArrayLike) -> SpanningTree:
    """The least spanning tree of a full matrix of distances.

    Parameters
    ----------
    distance_mm : array, shape (n, n)
        Symmetric distances [mm], 0 or more, all finite, n >= 1.
    Returns
    -------
    SpanningTree
    Raises
    ------
    OutOfRange
        For a matrix that is not such.
    Notes
    -----
    Prim's method on the dense matrix; ties go to the lower number.
    Source
    ------
    R. C. Prim, Bell System Technical Journal 36 (1957) 1389-1401. Checked against networkx in tests/outside/.
    """
    distance = _checked(distance_mm)
    count = len(distance)
    nearest, away = np.zeros(count, dtype=int), distance[0].copy()
    away[0] = math.inf
    done = np.zeros(count, dtype=bool)
    done[0] = True
    edges: list[TreeEdge] = []
    for _ in range(count - 1):
        k = int(np.argmin(away))
        a, b = sorted((int(nearest[k]), k))
        edges.append(TreeEdge(a, b, float(away[k])))
        done[k], away[k] = True, math.inf
        closer = ~done & (distance[k] < away)
        nearest[closer], away[closer] = k, distance[k][closer]
    return SpanningTree(tuple(edges), math.fsum(e.length_mm for e in edges))


def splice_tree(
    distance_mm: npt.ArrayLike,
    lamps: Sequence[int],
    feed: int,
    *,
    prices: SplicePrices | None = None,
    splice_sites: Sequence[int] | None = None,
    rounds: int | None = None,
    seed: int = 1,
) -> SpliceTree:
    """The cheapest tree of leads from a feed to all lamps, joined by splices.

    Parameters
    ----------
    distance_mm : array, shape (s, s)
        Route lengths among all sites [mm], symmetric, finite.
    lamps : sequence of int
        The site of each lamp; two lamps may share a site.
    feed : int
        The site of the feed.
    prices : SplicePrices or None
        Costs; None takes the defaults.
    splice_sites : sequence of int or None
        Sites where a splice may lie; None allows all.
    rounds : int or None
        Ruin-and-recreate rounds of the search; None takes a number that grows with the lamps.
    seed : int
        Start of the search's random numbers; the same seed gives the same tree.
    Returns
    -------
    SpliceTree
        Each lamp and the feed have one lead; a splice joins 3 to `prices.max_leads`.
    Raises
    ------
    OutOfRange
        For a matrix that is not symmetric and finite, or a site that is not in it.
    Notes
    -----
    cost = sum of max(length, least lead) + 2 x end allowance, over leads, + splice cost x splices. Up to 8 lamps a
    dynamic programme over subsets finds the cheapest tree on the given sites. Above that: cheapest insertion,
    ruin and recreate with a falling threshold, then every patch of neighbouring splices solved exactly until
    none improves. That is a good tree, not a proven one: no bound is claimed.
    """
    task = _task(distance_mm, lamps, feed, prices or SplicePrices(), splice_sites)
    if not len(task.leaf_site):
        return SpliceTree((TreeNode("feed", feed),), (), 0.0, 0.0, True)
    if len(task.leaf_site) <= EXACT_LAMPS:
        chosen = _fewer_sites(task)
        _, tree = solve(chosen)
        exact = len(chosen.allowed) == len(task.allowed)
        return _frozen(_from_branch(tree, feed), np.asarray(distance_mm, dtype=float), task, exact)
    search = _searched(task, rounds, seed)
    return _frozen(_from_search(search), np.asarray(distance_mm, dtype=float), task, False)


def least_splices(lamps: int, max_leads: int) -> int:
    """The fewest splices that can join some lamps and one feed.

    Parameters
    ----------
    lamps : int
        Lamps, 0 or more.
    max_leads : int
        The most leads of one splice, 3 or more.
    Returns
    -------
    int
    Raises
    ------
    OutOfRange
    Notes
    -----
    ceil((n - 1)/(k - 2)): s splices of degree at most k, n + 1 leaves and n + s leads give 2 (n + s) <= n + 1 + k s.
    """
    if lamps < 0:
        raise OutOfRange("lamps", lamps, "0 or more")
    if max_leads < 3:
        raise OutOfRange("max_leads", max_leads, "3 or more")
    return max(0, math.ceil((lamps - 1) / (max_leads - 2)))


# --- input --------------------------------------------------------------------------------------


def _checked(distance_mm: npt.ArrayLike) -> FloatArray:
    distance = np.asarray(distance_mm, dtype=float)
    if distance.ndim != 2 or distance.shape[0] != distance.shape[1] or not len(distance):
        raise OutOfRange("distance_mm", f"of shape {distance.shape}", "a square matrix")
    if not np.isfinite(distance).all() or (distance < 0).any():
        where = np.argwhere(~np.isfinite(distance) | (distance < 0))[0].tolist()
        raise OutOfRange("distance_mm", f"{distance[tuple(where)]} between sites {where}", "0 or more, finite")
    if not np.allclose(distance, distance.T, atol=1e-6):
        raise OutOfRange("distance_mm", "not symmetric", "a symmetric matrix")
    return distance


def _task(
    distance_mm: npt.ArrayLike, lamps: Sequence[int], feed: int, prices: SplicePrices, sites: Sequence[int] | None
) -> Task:
    distance = _checked(distance_mm)
    allowed = np.arange(len(distance)) if sites is None else np.unique(np.asarray(sites, dtype=int))
    for name, site in (("feed", feed), *(("lamps", k) for k in lamps), *(("splice_sites", int(k)) for k in allowed)):
        if not 0 <= site < len(distance):
            raise OutOfRange(name, site, f"a site from 0 to {len(distance) - 1}")
    if not len(allowed) and len(lamps) > 1:
        raise OutOfRange("splice_sites", "empty", "at least one site")
    lead = np.maximum(distance, prices.least_lead_mm) + 2 * prices.end_allowance_mm
    return Task(lead, np.asarray(lamps, dtype=int), feed, prices.splice_mm, prices.max_leads, allowed)


def _fewer_sites(task: Task) -> Task:
    """The task with its splice sites cut to those nearest to the leaves, if there are too many to try all."""
    if len(task.allowed) <= EXACT_SITES:
        return task
    ends = np.append(task.leaf_site, task.root)
    near = np.sort(np.argsort(task.lead[np.ix_(ends, task.allowed)].min(axis=0), kind="stable")[:EXACT_SITES])
    return Task(task.lead, task.leaf_site, task.root, task.splice_cost, task.max_leads, task.allowed[near])


# --- search -------------------------------------------------------------------------------------


def _searched(task: Task, rounds: int | None, seed: int) -> SpliceSearch:
    search = SpliceSearch(task)
    from_feed = task.lead[task.root, task.leaf_site]
    for k in np.argsort(from_feed, kind="stable").tolist():
        search.attach(k + 1)
    _patched(search, passes=1)
    search.settle(search.splices())
    _ruin_and_recreate(search, search_rounds(len(task.leaf_site)) if rounds is None else rounds, seed)
    _patched(search, passes=3 if len(task.leaf_site) <= 500 else 1)
    search.settle(search.splices())
    return search


def search_rounds(lamps: int) -> int:
    """Rounds of one tree's search: more for larger trees, but fewer for each lamp, so that it stays within seconds."""
    return min(MOST_ROUNDS, int(38 * lamps**0.75))


def _patched(search: SpliceSearch, passes: int) -> None:
    for _ in range(passes):
        gains = [search.solve_patch(k, PATCH_BRANCHES) for k in search.splices() if search.alive[k]]
        if not any(gains):
            return


def _ruin_and_recreate(search: SpliceSearch, rounds: int, seed: int) -> None:
    """Take a few neighbouring lamps off, hang them again where it is cheapest, keep what is not much worse."""
    rng = np.random.default_rng(seed)
    near = _neighbours(search)
    typical = search.cost / max(1, search.lamps)
    best = search.mark_best()
    for n in range(rounds):
        threshold = 0.3 * typical * (1 - n / rounds) ** 2
        before = search.mark()
        _shake(search, near, rng)
        if search.cost > before[0] - math.log(max(rng.random(), 1e-300)) * threshold:
            search.take_back(before)
        elif search.cost < best[0] - 1e-9:
            best = search.mark_best()
    search.restore_best(best)


def _neighbours(search: SpliceSearch) -> IntArray:
    sites = search.task.leaf_site
    among = search.lead[np.ix_(sites, sites)]
    return np.argsort(among, axis=1, kind="stable")[:, :12] + 1


def _shake(search: SpliceSearch, near: IntArray, rng: np.random.Generator) -> None:
    centre = int(rng.integers(search.lamps))
    count = int(rng.integers(2, min(8, near.shape[1], search.lamps - 1) + 1))
    removed = near[centre, :count].tolist()
    for node in removed:
        search.detach(node)
    pool = search.nearby(removed[0], removed)
    noise = 1 + 0.1 * rng.random(len(search.up))
    for k in rng.permutation(count).tolist():
        search.attach(removed[k], noise, pool)
    search.settle(sorted({int(search.parent[node]) for node in removed}))


# --- output -------------------------------------------------------------------------------------


def _from_branch(tree: Branch, feed: int) -> list[tuple[TreeNode, int]]:
    """Nodes with their parent's number, the feed first."""
    found: list[tuple[TreeNode, int]] = [(TreeNode("feed", feed), -1)]
    queue = [(tree, 0)]
    while queue:
        branch, parent = queue.pop(0)
        kind = "lamp" if branch.leaf >= 0 else "splice"
        found.append((TreeNode(kind, branch.site, branch.leaf), parent))
        queue += [(child, len(found) - 1) for child in branch.children]
    return found


def _from_search(search: SpliceSearch) -> list[tuple[TreeNode, int]]:
    found: list[tuple[TreeNode, int]] = []
    queue = [(FEED, -1)]
    while queue:
        node, parent = queue.pop(0)
        site = int(search.site[node])
        lamp = node - 1 if 0 < node <= search.lamps else -1
        kind = "feed" if node == FEED else "lamp" if lamp >= 0 else "splice"
        found.append((TreeNode(kind, site, lamp), parent))
        queue += [(kid, len(found) - 1) for kid in sorted(search.kids[node])]
    return found


def _frozen(found: list[tuple[TreeNode, int]], distance: FloatArray, task: Task, exact: bool) -> SpliceTree:
    nodes = tuple(node for node, _ in found)
    edges = tuple(
        TreeEdge(parent, k, float(distance[nodes[parent].site, node.site]))
        for k, (node, parent) in enumerate(found)
        if parent >= 0
    )
    leads = math.fsum(float(task.lead[nodes[e.a].site, nodes[e.b].site]) for e in edges)
    splices = sum(node.kind == "splice" for node in nodes)
    length = math.fsum(e.length_mm for e in edges)
    return SpliceTree(nodes, edges, length, leads + task.splice_cost * splices, exact)
