"""Floodlights on a part: map, mirror, shadow, range, states."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.findings import find
from rushlight.optics.emitter import pattern_order
from rushlight.optics.pool_map import Beam, beam_lx

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: dusk}, {name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true},
     keep_outs: [%s], bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
"""
LAMP = ("  - {name: %s, part: yard, at_mm: [%g, 90], facing: down, colour: white, size_mm: 200, states: [%s], "
        "lights_mm: 40, lights_part: yard, foot_mm: [%g, 50]%s}\n")
POST = "{name: hut, why: post, rect_mm: [130, 40, 10, 20], height_mm: %g}"


def test_one_lamp_gives_the_law() -> None:
    made = designed(PLAN % "" + LAMP % ("a", 60, "night", 60, ", aim_mm: [80, 50]"))
    (ground,), (pool,) = made.light.grounds, made.light.pools
    light = made.light.lamps[0]
    assert (ground.lamps, ground.states, ground.part) == (("a",), ("night",), "yard")
    led = made.drawer.led(made.source("a").led)
    beam = Beam(light.intensity_cd.typical, pattern_order(led.half_angle_deg), (60, 50), 40, (80, 50))
    x, y = ground.corner_mm[0] + 30 * ground.step_mm, ground.corner_mm[1] + 12 * ground.step_mm
    assert ground.lx[12][30] == pytest.approx(float(beam_lx(beam, x, y)), rel=1e-3)
    assert pool.tilt_deg == pytest.approx(26.565, abs=0.01)  # derived: atan 20/40
    assert ground.peak_lx.low < ground.peak_lx.typical < ground.peak_lx.high
    assert ground.mean_lx.typical < ground.peak_lx.typical
    assert 60 <= ground.peak_at_mm[0] <= 80
    assert 0.1 < ground.evenness < 1


def test_mirrored_plans_give_mirrored_maps() -> None:
    left = designed(PLAN % "" + LAMP % ("a", 60, "night", 60, ", aim_mm: [80, 40]")).light.grounds[0]
    right = designed(PLAN % "" + LAMP % ("a", 140, "night", 140, ", aim_mm: [120, 40]")).light.grounds[0]
    times = left.peak_lx.typical / right.peak_lx.typical  # leads of another length: a trace more or less current
    assert [[times * lx for lx in row[::-1]] for row in right.lx] == [pytest.approx(row, abs=2e-4) for row in left.lx]
    assert times == pytest.approx(1.0, abs=0.02)


def test_states_that_light_alike_share_a_map_and_pools_add() -> None:
    text = PLAN % "" + LAMP % ("a", 60, "dusk, night", 60, "") + LAMP % ("b", 140, "night", 140, "")
    made = designed(text)
    lamps = {ground.states: ground.lamps for ground in made.light.grounds}
    assert lamps == {("dusk",): ("a",), ("night",): ("a", "b")}
    one, two = made.light.grounds
    assert sum(map(sum, two.lx)) == pytest.approx(2 * sum(map(sum, one.lx)), rel=0.01)
    (dip,) = two.dips
    assert dip.apart_mm == 80
    assert dip.even_apart_mm < 80 and dip.even_height_mm > 40
    again = designed(text.replace("[140, 50]", f"[{60 + dip.even_apart_mm:.2f}, 50]"))
    assert not any(ground.dips for ground in again.light.grounds), "the cure's own numbers cure it"


def test_a_shadow_is_told_with_what_cures_it() -> None:
    lamp = LAMP % ("a", 100, "night", 100, "")
    bare, shaded = (designed(PLAN % row + lamp) for row in ("", POST % 30))
    (ground,) = shaded.light.grounds
    (shadow,) = ground.shadows
    assert shadow.reach_mm == pytest.approx((40**2 + 10**2) ** 0.5 * 30 / 10)  # derived: similar triangles
    assert 0 < sum(map(sum, ground.lx)) < sum(map(sum, bare.light.grounds[0].lx))
    assert shadow.left_share == 0
    told = [row for row in find(shaded) if row.key == "light.pool-shadow"]
    assert len(told) == (1 if shadow.share > 0.1 else 0)
    lower = designed(PLAN % (POST % 5) + lamp).light.grounds[0].shadows
    assert lower[0].share < shadow.share


def test_a_ground_that_is_not_named_has_its_own_map() -> None:
    made = designed(PLAN % "" + (LAMP % ("a", 60, "night", 60, "")).replace(
        ", lights_part: yard, foot_mm: [60, 50]", ", tilt_deg: 30"))
    (ground,) = made.light.grounds
    assert ground.part is None and ground.feet_mm == ((0.0, 0.0),)
    assert ground.aims_mm[0] == pytest.approx((23.094, 0.0), abs=0.01)  # derived: 40 tan 30


ROW = ("rows:\n  - {name: quay, part: yard, along_mm: [[20, 90], [180, 90]], count: %d, facing: down, colour: white, size_mm: 200,\n"
       "     states: [night], lights_mm: 40, lights_part: yard, feet_mm: [[40, 50], [160, 50]], aim_by_mm: [0, %g]}\n")


