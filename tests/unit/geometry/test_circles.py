"""Bundles in section: exact cases, what always holds, bad input, the search by itself."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight.errors import OutOfRange
from rushlight.geometry import _centres_code, _exact, _holes, _hops, _polish, _seeds, _squeeze, circles
from rushlight.geometry.circles import (
    Packing,
    PackingStatus,
    enclosing_circle,
    first_packing,
    fits_within,
    lower_bound_mm,
    measure_packing,
    packing_gap_mm,
)

TOUCH = 1e-12
"""Overlap that rounding may leave, as a share of the container."""

sizes = st.floats(0.1, 5.0, allow_nan=False)
bundles = st.lists(sizes, min_size=1, max_size=9)


def assert_holds(packing: Packing, diameters_mm: list[float]) -> None:
    """What is true of every packing, whatever made it."""
    slack = TOUCH * packing.diameter_mm
    assert packing.diameters_mm == tuple(diameters_mm)
    assert len(packing.centres_mm) == len(diameters_mm)
    assert packing_gap_mm(packing) >= -slack
    assert measure_packing(packing).diameter_mm == pytest.approx(packing.diameter_mm, rel=1e-12)
    assert packing.lower_bound_mm <= packing.diameter_mm
    assert 0 < packing.area_share <= 1 + 1e-12


# --- exact cases


@pytest.mark.parametrize(
    ("diameters_mm", "expected_mm"),
    [
        ([1.0], 1.0),  # derived: the circle itself
        ([2.0, 1.0], 3.0),  # derived: d1 + d2
        ([2.0, 2.0, 2.0], 2 * (1 + 2 / math.sqrt(3))),  # derived: equilateral triangle of centres
        ([3.0, 2.0, 1.0], 5.0),  # derived: curvature 1/3 + 1/2 - 1/5 < 1, the third fits beside the pair
        ([2.0, 2.0, 4.0 / 3.0], 4.0),  # derived: curvatures -1/2, 1, 1, 3/2 halved: an Apollonian gasket
        ([6.0, 3.0, 2.0, 2.0, 1.0], 9.0),  # derived: 6 + 3; the rest fit beside (arbelos)
        ([1.0, 1.0, 1 / 1.5, 1 / 1.5, *[1 / 3] * 4], 2.0),  # derived: gasket -1, 2, 2, 3, 3, 6 x 4 (diameters 2/k)
    ],
)
def test_exact_cases_are_proved(diameters_mm: list[float], expected_mm: float) -> None:
    packing = enclosing_circle(diameters_mm)
    assert packing.diameter_mm == pytest.approx(expected_mm, rel=1e-9)
    assert packing.status is PackingStatus.PROVED
    assert_holds(packing, diameters_mm)


def test_deeper_gasket_is_found_and_proved() -> None:
    # derived: integral Apollonian gasket (-1, 2, 2, 3), curvatures up to 15; container of curvature 1
    curvatures = [2, 2, 3, 3, 6, 6, 6, 6, 11, 11, 11, 11, 14, 14, 14, 14, 15, 15]
    packing = enclosing_circle([2 / k for k in curvatures])
    assert packing.diameter_mm == pytest.approx(2.0, rel=1e-9)
    assert packing.status is PackingStatus.PROVED


@pytest.mark.parametrize("tiny", [0.05, 0.1, 0.15])
def test_thin_fibres_in_the_holes_of_seven_cost_nothing(tiny: float) -> None:
    packing = enclosing_circle([1.0] * 7 + [tiny] * 6)
    assert packing.diameter_mm == pytest.approx(3.0, rel=1e-9)  # derived: seven alone need 3, and the holes are free
    assert packing.status is PackingStatus.PROVED


@given(st.lists(st.floats(0.2, 3.0), min_size=3, max_size=3))
def test_three_circles_agree_with_descartes(three: list[float]) -> None:
    packing = enclosing_circle(three)
    r1, r2, r3 = sorted((d / 2 for d in three), reverse=True)
    if packing.diameter_mm > (r1 + r2) * 2 * (1 + 1e-9):
        # derived: Descartes' theorem with the container's curvature negative
        k = [1 / r1, 1 / r2, 1 / r3, -2 / packing.diameter_mm]
        assert sum(k) ** 2 == pytest.approx(2 * sum(x * x for x in k), rel=1e-6)
    assert packing.status is PackingStatus.PROVED
    assert_holds(packing, three)


# --- what always holds


@pytest.mark.parametrize("count", range(1, 10))
def test_no_overlap_and_inside(count: int) -> None:
    diameters_mm = np.random.default_rng(count).uniform(0.1, 5.0, count).tolist()
    assert_holds(enclosing_circle(diameters_mm, rounds=1), diameters_mm)


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(bundles)
def test_no_overlap_and_inside_of_anything(diameters_mm: list[float]) -> None:
    assert_holds(enclosing_circle(diameters_mm, rounds=1), diameters_mm)


@pytest.mark.parametrize(("counts", "core"), [((4, 8, 3), 4), ((2, 5, 9), 2), ((2, 10, 24), 12)])
def test_a_core_that_a_quick_look_refuses_holds_not_the_rest(counts: tuple[int, int, int], core: int) -> None:
    ratios = circles._ratios(np.repeat([1.0, 0.75, 0.5], counts))
    assert not circles._could_hold(ratios[:core], np.array(ratios) / 2)
    assert circles._hung(ratios[:core], np.array(ratios) / 2, 1) is None


@settings(max_examples=40, deadline=None)
@given(st.lists(sizes, min_size=1, max_size=80))
def test_first_packing_holds(diameters_mm: list[float]) -> None:
    assert_holds(first_packing(diameters_mm), diameters_mm)


@settings(max_examples=5, deadline=None)
@given(bundles, st.randoms(use_true_random=False))
def test_order_of_the_input_does_not_matter(diameters_mm: list[float], random: object) -> None:
    mixed = list(diameters_mm)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    one, other = enclosing_circle(diameters_mm, rounds=1), enclosing_circle(mixed, rounds=1)
    assert one.diameter_mm == other.diameter_mm
    pairs = sorted(zip(one.diameters_mm, one.centres_mm, strict=True))
    assert pairs == sorted(zip(other.diameters_mm, other.centres_mm, strict=True))


def test_what_fits_is_searched_only_where_nothing_else_tells(monkeypatch: pytest.MonkeyPatch) -> None:
    mix = [1.0, 1.0, 0.75, 0.75, 0.5]
    best, quick, bound = enclosing_circle(mix).diameter_mm, first_packing(mix).diameter_mm, lower_bound_mm(mix)
    assert bound < best < quick
    assert [fits_within(mix, mm) for mm in (best * (1 - 1e-9), best, (best + quick) / 2)] == [False, True, True]
    monkeypatch.setattr(circles, "enclosing_circle", lambda _: pytest.fail("searched"))
    assert not fits_within(mix, bound * 0.999)
    assert fits_within(mix, quick * 1.001)


@settings(max_examples=5, deadline=None)
@given(bundles, st.floats(0.01, 100.0))
def test_scale_goes_through(diameters_mm: list[float], scale: float) -> None:
    one = enclosing_circle(diameters_mm, rounds=1)
    other = enclosing_circle([d * scale for d in diameters_mm], rounds=1)
    assert other.diameter_mm == pytest.approx(one.diameter_mm * scale, rel=1e-9)
    assert other.status == one.status


@settings(max_examples=30, deadline=None)
@given(st.lists(sizes, min_size=1, max_size=30), sizes)
def test_lower_bound_rises_with_one_more(diameters_mm: list[float], extra: float) -> None:
    assert lower_bound_mm([*diameters_mm, extra]) >= lower_bound_mm(diameters_mm) * (1 - 1e-12)


def test_equal_bundles_grow_with_count() -> None:
    widths = [enclosing_circle([1.0] * n).diameter_mm for n in range(1, 201)]
    assert all(b >= a - 1e-9 for a, b in itertools.pairwise(widths))


def test_stored_centres_come_back_from_their_text() -> None:
    centres = np.random.default_rng(2).uniform(-7.9, 7.9, (50, 2))
    back = _centres_code.centres_of(_centres_code.text_of(centres))
    assert np.abs(back - centres).max() <= 8 / 256**5  # derived: half of one step of 16 / 256^5
    with pytest.raises(ValueError, match="-8 to 8"):
        _centres_code.text_of(centres * 2)


def test_same_answer_every_time() -> None:
    diameters = [1.0] * 5 + [0.5] * 6
    one = enclosing_circle(diameters, rounds=2)
    circles._worked_out.cache_clear()
    circles._SEARCHED.clear()
    assert enclosing_circle(diameters, rounds=2) == one


def test_permuted_centres_follow_their_circles() -> None:
    packing = enclosing_circle([0.5, 2.0, 1.0])
    middle_of_widest = packing.centres_mm[1]
    assert math.hypot(*middle_of_widest) == pytest.approx(packing.diameter_mm / 2 - 1.0)


# --- measured again


def test_measure_sees_an_overlap() -> None:
    packing = Packing((1.0, 1.0), ((-0.4, 0.0), (0.4, 0.0)), 1.8, 1.0, PackingStatus.BEST_FOUND)
    assert packing_gap_mm(packing) == pytest.approx(-0.2)  # derived: 0.8 apart, 1.0 to touch
    assert measure_packing(packing).diameter_mm == pytest.approx(1.8)


def test_measure_sees_a_circle_through_the_wall() -> None:
    packing = Packing((1.0, 1.0), ((-0.5, 0.0), (0.5, 0.0)), 1.9, 1.0, PackingStatus.BEST_FOUND)
    assert packing_gap_mm(packing) == pytest.approx(-0.05)  # derived: 0.95 - 0.5 - 0.5
    assert measure_packing(packing).least_gap_mm == pytest.approx(0.0)


def test_smallest_circle_ends_where_many_discs_touch_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Within rounding they would take turns for ever: 175 discs once took 1,760 passes."""
    passes: list[int] = []
    few = _exact._circle_of_few
    monkeypatch.setattr(_exact, "_circle_of_few", lambda table, members: passes.append(1) or few(table, members))
    enclosing_circle([1.0] * 175)
    assert 1 < len(passes) < 60


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.floats(-3, 3), st.floats(-3, 3), st.floats(0.1, 2)), min_size=1, max_size=12))
def test_smallest_circle_agrees_with_a_slow_minimiser(discs: list[tuple[float, float, float]]) -> None:
    x, y, radius = _exact.smallest_circle(discs)
    assert all(math.hypot(a - x, b - y) + r <= radius * (1 + 1e-9) for a, b, r in discs)
    # second method: Badoiu and Clarkson 2003, steps of 1 / (k + 1) towards the farthest point; error falls with 1 / k
    px, py = discs[0][:2]
    for k in range(1, 1500):
        far = max(discs, key=lambda d: math.hypot(d[0] - px, d[1] - py) + d[2])
        away = math.hypot(far[0] - px, far[1] - py)
        stretch = (1 + far[2] / away if away else 0.0) / (k + 1)
        px, py = px + stretch * (far[0] - px), py + stretch * (far[1] - py)
    reach = max(math.hypot(a - px, b - py) + r for a, b, r in discs)
    assert radius <= reach * (1 + 1e-9)
    assert radius == pytest.approx(reach, rel=5e-3)


