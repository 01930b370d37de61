"""Light at seams, posts, holes and openings: what the plan tells of them, and what shuts them."""

from __future__ import annotations

import math
from importlib import resources
from itertools import pairwise

import pytest
import shapely

from designed import designed
from plans import board
from rushlight.model.design_light import WayOut
from rushlight.optics.slit import seen_as_cd_m2, slit_share
from rushlight.stages.leaks import ROOMS, least_seen_in
from rushlight.stages.painted_wall import inside_reflectance
from rushlight.units import Range

BOX = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"
FIRE = ("{name: fire, part: board, at_mm: [100, 60], colour: white, model_mm: 3, states: day, facing: inward, "
        "source: {kind: led}, brightness: {intensity_mcd: 2000}}")
COATS = "    coats: [black lacquer, black lacquer, black lacquer, white primer]\n"
SEAM = "    seams_mm: [[[0, 0], [200, 0]]]\n"


def ways(more: str = "", lamps: str = FIRE, rows: str = "", wall: str = COATS) -> tuple[WayOut, ...]:
    text = board(lamps, rows, more=BOX)
    return designed(text.replace("    relief:", f"{wall}{more}    relief:")).light.ways_out


def only(more: str, **kept: str) -> WayOut:
    (found,) = ways(more, **kept)
    return found


def ends(value: Range) -> tuple[float, float, float]:
    return (value.low, value.typical, value.high)


def test_a_seam_shows_the_inside_through_its_slit() -> None:
    text = board(FIRE, more=BOX).replace("    relief:", f"{COATS}{SEAM}    seam_gap_mm: 0.1\n    relief:")
    design = designed(text)
    (leak,), (seam,) = design.light.leaks, design.light.ways_out
    primer = inside_reflectance(design.drawer, design.plan.part("board"))
    styrene = design.drawer.wall("white styrene").reflectance
    inside = leak.inside_lx.typical * primer.typical / math.pi
    depth = design.plan.part("board").wall_mm / 0.1
    assert seam.kind == "seam" and seam.state == "day" and ends(seam.width_mm) == (0.1, 0.1, 0.1)
    assert seam.luminance_cd_m2.typical == pytest.approx(inside * slit_share(depth, styrene.typical))
    assert seam.luminance_cd_m2.high == pytest.approx(leak.inside_lx.high * primer.high / math.pi)  # straight in
    arc_mm = 400 * math.radians(4 / 60)  # a dim room, from viewing_rooms.csv
    assert seam.seen_as_cd_m2.typical == pytest.approx(seam.luminance_cd_m2.typical * 0.1 / arc_mm)
    assert sum(shapely.Polygon(edge).area for edge in seam.outlines_mm) == pytest.approx(200 * 0.1, rel=0.01)


def test_a_wider_seam_never_shows_less() -> None:
    widths = (0.02, 0.05, 0.1, 0.3, 1.0, 5.0)
    made = [only(f"{SEAM}    seam_gap_mm: {width}\n") for width in widths]
    for narrow, wide in pairwise(made):
        for value in ("luminance_cd_m2", "seen_as_cd_m2"):
            assert all(a <= b for a, b in zip(ends(getattr(narrow, value)), ends(getattr(wide, value)), strict=True))
        assert set(narrow.seen_in) <= set(wide.seen_in)


def test_what_closes_a_seam_takes_its_light_away() -> None:
    open_, lip, tape = (only(f"{SEAM}    seams_closed: {how}\n") for how in ("open", "lip behind", "taped inside"))
    for shut in (lip, tape):
        assert all(b < a for a, b in zip(ends(open_.luminance_cd_m2), ends(shut.luminance_cd_m2), strict=True))
    assert tape.luminance_cd_m2.typical == pytest.approx(open_.luminance_cd_m2.typical * 1e-3)  # derived: OD 3 of tape
    assert ways(f"{SEAM}    seams_closed: filled\n") == ()


def test_black_as_the_last_coat_dims_every_way_out() -> None:
    more = f"{SEAM}    keep_outs: [{{name: mast, why: post, centre_mm: [180, 80], radius_mm: 3, height_mm: 40}}]\n"
    light, black = ways(more), ways(more, wall=f"{COATS[:-2]}, black lacquer]\n")
    assert [row.kind for row in light] == ["seam", "post"] == [row.kind for row in black]
    for row, dimmed in zip(light, black, strict=True):
        assert dimmed.luminance_cd_m2.typical < row.luminance_cd_m2.typical / 10


def test_more_coats_never_let_more_light_out() -> None:
    more = f"{SEAM}    keep_outs: [{{name: peg, why: post, centre_mm: [180, 80], radius_mm: 3}}]\n"
    made = [ways(more, wall=f"    coats: [{', '.join(['black lacquer'] * count + ['white primer'])}]\n") for count in (1, 2, 4)]
    for fewer, most in pairwise(made):
        for row, coated in zip(fewer, most, strict=True):
            assert all(b <= a * (1 + 1e-9) for a, b in zip(ends(row.luminance_cd_m2), ends(coated.luminance_cd_m2), strict=True))


