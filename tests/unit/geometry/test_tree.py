"""Trees: exact on small sets, sound on large ones; a checker that rejects spoiled trees."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.check import check_tree
from rushlight.geometry.tree import SplicePrices, TreeNode, least_splices, spanning_tree, splice_tree

PRICES = SplicePrices()


def _apart(points):
    xy = np.asarray(points, dtype=float)
    return np.hypot(xy[:, None, 0] - xy[None, :, 0], xy[:, None, 1] - xy[None, :, 1])


def _matrix(count, seed=1, size=(400, 160)):
    return _apart(np.random.default_rng(seed).uniform((0, 0), size, (count, 2)))


def _shapes(leaves, max_leads):
    """Every way to hang the leaves under one lead: nested tuples of children, a splice having 2 to max_leads - 1."""
    if len(leaves) == 1:
        yield leaves[0]
        return
    for parts in _partitions(leaves):
        if 2 <= len(parts) <= max_leads - 1:
            yield from itertools.product(*(list(_shapes(p, max_leads)) for p in parts))


def _partitions(items):
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for count in range(len(rest) + 1):
        for chosen in itertools.combinations(rest, count):
            left = [k for k in rest if k not in chosen]
            for parts in _partitions(left):
                yield [[first, *chosen], *parts]


def _cheapest_hang(shape, lead, lamps, prices):
    """Cost of a shape hung from each site, by trying every site for every splice."""
    if isinstance(shape, int):
        return lead[lamps[shape]]
    below = sum(_cheapest_hang(kid, lead, lamps, prices) for kid in shape) + prices.splice_mm
    return (lead + below[None, :]).min(axis=1)


@pytest.mark.parametrize("max_leads", [3, 4, 5])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_exact_tree_equals_enumeration_of_every_shape(seed, max_leads):
    prices = SplicePrices(max_leads=max_leads)
    distance = _matrix(12, seed)
    lamps, feed = [1, 2, 3, 4, 5], 0
    tree = splice_tree(distance, lamps, feed, prices=prices)
    lead = distance + 2 * prices.end_allowance_mm
    best = min(_cheapest_hang(s, lead, lamps, prices)[feed] for s in _shapes(list(range(5)), max_leads))
    assert tree.exact
    assert tree.cost_mm == pytest.approx(best)  # derived: enumeration of all shapes and sites
    assert check_tree(tree, distance, lamps, feed, prices=prices) == ()


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_the_search_comes_close_to_the_exact_tree(seed, monkeypatch):
    distance, lamps = _matrix(40, seed), list(range(1, 9))
    exact = splice_tree(distance, lamps, 0)
    monkeypatch.setattr("rushlight.geometry.tree.EXACT_LAMPS", 0)
    found = splice_tree(distance, lamps, 0)
    assert exact.exact and not found.exact
    assert exact.cost_mm - 1e-9 <= found.cost_mm <= exact.cost_mm * 1.005


def test_no_lamp_one_lamp_two_lamps():
    distance = _apart([(0, 0), (30, 0), (0, 40)])
    assert splice_tree(distance, [], 0).edges == ()
    one = splice_tree(distance, [1], 0)
    assert (one.length_mm, one.splices) == (30, 0)
    two = splice_tree(distance, [1, 2], 0)
    assert (two.length_mm, two.splices) == (70, 1)  # derived: the splice lies at the feed's own site


def test_the_cost_counts_ends_and_splices():
    tree = splice_tree(_matrix(30), list(range(1, 20)), 0, prices=SplicePrices(7.0, 30.0, 4, 0.0))
    assert tree.cost_mm == pytest.approx(tree.length_mm + 14 * len(tree.edges) + 30 * tree.splices)  # derived


@pytest.mark.parametrize(("count", "max_leads", "least"), [(3, 4, 0.0), (25, 3, 0.0), (60, 4, 15.0), (180, 5, 0.0)])
def test_every_tree_passes_the_checker(count, max_leads, least):
    prices = SplicePrices(max_leads=max_leads, least_lead_mm=least)
    distance, lamps = _matrix(count + 11), list(range(1, count + 1))
    sites = list(range(1, count + 11))
    tree = splice_tree(distance, lamps, 0, prices=prices, splice_sites=sites, rounds=100)
    assert check_tree(tree, distance, lamps, 0, prices=prices, splice_sites=sites) == ()
    assert tree.splices >= least_splices(count, max_leads)
    assert tree.cost_mm >= 0.5 * spanning_tree(distance[: count + 1, : count + 1]).length_mm


def test_lamps_on_one_site_and_a_metric_that_is_not_euclid():
    rng = np.random.default_rng(5)
    distance = np.abs(rng.normal(size=(30, 30)) * 50)
    distance = np.minimum(distance, distance.T)
    np.fill_diagonal(distance, 0)
    lamps = [1, 1, 1, 2, 2, 3, 4, 5, 6, 7, 8, 9, 1]
    assert check_tree(splice_tree(distance, lamps, 0), distance, lamps, 0, prices=PRICES) == ()


def test_dearer_splices_are_fewer_and_more_leads_cost_no_more():
    distance, lamps = _matrix(9, 3), list(range(1, 8))
    cheap, dear = (splice_tree(distance, lamps, 0, prices=SplicePrices(0, c, 6)) for c in (0.0, 500.0))
    assert cheap.splices > dear.splices == least_splices(7, 6)
    costs = [splice_tree(distance, lamps, 0, prices=SplicePrices(max_leads=k)).cost_mm for k in (3, 4, 5, 6)]
    assert costs == sorted(costs, reverse=True)


def test_the_same_seed_gives_the_same_tree():
    distance = _matrix(41)
    first, again = (splice_tree(distance, range(1, 41), 0, rounds=150, seed=7) for _ in range(2))
    assert first == again


def test_more_rounds_never_end_worse_than_the_start():
    distance = _matrix(61)
    start, later = (splice_tree(distance, range(1, 61), 0, rounds=n).cost_mm for n in (0, 400))
    assert later <= start


@pytest.mark.parametrize(
    ("lamps", "leads", "splices"), [(0, 4, 0), (1, 4, 0), (2, 3, 1), (3, 4, 1), (20, 5, 7), (100, 5, 33)]
)
def test_least_splices(lamps, leads, splices):
    assert least_splices(lamps, leads) == splices  # derived: ceil((n - 1)/(k - 2))


@pytest.mark.parametrize(
    ("call", "text"),
    [
        (lambda: splice_tree([[0, 1], [2, 0]], [1], 0), "not symmetric"),
        (lambda: splice_tree([[0, math.inf], [math.inf, 0]], [1], 0), "finite"),
        (lambda: splice_tree([[0, 1], [1, 0]], [2], 0), "lamps is 2"),
        (lambda: splice_tree([[0, 1], [1, 0]], [1], -1), "feed is -1"),
        (lambda: splice_tree([[0, 1], [1, 0]], [1, 1], 0, splice_sites=[]), "splice_sites is empty"),
        (lambda: spanning_tree(np.zeros((0, 0))), "square matrix"),
        (lambda: SplicePrices(max_leads=2), "max_leads is 2"),
        (lambda: SplicePrices(splice_mm=-1), "splice_mm is -1"),
        (lambda: least_splices(-1, 4), "lamps is -1"),
        (lambda: least_splices(1, 2), "max_leads is 2"),
    ],
)
def test_bad_input_raises(call, text):
    with pytest.raises(OutOfRange, match=text):
        call()


# --- the checker must reject spoiled trees --------------------------------------------------------

DISTANCE = _matrix(20, 9)
LAMPS = [1, 2, 3, 4, 5, 6]


def _edge(tree, k, **changes):
    return replace(tree, edges=(*tree.edges[:k], replace(tree.edges[k], **changes), *tree.edges[k + 1 :]))


def _drop_last(tree):
    return replace(tree, edges=tree.edges[:-1])


def _rename(tree, old, new):
    return replace(tree, nodes=tuple(new if n == old else n for n in tree.nodes))


SPOILS = {
    "one-tree": _drop_last,
    "lamps": lambda t: _rename(t, TreeNode("lamp", 3, 2), TreeNode("lamp", 4, 2)),
    "feed": lambda t: _rename(t, t.nodes[0], TreeNode("feed", 7)),
    "leads": _drop_last,
    "site": lambda t: _rename(t, next(n for n in t.nodes if n.kind == "splice"), TreeNode("splice", 19)),
    "length": lambda t: _edge(t, 0, length_mm=t.edges[0].length_mm - 1),
    "cost": lambda t: replace(t, cost_mm=t.cost_mm - 1),
}


@pytest.mark.parametrize("key", sorted(SPOILS))
def test_the_checker_rejects_each_kind_of_spoiled_tree(key):
    sites = range(19)
    tree = splice_tree(DISTANCE, LAMPS, 0, splice_sites=sites)
    assert check_tree(tree, DISTANCE, LAMPS, 0, prices=PRICES, splice_sites=sites) == ()
    faults = check_tree(SPOILS[key](tree), DISTANCE, LAMPS, 0, prices=PRICES, splice_sites=sites)
    assert key in {f.key for f in faults}


def test_the_checker_rejects_a_ring_and_too_many_leads():
    tree = splice_tree(DISTANCE, LAMPS, 0)
    ring = replace(tree, edges=(*tree.edges, replace(tree.edges[0], a=0, b=len(tree.nodes) - 1)))
    assert {"one-tree", "leads"} <= {f.key for f in check_tree(ring, DISTANCE, LAMPS, 0, prices=PRICES)}
    few = check_tree(tree, DISTANCE, LAMPS, 0, prices=SplicePrices(max_leads=3))
    assert "leads" in {f.key for f in few}