# --- bad input


@pytest.mark.parametrize(
    "bad", [[], [0.0], [-1.0], [float("nan")], [float("inf")], [1.0, 1e-9], [1e308], [1.0] * 2001, ["x"], [None]]
)
def test_bad_diameters_are_refused(bad: list[float]) -> None:
    for call in (enclosing_circle, first_packing, lower_bound_mm):
        with pytest.raises(OutOfRange, match=r"diameters_mm|number of circles"):
            call(bad)


@pytest.mark.parametrize("rounds", [-1, 10_001])
def test_bad_rounds_are_refused(rounds: int) -> None:
    with pytest.raises(OutOfRange, match="rounds"):
        enclosing_circle([1.0], rounds=rounds)


# --- many


@pytest.mark.parametrize("n", [127, 400, 2000])
def test_many_equal_circles_are_packed_densely(n: int) -> None:
    packing = enclosing_circle([0.5] * n, rounds=0)
    assert_holds(packing, [0.5] * n)
    assert packing.area_share > 0.79  # derived: a hexagonal cut leaves only the wall's share of 0.9069 unused


def test_two_thousand_of_two_sizes_are_packed() -> None:
    diameters = [1.0, 0.5] * 1000
    packing = enclosing_circle(diameters)
    assert_holds(packing, diameters)
    assert packing.area_share > 0.75  # derived: well over half, as rings alone give