def test_a_post_inside_is_thin_at_its_root_and_needs_coats_to_tell() -> None:
    peg = "    keep_outs: [{name: peg, why: post, centre_mm: [180, 80], radius_mm: 3}]\n"
    root = only(peg)
    assert root.kind == "post root" and ends(root.width_mm) == (0.2, 0.5, 1.0)
    assert ways(peg, wall="") == ()  # bare all over: its root is no brighter than the wall
    assert ways(f"{peg}    holes_sealed: yes\n") == ()


ROW = ("{name: lights, part: board, along_mm: [[20, 80], [180, 80]], count: 4, colour: warm white, model_mm: 0.5, "
       "states: night, source: {kind: fibre}}")


def test_the_ring_round_a_fibre_shows_while_its_lamp_is_dark() -> None:
    ring = only("", rows=ROW)
    assert ring.kind == "fibre" and ring.count == 4 and ring.name == "lights (4)" and len(ring.outlines_mm) == 4
    # source: drill #74 is 0.5715 mm, drills_number.csv; it cuts 0, 0.05 or 0.1 mm wider, way_out_usual.csv
    assert ends(ring.width_mm) == pytest.approx([(0.5715 + play - 0.5) / 2 for play in (0.0, 0.05, 0.1)])
    wide = (0.5715 + 0.05 - 0.5) / 2
    area = math.pi * ((0.25 + wide) ** 2 - 0.25**2)
    arc_mm = 400 * math.radians(4 / 60)
    wanted = seen_as_cd_m2(ring.luminance_cd_m2.typical, width_mm=wide, area_mm2=area, sums_over_mm=arc_mm)
    assert ring.seen_as_cd_m2.typical == pytest.approx(wanted)
    assert ways("", rows=ROW.replace("states: night", "states: [day, night]")) == ()
    assert [glow.state for glow in ring.glows] == ["day"]


def test_a_hole_that_stays_dark_is_open() -> None:
    holes = ways("", rows=ROW.replace("states: night", "states: [day, night], dark_share: 0.5"))
    (dark,) = [row for row in holes if row.kind == "dark hole"]
    assert dark.count == 2 and dark.name == "lights (2)"
    assert dark.luminance_cd_m2.typical > only("", rows=ROW).luminance_cd_m2.typical
    assert ways("    holes_sealed: yes\n", rows=ROW) == ()


def test_an_opening_that_nothing_lights_shows_the_inside() -> None:
    hole = only("    openings: [{name: w, rect_mm: [20, 20, 10, 10]}]\n")
    assert hole.kind == "opening" and hole.seen_as_cd_m2 == hole.luminance_cd_m2  # wider than the eye sums over
    meant = FIRE + "\n{name: no, part: board, at_mm: [25, 25], opening: w, colour: white, states: day, worth: left out}"
    assert ways("    openings: [{name: w, rect_mm: [20, 20, 10, 10]}]\n", lamps=meant) == ()


@pytest.mark.parametrize("wall", [COATS, "    coats: [black lacquer, black lacquer]\n"])
def test_a_sheet_in_such_an_opening_glows_with_what_falls_on_it(wall: str) -> None:
    """E T / pi, as the sheet of a lit window: in a black hull far more than the walls that a bare hole shows."""
    text = "    openings: [{{name: w, rect_mm: [20, 20, 10, 10], clear: no{}}}]\n"
    sheet = only(text.format(", diffusers: [{sheet: opal diffusing film}]"), wall=wall)
    design = designed(board(FIRE, more=BOX).replace("    relief:", f"{wall}{text.format('')}    relief:"))
    (bare,), (leak,) = design.light.ways_out, design.light.leaks
    through = design.drawer.diffuser("opal diffusing film").transmittance
    assert ends(sheet.luminance_cd_m2) == pytest.approx(
        [lx * share / math.pi for lx, share in zip(ends(leak.inside_lx), ends(through), strict=True)])
    paint = inside_reflectance(design.drawer, design.plan.part("board"))
    assert bare.luminance_cd_m2.typical == pytest.approx(leak.inside_lx.typical * paint.typical / math.pi)


def test_without_light_inside_nothing_gets_out() -> None:
    assert ways(SEAM, lamps="", rows="") == ()


def test_the_rooms_in_which_it_may_be_seen_go_by_what_is_likely() -> None:
    """Not by the outer end, where every guess errs to one side: at the outside all is seen everywhere."""
    made = designed((resources.files("rushlight.demos") / "tug" / "plan.yaml").read_text(encoding="utf-8"))
    rooms = {word: least_seen_in(word) for word in ROOMS}
    for leak in made.light.leaks:
        may = tuple(word for word, least in rooms.items()
                    if leak.luminance_cd_m2.typical <= least < leak.likely_cd_m2.high)
        assert leak.may_in == may
    own = made.plan.subject.viewing_room
    for row in made.light.ways_out:
        assert (own in row.may_in) == (row.seen_as_cd_m2.typical <= row.allowed_cd_m2 < row.likely_seen_as_cd_m2.high)
    every = (*made.light.leaks, *made.light.ways_out)
    outer = [row for row in every if row.luminance_cd_m2.high > rooms["lit room"] > row.luminance_cd_m2.typical]
    assert any("lit room" not in row.may_in for row in outer), "a room that only the outer end reaches"
