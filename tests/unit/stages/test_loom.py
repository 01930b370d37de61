"""Leads, splices, fibres, bundles."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import SMALL
from designed import PACKAGED, designed
from plans import board
from rushlight.geometry.tree import MOST_ROUNDS, search_rounds
from rushlight.model.plan_part import Height, KeepOut, Part, Relief, StringLength
from rushlight.stages import loom, net_tree
from rushlight.stages.fibre_light import USUAL_JOINT, tail_light
from rushlight.stages.layouts import keep_out_shape, relief_mm, stretch_of
from rushlight.stages.wiring import Net, rounds_of, wire_for
from rushlight.units import Range

LAMPS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: day}}" for k in range(7)
)
ROW = "{name: r, part: board, along_mm: [[20, 85], [180, 85]], count: 12, colour: warm white, model_mm: 0.5, states: day}"


def test_a_single_lamp_needs_two_leads_and_no_splice() -> None:
    loom = designed(board(LAMPS.splitlines()[0])).loom
    assert len(loom.leads) == 2 and loom.splices == ()
    assert {lead.net for lead in loom.leads} == {"plus", "return"}


def test_splices_join_three_leads_and_the_feed_at_most() -> None:
    loom = designed(board(LAMPS)).loom
    assert loom.splices and all(3 <= len(splice.leads) <= 4 for splice in loom.splices)


def test_cut_length_is_route_plus_a_tenth_plus_30_mm_rounded_up() -> None:
    for lead in designed(board(LAMPS)).loom.leads:
        want = lead.length_mm * 1.1 + 30  # source: habit wire_spare, common practice
        assert want <= lead.cut_mm < want + 5


def test_colours_and_labels() -> None:
    loom = designed(board(LAMPS.replace("states: day", "states: day", 1).replace("l3, part", "l3, part"))).loom
    assert {lead.colour for lead in loom.leads if lead.net == "return"} == {"black"}
    assert "black" not in {lead.colour for lead in loom.leads if lead.net == "plus"}
    assert len({lead.name for lead in loom.leads}) == len(loom.leads)


def test_one_bundle_feeds_the_row_and_its_ring_places_are_real() -> None:
    loom = designed(board(rows=ROW)).loom
    assert sum(len(bundle.tails) for bundle in loom.bundles) == 12
    for bundle in loom.bundles:
        assert bundle.lower_bound_mm <= bundle.ideal_mm * (1 + 1e-9) <= bundle.hand_made_mm.high
        tails = [tail for tail in loom.tails if tail.emitter == bundle.emitter]
        ideal = sorted(math.hypot(x, y) for x, y in bundle.centres_mm)
        tied = sorted(tail.offset_mm.typical for tail in tails)
        stretch = (bundle.hand_made_mm.typical - 0.5) / (bundle.ideal_mm - 0.5)
        assert tied == pytest.approx([stretch * one for one in ideal])
        assert max(tied) <= (bundle.hand_made_mm.typical - 0.5) / 2 + 1e-9, "all lie in the bundle as tied"


def test_the_tail_that_loses_most_lies_nearest_to_the_middle() -> None:
    loom = designed(board(rows=ROW)).loom
    for bundle in loom.bundles:
        tails = sorted((tail for tail in loom.tails if tail.emitter == bundle.emitter), key=lambda tail: tail.offset_mm.typical)
        led = PACKAGED.led(next(row for row in loom.emitters if row.name == bundle.emitter).part_row)
        gives = [tail_light(PACKAGED, led, replace(tail, offset_mm=Range.exactly(0.0)), USUAL_JOINT).axial_intensity_cd.typical for tail in tails]
        assert tails[gives.index(min(gives))].offset_mm.typical == pytest.approx(tails[0].offset_mm.typical)


def test_bends_keep_twenty_diameters_on_an_open_board() -> None:
    for tail in designed(board(rows=ROW)).loom.tails:
        assert tail.least_bend_mm >= 20 * tail.fibre_mm - 1e-9  # source: habit fibre_bend, common practice


def test_anchors_are_no_farther_apart_than_the_habit() -> None:
    loom = designed(board(LAMPS)).loom
    assert loom.anchors and all(spot.part == "board" for spot in loom.anchors)


def test_a_lamp_behind_a_wall_of_keep_outs_is_named_with_the_reason() -> None:
    fence = (
        "    keep_outs: [{name: n, rect_mm: [10, 90, 40, 5]}, {name: s, rect_mm: [10, 60, 40, 5]}, "
        "{name: w, rect_mm: [10, 60, 5, 35]}, {name: e, rect_mm: [45, 60, 5, 35]}]\n    relief:"
    )
    text = board("{name: a, part: board, at_mm: [30, 78], colour: red, model_mm: 3, states: day}").replace("    relief:", fence)
    loom = designed(text).loom
    assert [row.item for row in loom.unrouted] == ["a"] and loom.unrouted[0].why


def test_thicker_wire_for_more_current() -> None:
    gauges = [wire_for(PACKAGED, amps).awg for amps in (0.01, 0.2, 0.5, 1.2)]
    assert gauges == sorted(gauges, reverse=True) and gauges[0] == 30


def test_a_round_keep_out_is_drawn_round_its_circle() -> None:
    shape = keep_out_shape(KeepOut(name="p", centre_mm=(0.0, 0.0), radius_mm=5.0))
    for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
        assert math.hypot((ax + bx) / 2, (ay + by) / 2) >= 5.0 - 1e-9


def test_relief_from_a_string_heights_or_nothing() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    stretched = Part(name="p", outline_mm=square, relief=Relief(strings=(StringLength(from_mm=(0, 0), to_mm=(100, 0), length_mm=120),)))
    assert stretch_of(stretched) == pytest.approx(1.2)
    unknown = Part(name="p", outline_mm=square)
    assert relief_mm(unknown, ((0.0, 0.0), (100.0, 0.0))) == pytest.approx(15.0)  # derived: 15 % slack
    sloping = Part(name="p", outline_mm=square, relief=Relief(heights=(
        Height(at_mm=(0.0, 0.0), height_mm=0.0), Height(at_mm=(100.0, 0.0), height_mm=75.0))))
    assert relief_mm(sloping, ((0.0, 0.0), (100.0, 0.0))) == pytest.approx(25.0, abs=0.1)  # derived: 3-4-5 triangle


def test_choices_that_the_modeller_holds_fast() -> None:
    held = designed(board(LAMPS, more='pinned: [{of: A, choice: gauge_awg, value: "26"}, {of: l0, choice: led, value: "5 mm red, diffused"}]\n'))
    plus = {lead.wire for lead in held.loom.leads if lead.net == "plus"}
    assert {held.drawer.wire(name).awg for name in plus} == {26}
    assert held.source("l0").led == "5 mm red, diffused" and held.source("l1").led != "5 mm red, diffused"


def test_leads_are_stranded() -> None:
    assert all("solid" not in lead.wire for lead in designed(board(LAMPS)).loom.leads)


def test_search_rounds_are_a_tree_s_own_until_a_loom_is_large() -> None:
    emitter = designed(board(LAMPS.splitlines()[0])).loom.emitters[0]
    nets = [Net(str(n), None, (emitter,) * count, "red", 0.1) for n, count in enumerate((10, 60, 400))]
    assert rounds_of(nets[:2]) == [search_rounds(10), search_rounds(60)]
    large = rounds_of(nets * 4)
    assert 0.99 * MOST_ROUNDS < sum(large) <= MOST_ROUNDS and min(large) > 0


def test_a_lone_tail_gets_a_narrow_led_and_a_bundle_the_wide_one() -> None:
    lone = "{name: a, part: board, at_mm: [100, 60], colour: warm white, model_mm: 1, states: day, source: {kind: fibre}}"
    (led,) = {PACKAGED.led(row.part_row).face_mm for row in designed(board(lone)).loom.emitters}
    assert led == 1.8  # derived: 1.47 mA on 1.8 mm, clear, against 0.94 mA on 3 mm, clear, within twice
    many = designed(board(rows=ROW)).loom
    assert {PACKAGED.led(many.emitter(row.emitter).part_row).face_mm for row in many.bundles} == {3.0}  # all twelve on one


@pytest.mark.parametrize("edit", [
    ("kind: cells, cell: AA, in_series: 4", "kind: adapter, adapter_v: 12, limit_a: 2"),
    ("size_mm: 100, states: [dusk, night]", "size_mm: 60, states: [dusk, night]"),
    ("at_mm: [190, 50]", "at_mm: [186, 46]"), ("count: 6", "count: 7"), ("centre_mm: [100, 30]", "centre_mm: [110, 34]"),
])
def test_a_loom_of_what_was_kept_is_the_one_laid_from_nothing(edit: tuple[str, str]) -> None:
    """Trees and fibres are kept from one design to the next; the plain way lays every loom anew."""
    assert edit[0] in SMALL
    designed(SMALL)
    kept = designed(SMALL.replace(*edit))
    for cached in (net_tree.laid_tree, loom._laid):
        cached.cache_clear()
    fresh = designed(SMALL.replace(*edit))
    assert (kept.first_loom, kept.loom) == (fresh.first_loom, fresh.loom)


def test_another_supply_leaves_trees_and_fibres_as_they_are() -> None:
    for cached in (net_tree.laid_tree, loom._laid):
        cached.cache_clear()
    designed(SMALL)
    trees, fibres = net_tree.laid_tree.cache_info().misses, loom._laid.cache_info().misses
    designed(SMALL.replace("in_series: 4", "in_series: 8"))
    assert trees > 1 and net_tree.laid_tree.cache_info().misses == trees and loom._laid.cache_info().misses == fibres == 1