# --- the parts of the search by themselves


def test_search_alone_finds_proved_optima() -> None:
    for n, ratio in ((4, 1 + math.sqrt(2)), (7, 3.0), (13, 2 + math.sqrt(5))):
        radii = np.ones(n)
        found = _polish.polished(_hops.search(radii, _hops.effort_for(radii, 20)), radii)
        # source: Graham et al. 1998 and Fodor 2003, exact values
        assert _polish.container_radius(found, radii) == pytest.approx(ratio, rel=1e-9)


def test_squeeze_lowers_energy_and_estimates_the_true_radius() -> None:
    radii = np.ones(7)
    start = _seeds.starts(radii, 6, np.random.default_rng(1))
    soft = _squeeze.squeeze(start, radii, 10.0, 80)
    stiff = _squeeze.squeeze(soft.centres, radii, 1e4, 300)
    assert soft.radius.min() < stiff.radius.min() < 3.0 + 1e-3
    assert stiff.estimate.min() == pytest.approx(3.0, rel=1e-5)  # derived: seven equal circles need 3


def test_slope_is_that_of_the_energy() -> None:
    rng = np.random.default_rng(3)
    radii = rng.uniform(0.5, 1.5, 8)
    z = np.concatenate([rng.uniform(-2, 2, (2, 16)), np.full((2, 1), 3.0)], axis=1)
    pairs = _squeeze._near_pairs(z, radii)
    value, slope, _ = _squeeze._energy(z, radii, 10.0, pairs)
    for k in range(17):
        step = np.zeros(17)
        step[k] = 1e-6
        up = _squeeze._energy(z + step, radii, 10.0, pairs)[0]
        assert slope[:, k] == pytest.approx((up - value) / 1e-6, rel=1e-3, abs=1e-3)


