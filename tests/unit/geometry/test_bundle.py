"""A bundle at the bench: hand-made range, notes on counts, heat shrink, LED face, sleeves, rings."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight import tables
from rushlight.errors import OutOfRange
from rushlight.geometry import bundle as bundles
from rushlight.geometry.bundle import (
    FaceVerdict,
    LedFace,
    NoTube,
    TubeFit,
    TubeSize,
    choose_tube,
    count_step,
    face_overlap,
    fill_share,
    free_places,
    hand_made_diameter_mm,
    led_face_fits,
    lit_shares,
    loose_offsets_mm,
    one_more_is_free,
    outer_diameter_mm,
    ring_of_each,
    rings,
    sleeve_places,
    tube_fit,
)
from rushlight.geometry.circles import Packing, PackingStatus, enclosing_circle
from rushlight.units import Range

SEVEN = enclosing_circle([0.5] * 7)
NINETEEN = enclosing_circle([0.5] * 19)

# --- hand-made diameter


def test_seven_fibres_fall_into_place() -> None:
    made = hand_made_diameter_mm(SEVEN)
    assert (made.low, made.high) == (pytest.approx(1.5), pytest.approx(1.5 * 1.03))  # source: bundle_hand_made.csv


def test_nineteen_fibres_are_wider_by_hand_than_on_paper() -> None:
    made = hand_made_diameter_mm(NINETEEN)
    ideal = NINETEEN.diameter_mm
    # source: bundle_hand_made.csv, 1.03 to 1.08, typical 1.05
    assert [made.low, made.typical, made.high] == pytest.approx([ideal * 1.03, ideal * 1.05, ideal * 1.08])


def test_factors_agree_with_random_packing_densities() -> None:
    typical = float(tables.rows("bundle_hand_made")[-1]["typical_factor"])
    high = float(tables.rows("bundle_hand_made")[-1]["high_factor"])
    # source: jammed 0.826 (Atkinson et al. 2014), loose 0.772 (Hinrichsen et al. 1990), perfect 0.9069
    assert typical == pytest.approx(math.sqrt(0.9069 / 0.826), abs=0.005)
    assert high == pytest.approx(math.sqrt(0.9069 / 0.772), abs=0.005)


def test_a_single_fibre_is_its_own_bundle() -> None:
    one = enclosing_circle([0.75])
    assert hand_made_diameter_mm(one) == Range.exactly(0.75)


def test_tolerance_widens_both_ends() -> None:
    plain, loose = hand_made_diameter_mm(NINETEEN), hand_made_diameter_mm(NINETEEN, diameter_tolerance=0.06)
    assert loose.low == pytest.approx(plain.low * 0.94)
    assert loose.high == pytest.approx(plain.high * 1.06)
    assert loose.typical == plain.typical


def test_a_reading_replaces_the_estimate() -> None:
    assert hand_made_diameter_mm(NINETEEN, measured_mm=2.6) == Range.exactly(2.6)


@pytest.mark.parametrize("reading", [0.5, 100.0, float("nan")])
def test_an_impossible_reading_is_refused(reading: float) -> None:
    with pytest.raises(OutOfRange, match="measured_mm"):
        hand_made_diameter_mm(NINETEEN, measured_mm=reading)


@pytest.mark.parametrize("tolerance", [-0.01, 0.3, float("nan")])
def test_a_wild_tolerance_is_refused(tolerance: float) -> None:
    with pytest.raises(OutOfRange, match="diameter_tolerance"):
        hand_made_diameter_mm(SEVEN, diameter_tolerance=tolerance)


# --- fill share and counts


def test_fill_share_of_seven_is_seven_ninths() -> None:
    assert fill_share(SEVEN.diameters_mm, SEVEN.diameter_mm) == pytest.approx(7 / 9)  # derived: 7 d^2 / (3 d)^2


def test_fill_share_falls_with_a_wider_circle() -> None:
    made = hand_made_diameter_mm(NINETEEN)
    shares = [fill_share(NINETEEN.diameters_mm, d) for d in (NINETEEN.diameter_mm, made.typical, made.high)]
    assert shares == sorted(shares, reverse=True)
    assert shares[1] == pytest.approx(shares[0] / 1.05**2)


@pytest.mark.parametrize(("fibres", "circle"), [([], 1.0), ([1.0, 0.0], 3.0), ([1.0, 1.0], 1.0), ([1.0], math.nan)])
def test_fill_share_refuses_the_impossible(fibres: list[float], circle: float) -> None:
    with pytest.raises(OutOfRange, match="diameter"):
        fill_share(fibres, circle)


@pytest.mark.parametrize(("count", "free"), [(6, True), (18, True), (7, False), (19, False), (36, False), (1, False)])
def test_one_more_is_free_after_six_and_eighteen(count: int, free: bool) -> None:
    assert one_more_is_free(count) is free  # source: Graham et al. 1998: 6 and 7, 18 and 19 share a diameter


def test_steps_are_uneven() -> None:
    # source: published radii 6.746753793, 6.758770483, 6.961886965 for 36, 37, 38
    step = count_step(37)
    assert step.one_more_share == pytest.approx(6.961886965 / 6.758770483 - 1, rel=1e-6)
    assert step.one_fewer_share == pytest.approx(1 - 6.746753793 / 6.758770483, rel=1e-5)


@pytest.mark.parametrize("count", [0, 201])
def test_counts_out_of_range_are_refused(count: int) -> None:
    with pytest.raises(OutOfRange, match="count"):
        count_step(count)


def test_free_places_of_six_and_of_seven() -> None:
    assert free_places(enclosing_circle([0.5] * 6), 0.5) == 1  # derived: the seventh fits in the same circle
    assert free_places(SEVEN, 0.5) == 0
    # derived: six gaps between the outer six and the wall; a disc there has curvature 2/1 (Descartes): below r / 2.6
    assert free_places(SEVEN, 0.5 * 0.19) >= 6


@pytest.mark.parametrize("diameter", [0.0, -1.0, 0.001, math.nan])
def test_free_places_refuses_dust(diameter: float) -> None:
    with pytest.raises(OutOfRange, match="diameter_mm"):
        free_places(SEVEN, diameter)


# --- heat shrink

TUBES = tuple(TubeSize(f"{bore}", bore, bore / 2, 0.5) for bore in (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0))


def test_the_narrowest_easy_tube_is_taken() -> None:
    choice = choose_tube(TUBES, hand_made_diameter_mm(NINETEEN), NINETEEN.diameter_mm)
    assert isinstance(choice, TubeFit)
    # derived: upper value 2.432 * 1.08 = 2.626; 3.0 slides on but is 0.875 full, 3.5 is 0.750 full
    assert choice.tube.name == "3.5"
    assert choice.easy
    assert choice.slides_over_mm == pytest.approx(2.432 * 1.08, rel=1e-3)
    assert choice.grips_mm == NINETEEN.diameter_mm


def test_a_full_tube_is_taken_where_no_easy_one_is_to_be_had() -> None:
    choice = choose_tube(TUBES[:4], hand_made_diameter_mm(NINETEEN), NINETEEN.diameter_mm)
    assert isinstance(choice, TubeFit)
    assert (choice.tube.name, choice.easy) == ("3.0", False)


def test_sliding_allowance_and_grip_are_kept_exactly() -> None:
    made = Range(1.9, 2.0, 2.1)
    assert not tube_fit(TubeSize("edge", 2.3, 1.0, 0.5), made, 1.9).slides_on
    assert tube_fit(TubeSize("over", 2.3001, 1.0, 0.5), made, 1.9).slides_on
    assert not tube_fit(TubeSize("slack", 3.0, 1.9, 0.5), made, 1.9).grips
    assert tube_fit(TubeSize("tight", 3.0, 1.8999, 0.5), made, 1.9).grips


@pytest.mark.parametrize(
    ("tubes", "why"),
    [
        (TUBES[:2], "wide enough"),
        ((TubeSize("stiff", 9.0, 8.0, 0.5),), "shrinks far enough"),
        ((TubeSize("stiff", 9.0, 8.0, 0.5), TUBES[0]), "do not shrink far enough"),
        ((), "wide enough"),
    ],
)
def test_no_tube_says_why(tubes: tuple[TubeSize, ...], why: str) -> None:
    choice = choose_tube(tubes, hand_made_diameter_mm(NINETEEN), NINETEEN.diameter_mm)
    assert isinstance(choice, NoTube)
    assert why in choice.why
    assert choice.supplied_bore_over_mm == pytest.approx(NINETEEN.diameter_mm * 1.08 + 0.2)
    assert choice.recovered_bore_under_mm == NINETEEN.diameter_mm


def test_outer_diameter_keeps_the_walls_volume() -> None:
    tube = TubeSize("x", 4.0, 2.0, 0.5)
    assert outer_diameter_mm(tube, 1.0) == pytest.approx(3.0)  # derived: fully recovered, 2.0 + 2 * 0.5
    for thing in (2.0, 2.5, 3.0, 3.9):
        outer = outer_diameter_mm(tube, thing)
        assert outer**2 - thing**2 == pytest.approx(3.0**2 - 2.0**2)  # derived: same ring area
        assert (outer - thing) / 2 <= 0.5 + 1e-12


@pytest.mark.parametrize("thing", [0.0, -1.0, math.inf, math.nan])
def test_outer_diameter_refuses_no_thing(thing: float) -> None:
    with pytest.raises(OutOfRange, match="thing_mm"):
        outer_diameter_mm(TUBES[0], thing)


def test_tube_fit_refuses_no_bore() -> None:
    with pytest.raises(OutOfRange, match="bundle or bore"):
        tube_fit(TubeSize("none", 0.0, 0.0, 0.5), Range(1.0, 1.0, 1.0), 1.0)


# --- LED face


@settings(max_examples=30, deadline=None)
@given(st.floats(0.2, 3.0), st.booleans())
def test_overlap_agrees_with_counting_points(ratio: float, round_face: bool) -> None:
    overlap = face_overlap(ratio, LedFace("x", 1.0, round_face))
    side = np.linspace(-2, 2, 801)
    x, y = np.meshgrid(side, side)
    disc = np.hypot(x, y) <= ratio / 2
    face = np.hypot(x, y) <= 0.5 if round_face else np.maximum(abs(x), abs(y)) <= 0.5
    assert overlap.caught_share == pytest.approx((disc & face).sum() / face.sum(), abs=0.02)  # second method
    assert overlap.lit_share == pytest.approx((disc & face).sum() / disc.sum(), abs=0.03)


def test_wider_bundle_catches_more_and_is_lit_less() -> None:
    widths = [0.2, 0.8, 1.0, 1.1, 1.3, 1.414, 1.5, 2.0]
    overlaps = [face_overlap(w, LedFace("x", 1.0)) for w in widths]
    assert [o.caught_share for o in overlaps] == sorted(o.caught_share for o in overlaps)
    assert [o.lit_share for o in overlaps] == sorted((o.lit_share for o in overlaps), reverse=True)
    assert overlaps[1].caught_share == pytest.approx(math.pi * 0.64 / 4)  # derived: circle inside the square
    assert overlaps[-1].caught_share == 1.0


def test_habit_edges() -> None:
    made = Range(1.0, 1.0, 1.0)
    faces = [LedFace("same", 1.0), LedFace("narrow", 1 / 1.11), LedFace("wide", 1 / 0.79), LedFace("ok", 1 / 1.09)]
    fits = {fit.face.name: fit.verdict for fit in led_face_fits(made, faces)}
    assert fits == {
        "same": FaceVerdict.FITS,
        "ok": FaceVerdict.FITS,
        "narrow": FaceVerdict.BUNDLE_WIDE,
        "wide": FaceVerdict.BUNDLE_NARROW,
    }


def test_best_face_comes_first_and_uses_the_middle_value() -> None:
    made = Range(1.8, 2.0, 2.4)
    fits = led_face_fits(made, [LedFace("5", 5.0), LedFace("2.4", 2.4), LedFace("2.1", 2.1), LedFace("1.5", 1.5)])
    assert [fit.face.name for fit in fits] == ["2.1", "2.4", "1.5", "5"]
    assert all(fit.bundle_mm == 2.0 for fit in fits)


def test_overlap_refuses_no_bundle() -> None:
    with pytest.raises(OutOfRange, match="bundle or face"):
        face_overlap(0.0, LedFace("x", 1.0))


def test_outer_fibres_lose_light_on_a_narrow_face() -> None:
    shares = lit_shares(NINETEEN, LedFace("narrow", NINETEEN.diameter_mm * 0.8))
    ring = ring_of_each(NINETEEN)
    assert all(share == 1.0 for share, r in zip(shares, ring, strict=True) if r < 2)
    assert all(share < 1.0 for share, r in zip(shares, ring, strict=True) if r == 2)
    assert lit_shares(NINETEEN, LedFace("wide", 9.0)) == (1.0,) * 19


def test_half_a_fibre_over_the_edge_is_half_lit() -> None:
    two = enclosing_circle([1.0, 1.0])
    assert lit_shares(two, LedFace("x", 1.0)) == pytest.approx([0.5, 0.5])  # derived: centres on the edge


def test_a_round_face_lights_the_common_area() -> None:
    two = enclosing_circle([1.0, 1.0])
    # derived: two circles of radius 0.5, centres 0.5 apart: lens of 2 pi / 3 - sqrt 3 / 2 times r^2
    lens = (2 * math.pi / 3 - math.sqrt(3) / 2) / math.pi
    assert lit_shares(two, LedFace("x", 1.0, round_face=True)) == pytest.approx([lens, lens])
    assert lit_shares(two, LedFace("x", 1.0, round_face=True), spread=2.0) == pytest.approx([0.0, 0.0])
    assert lit_shares(two, LedFace("x", 4.0, round_face=True)) == (1.0, 1.0)


def test_spread_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfRange, match="spread"):
        lit_shares(SEVEN, LedFace("x", 1.0), spread=0.9)


# --- sleeves and rings


def test_three_sleeves_hold_a_bundle() -> None:
    places = sleeve_places(200.0, 3.0)
    assert [p.place for p in places] == ["at the LED", "at the middle", "at the fan-out"]
    assert [p.from_led_mm for p in places] == [5.0, 100.0, 195.0]
    # source: parts_heat_shrink_rules.csv, a tube loses up to 15 % of its length
    assert all(p.cut_mm * 0.85 == pytest.approx(10.0) for p in places)


def test_a_short_bundle_gets_one_sleeve_and_a_thick_one_longer_ones() -> None:
    assert len(sleeve_places(20.0, 3.0)) == 1
    assert sleeve_places(100.0, 12.0)[0].cut_mm == pytest.approx(12.0 / 0.85)


def test_sleeves_refuse_no_length() -> None:
    with pytest.raises(OutOfRange, match="lengths"):
        sleeve_places(0.0, 3.0)


@pytest.mark.parametrize(
    ("count", "expected"),
    [(1, [1]), (3, [3]), (7, [1, 6]), (19, [1, 6, 12]), (37, [1, 6, 12, 18]), (61, [1, 6, 12, 18, 24])],
)
def test_rings_of_the_round_counts(count: int, expected: list[int]) -> None:
    packing = enclosing_circle([0.5] * count)
    assert [len(ring) for ring in rings(packing)] == expected  # derived: 6 k circles in ring k round one


@pytest.mark.parametrize("count", range(1, 62, 4))
def test_rings_hold_each_circle_once(count: int) -> None:
    packing = enclosing_circle([0.5] * count)
    found = rings(packing)
    assert sorted(k for ring in found for k in ring) == list(range(count))
    assert all(found)
    assert all(ring_of_each(packing)[k] == r for r, ring in enumerate(found) for k in ring)


def test_rings_go_round_by_angle() -> None:
    outer = rings(NINETEEN)[-1]
    angles = [math.atan2(*reversed(NINETEEN.centres_mm[k])) for k in outer]
    assert angles == sorted(angles)


def test_count_beyond_the_factor_table_is_refused() -> None:
    packing = Packing((1.0,) * 2001, ((0.0, 0.0),) * 2001, 50.0, 1.0, PackingStatus.BEST_FOUND)
    with pytest.raises(OutOfRange, match="count"):
        bundles.hand_made_diameter_mm(packing)


def test_a_loose_bundle_keeps_its_middle_and_its_rim() -> None:
    wide = Range(SEVEN.diameter_mm * 0.98, SEVEN.diameter_mm * 1.015, SEVEN.diameter_mm * 1.09)
    middle, *rim = sorted(loose_offsets_mm(SEVEN, wide), key=lambda one: one.typical)
    assert middle == pytest.approx(Range.exactly(0.0))
    for one in rim:  # derived: the outer six touch the rim of either circle
        for end, diameter in ((one.low, wide.low), (one.typical, wide.typical), (one.high, wide.high)):
            assert end == pytest.approx((diameter - SEVEN.diameters_mm[0]) / 2, rel=1e-6)


def test_as_wide_as_the_ideal_a_bundle_is_the_ideal() -> None:
    mixed = enclosing_circle((1.0, 0.5, 0.5, 0.75), rounds=2)
    offsets = loose_offsets_mm(mixed, Range.exactly(mixed.diameter_mm))
    assert [one.typical for one in offsets] == pytest.approx([math.hypot(x, y) for x, y in mixed.centres_mm])
    looser = loose_offsets_mm(mixed, Range.exactly(1.08 * mixed.diameter_mm))
    assert all(after.typical + width / 2 <= 1.08 * mixed.diameter_mm / 2 + 1e-9
               for after, width in zip(looser, mixed.diameters_mm, strict=True))


def test_a_lone_fibre_stays_on_the_axis_and_a_bundle_has_a_width() -> None:
    one = enclosing_circle((0.5,))
    assert loose_offsets_mm(one, Range(0.47, 0.5, 0.53)) == (Range.exactly(0.0),)
    with pytest.raises(OutOfRange, match="bundle's width"):
        loose_offsets_mm(one, Range.exactly(0.0))
