"""Walls that let light through, in the pictures by night and in the words beside them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.optics.night import LitGround, grounds_laid
from rushlight.share.page import share_page
from rushlight.sheets.dark import draw, laid_out, lit_glows, shown_parts, unlit
from rushlight.sheets.night_pools import paper_pools, shown_pools
from rushlight.sheets.night_words import facing_words, glow_words, listed, moved_words, night_words
from rushlight.stages.lamps import colour_of
from rushlight.stages.leaks import least_seen_in

SPACE = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"
LAMPS = ("{name: a, part: board, at_mm: [100, 60], colour: white, states: day, opening: w, source: {kind: room}, "
         "brightness: {intensity_mcd: 5000}}")


def glowing(coats: str = "", more: str = "") -> Design:
    text = board(LAMPS, more=SPACE)
    return designed(text.replace("    relief:", f"    openings: [{{name: w, rect_mm: [75, 55, 50, 10]}}]\n{coats}{more}    relief:"))


def test_a_wall_is_drawn_with_its_luminance_and_without_its_openings() -> None:
    design = glowing()
    (leak,) = design.light.leaks
    pool, spot = shown_pools(design)
    assert spot.part == "board" and max(map(max, spot.cd_m2)) > 0
    assert pool.states == ("day",) and pool.lamps == ("a",) and pool.part == "board"
    assert pool.cd_m2[0][0] == pytest.approx(leak.glows[0].luminance_cd_m2.typical, rel=0.005)
    led = colour_of(design.drawer.led(design.source("a").led).colour)
    assert pool.xy == pytest.approx((led.x, led.y), abs=1e-6)
    layout = laid_out(shown_parts(design))
    paper, _ = paper_pools(design, "day", layout)
    rows, columns = round(layout.height_mm), round(layout.width_mm)
    edge = tuple((x, rows - y) for x, y in paper.edge_mm)
    made = grounds_laid((LitGround(edge[0], (1.0, -1.0), np.array(paper.cd_m2), (1.0, 1.0, 1.0), edge),), rows, columns)[0]
    part = design.plan.part("board")
    wall = shapely.Polygon(part.outline_mm).area - 50 * 10
    assert float(made.sum()) == pytest.approx(pool.cd_m2[0][0] * wall * layout.scale**2, rel=0.01)
    x, y = layout.parts[0].at((100.0, 60.0))
    assert made[int(rows - y), int(x)] == 0.0


def test_the_brightest_state_is_the_leak_itself() -> None:
    (leak,) = glowing().light.leaks
    assert next(row for row in leak.glows if row.state == leak.state).luminance_cd_m2 == leak.luminance_cd_m2


def test_coats_dim_the_wall_until_no_eye_sees_it() -> None:
    bare, thin = glowing(), glowing("    coats: [grey primer]\n")
    assert 0 < thin.light.leaks[0].glows[0].luminance_cd_m2.typical < bare.light.leaks[0].glows[0].luminance_cd_m2.typical
    shut = glowing(f"    coats: [{', '.join(['black lacquer'] * 6)}]\n")
    assert shown_pools(shut) == ()
    (words,) = glow_words(shut, "day", shut.plan.parts)
    assert words == "Stray light comes through no wall so that an eye sees it."


def test_the_words_name_the_rooms_in_which_a_wall_is_seen() -> None:
    design = glowing()
    (leak,) = design.light.leaks

    def told(cd_m2: float, shown: bool = True) -> str:
        value = replace(leak.glows[0].luminance_cd_m2, low=cd_m2, typical=cd_m2, high=cd_m2)
        row = replace(leak, glows=(replace(leak.glows[0], luminance_cd_m2=value),))
        made = replace(design, light=replace(design.light, leaks=(row,)))
        return " ".join(glow_words(made, "day", made.plan.parts if shown else ()))

    between = (least_seen_in("dim room") * least_seen_in("dark room")) ** 0.5
    assert "seen in every room" in told(10.0)
    assert "seen in a dim room or dark room" in told(least_seen_in("dim room") * 1.01)
    assert "seen in a dark room" in told(between) and "dim" not in told(between)
    assert told(10.0, shown=False).startswith("Not on the picture: light through the wall of board (10 cd/m2")
    assert glow_words(design, "no such state", design.plan.parts) == ()


def test_ways_out_that_are_seen_are_said() -> None:
    seam = "    seams_mm: [[[0, 0], [50, 0]]]\n"
    design = glowing(more=seam)
    words = glow_words(design, "day", design.plan.parts)[-1]
    assert words.startswith("Light gets out at its seam of board (seam, ") and words.endswith("cd/m2, seen in every room).")
    row = design.light.ways_out[0]
    doubted = replace(row, seen_in=("dark room",), may_in=("lit room", "dim room"))
    made = replace(design, light=replace(design.light, ways_out=(doubted,)))
    told = glow_words(made, "day", design.plan.parts)[-1]
    assert told.endswith("cd/m2, seen in a dark room, perhaps in a lit and dim room too).")
    (sheet,) = draw(design)
    assert any("Light gets out at its seam" in getattr(block, "caption", "") for block in sheet.blocks)
    slit = shown_pools(design)[-1]
    (way,) = design.light.ways_out
    assert slit.cd_m2[0][0] == pytest.approx(way.luminance_cd_m2.typical, rel=0.005) and slit.states == ("day",)
    assert shapely.Polygon(slit.edge_mm).area == pytest.approx(50 * way.width_mm.typical, rel=0.01)
    assert f'"cd_m2":[[{slit.cd_m2[0][0]}' in share_page(design)
    shut = glowing(more=f"{seam}    seams_closed: filled\n")
    assert len(shown_pools(shut)) == len(shown_pools(design)) - 1
    assert not any("gets out" in row for row in glow_words(shut, "day", shut.plan.parts))


def facing(way: str) -> Design:
    return designed(board(f"{{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 3, states: day, facing: {way}}}"))


def test_a_lamp_that_shines_inward_is_a_dark_ring() -> None:
    for way, seen, words in (("outward", 1, ()), ("inward", 0, ("1 lit lamp shines inward and cannot be seen.",))):
        design = facing(way)
        state, layout = next(row for row in design.plan.states if row.name == "day"), laid_out(shown_parts(design))
        assert len(lit_glows(design, state, layout)) == seen and len(unlit(design, state, layout)) == 1 - seen
        assert facing_words(design, "day") == words
        assert ('"behind":[1]' in share_page(design)) is not bool(seen)
        assert all(word in share_page(design) for word in words)


def test_a_lamp_that_fills_an_opening_is_seen_through_it_whichever_way_it_faces() -> None:
    text = board(LAMPS.replace("colour: white", "facing: inward, colour: white"), more=SPACE)
    design = designed(text.replace("    relief:", "    openings: [{name: w, rect_mm: [75, 55, 50, 10]}]\n    relief:"))
    assert facing_words(design, "day") == ()
    assert lit_glows(design, next(row for row in design.plan.states if row.name == "day"), laid_out(shown_parts(design)))


def test_facings_that_a_flat_part_does_not_tell_are_said() -> None:
    assert facing_words(facing("ahead"), "day")[0].startswith("Lamps that shine ahead (1) show as from straight before them")
    assert "shine ahead (1)" in night_words(facing("ahead"), "day", ())
    assert listed(["a"]) == "a" and listed(["a", "b", "c"]) == "a, b and c"


def test_lamps_on_a_part_that_has_moved_are_said() -> None:
    text = board("{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 3, states: day}")
    moving = text.replace("    relief:", "    poses: [{name: stowed, value: 0}, {name: out, value: 90}]\n    relief:")
    assert moved_words(designed(moving), "day") == ()
    out = designed(moving.replace("poses: [{name: stowed, value: 0}, {name: out, value: 90}]", "poses: [{name: out, value: 90}]"))
    assert moved_words(out, "day") == ("Lamps on board are shown on the part as it lies flat, not where it has moved.",)


YARD = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true},
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: a, part: yard, at_mm: [60, 90], facing: down, colour: white, size_mm: 200, states: [night], lights_mm: 40,
     lights_part: yard, foot_mm: [60, 50], brightness: {intensity_mcd: 400}}
  - {name: b, part: yard, at_mm: [140, 90], facing: down, colour: red, size_mm: 200, states: [night], lights_mm: 40,
     lights_part: yard, foot_mm: [140, 50], brightness: {intensity_mcd: 8}}
"""


def test_a_faint_red_lamp_hardly_tints_ground_that_a_bright_white_one_lights() -> None:
    """Colours add by their light (CIE 015): x, y of the sum of X, Y, Z, each lamp by its flux."""
    made = designed(YARD)
    (pool,) = [row for row in shown_pools(made) if row.lamps == ("a", "b") and not row.edge_mm]
    white, red = made.lamp("a").colour, made.lamp("b").colour
    lm = {row.lamp: row.flux_lm.typical for row in made.light.lamps}
    assert lm["a"] > 20 * lm["b"]
    over_y = [lm["a"] / white.y, lm["b"] / red.y]
    x = (over_y[0] * white.x + over_y[1] * red.x) / sum(over_y)
    assert pool.xy == pytest.approx((x, sum(lm.values()) / sum(over_y)), abs=1e-5)
    assert abs(pool.xy[0] - white.x) < 0.02 < red.x - white.x