def test_pair_lists_agree() -> None:
    rng = np.random.default_rng(5)
    radii = np.ones(60)
    z = np.concatenate([rng.uniform(-9, 9, (2, 120)), np.full((2, 1), 9.0)], axis=1)
    dense = _squeeze._near_pairs(z, radii)
    owner, left, right = _squeeze._tree_pairs(z, 60, 2.0 + _squeeze.SKIN)
    listed = set(zip((owner * 60 + left).tolist(), (owner * 60 + right).tolist(), strict=True))
    assert listed == set(zip(dense.first.tolist(), dense.second.tolist(), strict=True))


def test_holes_refuse_what_does_not_fit() -> None:
    centres = np.array(enclosing_circle([1.0] * 7).centres_mm)
    radii = np.full(7, 0.5)
    # derived: the hole between three touching discs of radius r takes (2 / sqrt 3 - 1) r = 0.1547 r
    assert _holes.filled(centres, radii, np.array([0.5 * 0.15]), 1.5) is not None
    assert _holes.filled(centres, radii, np.array([0.5 * 0.42]), 1.5) is None


@pytest.mark.parametrize("n", [1, 7, 19, 37, 61])
def test_seeds_have_the_count_and_do_not_coincide(n: int) -> None:
    for points in (_seeds.hexagonal(n, (0.0, 0.0)), _seeds.curved_hexagonal(n), _seeds.rings(n, 1)):
        assert points.shape == (n, 2)
        assert len(np.unique(np.round(points, 6), axis=0)) == n


def test_curved_hexagonal_seed_is_a_packing() -> None:
    points = _seeds.curved_hexagonal(37, 1.0)
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    # source: Lubachevsky and Graham 1997: curved hexagonal packings of 3 k (k + 1) + 1 discs have no overlap
    assert apart[np.triu_indices(37, 1)].min() >= 1 - 1e-9