def test_a_row_of_floodlights_is_so_many_lamps() -> None:
    head = (PLAN % "").removesuffix("lamps:\n")
    row = designed(head + ROW % (3, -10)).light.grounds[0]
    assert row.lamps == ("quay 1", "quay 2", "quay 3")
    assert row.feet_mm == ((40.0, 50.0), (100.0, 50.0), (160.0, 50.0))  # derived: spread along the line
    assert row.aims_mm[2] == (160.0, 40.0)
    single = designed(PLAN % "" + "".join(LAMP % (f"q{k}", 20 + 80 * k, "night", x, f", aim_mm: [{x}, 40]")
                                          for k, x in enumerate((40, 100, 160)))).light.grounds[0]
    assert single.peak_lx.typical == pytest.approx(row.peak_lx.typical, rel=0.05)  # leads of another length


def test_a_gap_in_a_row_is_told_once() -> None:
    made = designed((PLAN % "").removesuffix("lamps:\n") + (ROW % (3, 0)).replace("lights_mm: 40", "lights_mm: 22"))
    assert len(made.light.grounds[0].dips) == 2
    (finding,) = [row for row in find(made) if row.key == "light.pool-uneven"]
    assert finding.item == "quay"


def _mirrored_row(mirror: str, ground: str = "yard") -> str:
    head = (PLAN % "").removesuffix("lamps:\n").replace(
        "supply:", "  - {name: other, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}}\n"
        "  - {name: deck, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}}\n"
        "crossings: [{name: c, kind: fixed, ends: [{part: yard, at_mm: [100, 2]}, {part: other, at_mm: [100, 2]}]}]\nsupply:")
    row = (ROW % (3, -10)).replace("[[20, 90], [180, 90]]", "[[20, 90], [80, 90]]").replace("[160, 50]", "[90, 30]")
    return head + row.replace("lights_part: yard", f"lights_part: {ground}").replace(
        "count: 3,", f"count: 3, mirror: {{{mirror}}},")


def test_the_mirrored_half_lights_its_own_ground_as_the_first_does() -> None:
    made = designed(_mirrored_row("part: other, axis_x_mm: 100"))
    first, other = ({ground.part: ground for ground in made.light.grounds}[name] for name in ("yard", "other"))
    assert other.lamps == ("quay m1", "quay m2", "quay m3")
    assert other.feet_mm == ((160.0, 50.0), (135.0, 40.0), (110.0, 30.0))  # derived: x becomes 200 - x
    assert other.aims_mm == ((160.0, 40.0), (135.0, 30.0), (110.0, 20.0))
    share = other.peak_lx.typical / first.peak_lx.typical  # leads of another length: a trace more or less current
    assert share == pytest.approx(1.0, abs=0.02)
    assert [[share * lx for lx in row[::-1]] for row in first.lx] == [pytest.approx(row, rel=0.01, abs=0.01) for row in other.lx]
    assert {pool.lamp for pool in made.light.pools} == {*first.lamps, *other.lamps}


def test_feet_are_mirrored_about_a_line_of_the_deck_that_both_halves_light() -> None:
    (ground,) = designed(_mirrored_row("part: other, axis_x_mm: 100, lights_line_mm: [[0, 60], [200, 60]]", "deck")).light.grounds
    assert ground.part == "deck" and len(ground.lamps) == 6
    assert ground.feet_mm[3:] == ((40.0, 70.0), (65.0, 80.0), (90.0, 90.0))  # derived: y becomes 120 - y
    assert ground.aims_mm[3:] == ((40.0, 80.0), (65.0, 90.0), (90.0, 100.0))
    aslant = designed(_mirrored_row("part: other, axis_x_mm: 100, lights_part: yard, lights_line_mm: [[0, 0], [100, 100]]", "deck"))
    feet = next(ground for ground in aslant.light.grounds if ground.part == "yard").feet_mm
    assert [tuple(foot) for foot in feet] == [pytest.approx(at) for at in ((50, 40), (40, 65), (30, 90))]  # derived: x and y change places


def test_a_mirrored_half_whose_feet_nobody_knows_is_told_and_lights_nothing() -> None:
    made = designed(_mirrored_row("part: other, axis_x_mm: 100", "deck"))
    (ground,) = made.light.grounds
    assert ground.lamps == ("quay 1", "quay 2", "quay 3")
    (finding,) = [row for row in find(made) if row.key == "light.pool-mirror-unknown"]
    assert finding.says.startswith("Not known where on 'deck' the feet of quay m1, quay m2 and quay m3 lie")
    assert "lights_line_mm" in finding.cure


@pytest.mark.parametrize("tip", ["polished", "sanded"])
def test_a_fibre_throws_its_own_cone_and_no_more_light_than_leaves_it(tip: str) -> None:
    """NA 0.5 fed by a matt chip: a polished end lights a disc of 40 mm tan 30 deg; a sanded one all round, as a matt lamp."""
    made = designed(PLAN % "" + LAMP % ("a", 100, "night", 100, f", source: {{kind: fibre, fibre_mm: 1, tip: {tip}, led: 2835 warm white}}"))
    (ground,), (pool,), light = made.light.grounds, made.light.pools, made.light.lamps[0]
    on_it_lm = sum(map(sum, ground.lx)) * ground.step_mm**2 * 1e-6
    share = on_it_lm / light.flux_lm.typical
    edge_mm = 40 * 0.5 / (1 - 0.25) ** 0.5
    if tip == "polished":
        assert share == pytest.approx(1.0, abs=0.01)
        assert pool.half_radius_mm == pytest.approx(edge_mm)
    else:
        assert share == pytest.approx(0.755, abs=0.01)  # derived: Lambert's polygon, 200 x 100 mm from 40 mm
        assert pool.half_radius_mm == pytest.approx(40 * (2**0.5 - 1) ** 0.5)
