"""What is thrown about inside: a share of a lamp that shines out, all of one that shines in."""

from __future__ import annotations

import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.tables import row_by

BOX = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"


def lit(facing: str, source: str = "{kind: led}", more: str = "") -> Design:
    lamp = f"{{name: a, part: board, at_mm: [20, 60], colour: white, model_mm: 3, states: day, facing: {facing}, source: {source}}}"
    return designed(board(lamp + more, more=BOX))


def inside_lx(design: Design) -> float:
    (leak,) = design.light.leaks
    return leak.inside_lx.typical


def test_an_inward_led_gives_the_hull_its_whole_flux() -> None:
    out, inward = lit("outward"), lit("inward")
    share = float(row_by("stray_share", "kind", "led")["typical"])
    assert inside_lx(inward) / inside_lx(out) == pytest.approx(1 / share)  # derived: by definition of the share
    assert inward.light.leaks[0].glows[0].luminance_cd_m2.typical > out.light.leaks[0].glows[0].luminance_cd_m2.typical


def test_a_fibre_that_ends_inside_adds_the_light_of_its_tail() -> None:
    out, inward = (lit(way, "{kind: fibre, fibre_mm: 1}") for way in ("outward", "inward"))
    (tail,) = inward.light.lamps
    share = float(row_by("stray_share", "kind", "illuminator")["typical"])
    assert tail.flux_lm.typical > 0
    per_lm = inside_lx(lit("inward")) / lit("inward").light.lamps[0].flux_lm.typical
    assert inside_lx(inward) - inside_lx(out) == pytest.approx(per_lm * tail.flux_lm.typical, rel=1e-6)
    assert 0 < share < 1


def test_a_lamp_in_a_room_is_no_brighter_inside_for_facing_inward() -> None:
    window = "    openings: [{name: w, rect_mm: [10, 55, 20, 10]}]\n    relief:"
    lamp = "{name: a, part: board, at_mm: [20, 60], colour: white, states: day, opening: w, source: {kind: room}"
    texts = [board(f"{lamp}, facing: {way}}}", more=BOX).replace("    relief:", window) for way in ("outward", "inward")]
    assert inside_lx(designed(texts[0])) == pytest.approx(inside_lx(designed(texts[1])))


def test_parts_round_one_room_share_its_light() -> None:
    """An integrating sphere has the mean reflectance of all that lines it: by the dark half it is as dim as by the white."""
    wide = "outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], relief: {flat: true}, wall: white styrene, wall_mm: 1"
    made = designed(f"""
rushlight: 1
subject: {{title: Shed (invented), kind: building, scale: 1:50, viewing_distance_mm: 400, viewing_room: dark room, invented: true}}
states: [{{name: night}}]
parts:
  - {{name: white, {wide}, bays: [{{name: socket, rect_mm: [20, 8, 34, 14], depth_mm: 30, access: open}}]}}
  - {{name: black, {wide}, coats: [black vinyl tape]}}
spaces: [{{name: hull, parts: [white, black], size_mm: [200, 100, 60], sealed: true}}]
lamps:
  - {{name: inner, part: white, at_mm: [100, 30], facing: inward, colour: white, size_mm: 150, states: night}}
supply: {{kind: adapter, adapter_v: 5, limit_a: 1, bay: socket}}
""")
    white, black = made.light.leaks
    lm = made.light.lamps[0].flux_lm.typical
    area_m2 = 2 * (0.2 * 0.1 + 0.2 * 0.06 + 0.1 * 0.06)
    expected = lm / (area_m2 * (1 - (0.7 + 0.06) / 2))  # table: white styrene 0.7, black vinyl tape 0.06
    assert (white.inside_lx.typical, black.inside_lx.typical) == pytest.approx((expected, expected), rel=1e-3)
