"""Trees with known lengths.

Sources: E. N. Gilbert, H. O. Pollak, "Steiner minimal trees", SIAM Journal on Applied Mathematics 16 (1968) 1-29: the
Steiner tree of three points meets at the Fermat point under 120 degrees; that of the unit square has the length
1 + sqrt(3); a regular hexagon's is its spanning tree of five sides (read in quotation, not in the paper itself).
networkx 3.x `minimum_spanning_tree` as the second method.
"""

import math

import networkx as nx
import numpy as np
import pytest

from rushlight.geometry.lay import fermat_points
from rushlight.geometry.tree import SplicePrices, spanning_tree, splice_tree

FREE = SplicePrices(end_allowance_mm=0.0, splice_mm=0.0, max_leads=3)


def _apart(xy):
    return np.hypot(xy[:, None, 0] - xy[None, :, 0], xy[:, None, 1] - xy[None, :, 1])


def _tree_length(ends, extra):
    xy = np.concatenate([np.asarray(ends, dtype=float), np.asarray(extra, dtype=float)])
    return splice_tree(_apart(xy), range(1, len(ends)), 0, prices=FREE).length_mm


def test_an_equilateral_triangle():
    ends = np.array([(0, 0), (100, 0), (50, 50 * math.sqrt(3))])
    (spot,) = fermat_points(ends)
    assert spot == pytest.approx((50, 50 / math.sqrt(3)))  # source: the centre, by symmetry
    assert _tree_length(ends, [spot]) == pytest.approx(100 * math.sqrt(3))  # source: Gilbert and Pollak


def test_the_unit_square():
    ends = [(0, 0), (100, 0), (100, 100), (0, 100)]
    t = 100 / (2 * math.sqrt(3))  # derived: both splices lie on the middle line, t from their sides
    found = _tree_length(ends, [(t, 50), (100 - t, 50)])
    assert found == pytest.approx(100 * (1 + math.sqrt(3)))  # source: Gilbert and Pollak


def test_the_regular_hexagon():
    ends = [(100 * math.cos(k * math.pi / 3), 100 * math.sin(k * math.pi / 3)) for k in range(6)]
    found = _tree_length(ends, [*ends, (0, 0), *(fermat_points(np.array(ends)))])
    assert found == pytest.approx(500)  # source: Gilbert and Pollak: five sides


def test_a_triangle_with_a_wide_angle_has_no_fermat_point():
    assert len(fermat_points(np.array([(0, 0), (100, 0), (50, 5.0)]))) == 0  # source: an angle above 120 degrees


def test_fermat_points_see_the_sides_under_120_degrees():
    for triple in np.random.default_rng(1).uniform(0, 100, (60, 3, 2)):
        for spot in fermat_points(triple):
            arms = triple - spot
            angles = np.sort(np.arctan2(arms[:, 1], arms[:, 0]))
            gaps = np.diff(np.append(angles, angles[0] + 2 * math.pi))
            assert np.degrees(gaps) == pytest.approx([120] * 3, abs=1e-6)  # source: Gilbert and Pollak


@pytest.mark.parametrize("seed", range(6))
def test_spanning_trees_equal_networkx(seed):
    xy = np.random.default_rng(seed).uniform(0, 100, (25, 2))
    graph = nx.from_numpy_array(_apart(xy))
    theirs = nx.minimum_spanning_tree(graph).size(weight="weight")
    assert spanning_tree(_apart(xy)).length_mm == pytest.approx(theirs)  # source: networkx


def test_a_tree_is_never_shorter_than_the_steiner_ratio_allows():
    # derived: a Steiner tree is at least sqrt(3)/2 of the spanning tree if the ratio holds; ours may not beat it.
    for seed in range(4):
        xy = np.random.default_rng(seed).uniform(0, 100, (8, 2))
        sites = np.concatenate([xy, fermat_points(xy)])
        length = splice_tree(_apart(sites), range(1, 8), 0, prices=FREE).length_mm
        spanning = spanning_tree(_apart(xy)).length_mm
        assert math.sqrt(3) / 2 * spanning <= length <= spanning + 1e-9
