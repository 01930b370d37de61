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
