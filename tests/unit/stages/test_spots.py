"""Spots on walls beside their sources."""

from __future__ import annotations

import math

import numpy as np
import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.optics.diffuser import row_light_lx
from rushlight.sheets.night_pools import shown_pools
from rushlight.sheets.night_words import night_words
from rushlight.stages.painted_wall import wall_through
from rushlight.stages.rooms import CLEAR_PART
from rushlight.stages.spots import spot_shares
from rushlight.tables import row_by

BOX = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"
LED = "{name: a, part: board, at_mm: [60, 60], colour: white, model_mm: 3, states: day, source: {kind: led}, brightness: {intensity_mcd: 2000}%s}"

STRIP = "strips: [{{name: s, part: board, openings: [w], along_mm: [[{x0}, 60], [{x1}, 60]], gap_mm: 8, states: day}}]\n"
WINDOW = "    openings: [{name: w, rect_mm: [75, 55, 50, 10]}]\n"


def lit(coats: str = "", more: str = "") -> Design:
    return designed(board(LED % more, more=BOX).replace("    relief:", f"{coats}    relief:"))


def test_the_spot_is_inverse_square_through_the_wall() -> None:
    design = lit()
    (spot,), (light,) = design.light.spots, design.light.lamps
    led = design.drawer.led(design.source("a").led)
    stray = light.flux_lm.typical * float(row_by("stray_share", "kind", "led")["typical"])
    z, r = led.height_mm / 2, (design.source("a").hole_mm or 0.0) / 2
    wanted = stray / (4 * math.pi) * z / (z * z + r * r) ** 1.5 * 1e6  # source: distance law with the cosine
    through = wall_through(design.drawer, design.plan.part("board")).typical
    assert spot.luminance_cd_m2.typical == pytest.approx(wanted * through / math.pi)
    assert spot.luminance_cd_m2.typical > 10 * design.light.leaks[0].luminance_cd_m2.typical


@pytest.mark.parametrize(("x0", "x1", "past_mm"), [(5, 195, 0.0), (83, 117, 5.0)])
def test_a_strip_lights_the_wall_as_it_lights_its_window(x0: int, x1: int, past_mm: float) -> None:
    """It faces both: where an LED is past the window (75 to 125, 10 high), the wall before it gets most."""
    text = board(more=STRIP.format(x0=x0, x1=x1)).replace("    relief:", f"{WINDOW}    relief:")
    design = designed(text)
    (spot,), (lit,), (lamp,) = design.light.spots, design.power.states[0].lit, design.light.strips
    strip = design.drawer.strip(design.loom.emitter("s").part_row)
    each_lm = strip.flux_lm_per_m.typical * strip.pitch_mm / 1000 * lit.light_a * 1000 / strip.segment_ma
    along = [x for x, _ in spot.points_mm]
    middle = along[len(along) // 2]
    wanted = row_light_lx(along, each_lm / math.pi, order=1.0, gap_mm=8.0, x_mm=middle, y_mm=past_mm)
    through = wall_through(design.drawer, design.plan.part("board")).typical
    assert spot.from_mm == pytest.approx(past_mm)
    assert spot.luminance_cd_m2.typical == pytest.approx(float(wanted) * through / math.pi, rel=1e-3)
    bare = lamp.luminance_cd_m2.typical / CLEAR_PART.typical  # its mean, with what walls and board throw back
    assert spot.luminance_cd_m2.typical == pytest.approx(bare * through, rel=0.15)


def test_more_coats_never_make_a_brighter_spot() -> None:
    made = [lit(f"    coats: [{', '.join(['black acrylic'] * n)}]\n").light.spots[0].luminance_cd_m2 for n in (1, 2, 4)]
    for fewer, more in ((made[0], made[1]), (made[1], made[2])):
        assert more.low < fewer.low and more.typical < fewer.typical and more.high < fewer.high


def test_a_lamp_that_shines_inward_makes_none_on_its_own_wall() -> None:
    assert lit(more=", facing: inward").light.spots == ()


def test_the_picture_draws_it_brightest_beside_the_hole_and_dark_in_it() -> None:
    design = lit()
    (spot,) = design.light.spots
    drawn = [pool for pool in shown_pools(design) if pool.step_mm != 1.0]
    assert len(drawn) == 1 and drawn[0].states == ("day",)
    high = np.array(drawn[0].cd_m2)
    assert high.max() == pytest.approx(spot.luminance_cd_m2.typical, rel=0.01)
    x, y = spot.points_mm[0]
    shares = spot_shares(spot, np.array([[x + spot.from_mm, y], [x + 10.0, y], [x, y]]))
    assert shares[0] == pytest.approx(1.0) and shares[1] < 0.1 and shares[2] == 1.0
    assert all(math.dist(point, (x, y)) > spot.from_mm * 0.9 for point in drawn[0].edge_mm)
    assert "Spots on walls beside a on board" in night_words(design, "day", design.plan.parts)


def test_a_coloured_wall_tints_what_glows_and_a_grey_one_does_not() -> None:
    grey, amber = lit(), lit("    wall_colour: amber\n")
    for design, redder in ((grey, False), (amber, True)):
        own = design.light.leaks[0].glows[0].xy
        assert own == pytest.approx(design.light.spots[0].glows[0].xy, abs=1e-5)
        assert (own[0] > 0.45) is redder
    assert amber.light.spots[0].luminance_cd_m2 == grey.light.spots[0].luminance_cd_m2  # its transmittance is the wall's
