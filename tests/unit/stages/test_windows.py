"""Windows before a strip: gap, posts, overlaps, the frame of the strip, the picture."""

from __future__ import annotations

import numpy as np
import pytest

from designed import designed
from rushlight.findings import find
from rushlight.model.sheet import Circle
from rushlight.sheets.windows import cut_mark_table, strip_table, window_drawing
from rushlight.stages.strips import LOOKING
from rushlight.stages.window_panes import overlaps_of

HOUSE = """rushlight: 1
subject: {title: house, scale: 72}
states: [{name: "on"}]
parts:
  - {name: wall, outline_mm: [[0, 0], [200, 0], [200, 200], [0, 200]], wall: black styrene, wall_mm: 2, relief: {flat: true},
     openings: [{name: window, rect_mm: %s, %s diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}]}%s]%s}
strips:
  - {name: glow, part: wall, openings: [window], along_mm: %s, gap_mm: %s, colour: warm white, states: ["on"],
     strip: "12 V warm white 3528, 60 a metre", brightness: {intensity_mcd: 10000000}}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, run_h: 10, fuse_a: 1}
"""
LEVEL, UPRIGHT = ("[60, 23, 40, 6]", "[[30, 26], [130, 26]]"), ("[23, 60, 6, 40]", "[[26, 30], [26, 130]]")


def window(gap=25, posts="", *, way=LEVEL, second="", keep_out=""):
    text = HOUSE % (way[0], f"posts_mm: {posts}," if posts else "", second, keep_out, way[1], gap)
    return designed(text)


def lit(made):
    return made.light.strips[0]


def test_a_wider_gap_is_seen_less_and_the_needed_one_is_passed_over() -> None:
    seen = [lit(window(gap)).times_spots for gap in (8, 12, 16, 20)]
    assert seen == sorted(seen, reverse=True) and seen[0] > LOOKING > seen[-1]
    needed = lit(window(12)).needed_gap_mm
    assert 12 < needed < 20
    assert lit(window(needed)).times_spots < LOOKING <= lit(window(needed - 0.5)).times_spots


def test_a_post_darkens_where_it_stands_and_takes_light_from_the_whole() -> None:
    free, shaded = lit(window()), lit(window(posts="[[80, 26]], posts_width_mm: 3"))
    assert shaded.luminance_cd_m2.typical < 0.95 * free.luminance_cd_m2.typical
    grid = np.array(shaded.window.relative)
    row, column = np.unravel_index(grid.argmin(), grid.shape)
    x, y = (shaded.window.corner_mm[k] + shaded.window.step_mm * at for k, at in ((0, column), (1, row)))
    assert (x, y) == (pytest.approx(50.0, abs=2.5), pytest.approx(0.0, abs=2.5))  # 80 - 30 along, on the strip's line
    assert shaded.times_posts > 5 * shaded.times_spots == pytest.approx(5 * free.times_spots)


def test_a_keep_out_that_is_a_post_gives_its_own_width() -> None:
    post = ", keep_outs: [{name: p, why: post, centre_mm: [80, 26], radius_mm: 2}]"
    (_, _, radius), = lit(window(posts="[[80, 26]]", keep_out=post)).window.posts_mm
    assert radius == pytest.approx(2.0, rel=0.02)
    (_, _, usual), = lit(window(posts="[[80, 26]]")).window.posts_mm
    assert usual == 1.0


def test_an_upright_strip_is_lit_as_a_level_one() -> None:
    level, upright = lit(window(14, "[[80, 24]]")), lit(window(14, "[[28, 80]]", way=UPRIGHT))
    assert upright.times_seen == pytest.approx(level.times_seen, rel=1e-6)
    assert upright.luminance_cd_m2.typical == pytest.approx(level.luminance_cd_m2.typical, rel=1e-6)
    assert np.array(upright.window.relative) == pytest.approx(np.array(level.window.relative), abs=2e-4)


def test_where_another_sheet_lies_over_it_the_window_is_darker() -> None:
    second = ", {name: second, rect_mm: [90, 23, 40, 6], diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}]}"
    made = lit(window(second=second))
    grid = np.array(made.window.relative)
    at = made.window.corner_mm[0] + made.window.step_mm * np.arange(grid.shape[1])
    inside, free = grid[:, (at > 61) & (at < 69)].mean(), grid[:, (at > 35) & (at < 58)].mean()
    # T / (1 - R^2) of the sheet: Kubelka, J. Opt. Soc. Am. 44 (1954) 330, as in the finding of overlaps
    assert inside / free < 0.75
    assert made.times_spots < LOOKING < made.times_seen


def test_of_unlike_sheets_the_band_is_as_dark_as_both_make_it() -> None:
    """Thin paper beside opal: over the paper the opal takes most of the light, over the opal the paper little."""
    second = ", {name: second, rect_mm: [90, 23, 40, 6], diffusers: [{sheet: opal acrylic 3 mm, gap_mm: 1}]}"
    text = HOUSE % (LEVEL[0], "", second, "", LEVEL[1], 25)
    made = designed(text.replace("openings: [window]", "openings: [window, second]").replace(
        "opal acrylic 2 mm", "tracing paper"))
    wall = made.plan.part("wall")
    paper, opal = wall.openings
    # source: Kubelka 1954, T2 / (1 - R1 R2); paper 0.65 and 0.28, opal 0.38 and 0.55
    assert overlaps_of(wall, paper, made.drawer)[0][1] == pytest.approx(0.38 / (1 - 0.28 * 0.55))
    assert overlaps_of(wall, opal, made.drawer)[0][1] == pytest.approx(0.65 / (1 - 0.28 * 0.55))
    (band,) = [row for row in find(made) if row.key == "light.overlap-band"]
    assert "45 % as bright as the rest of 'window'" in band.says


def test_the_picture_holds_leds_posts_and_lines_and_the_strip_is_cut_at_a_mark() -> None:
    made = window(12, "[[80, 24]], posts_width_mm: 3")
    drawing = window_drawing(lit(made))
    layers = {layer.name: layer.marks for layer in drawing.layers}
    assert layers["tails"] and len([mark for mark in layers["keep-outs"] if isinstance(mark, Circle)]) == 1
    assert len(layers["lamps"]) >= 2
    (cut,) = cut_mark_table(made).rows
    part = made.drawer.strip(made.loom.emitters[0].part_row)
    assert cut[4] == cut[3] * part.segment_mm and cut[6] == cut[3] * part.leds_per_segment
    assert strip_table(made).rows[0][-1] == "plainly uneven"


def test_far_behind_a_second_sheet_no_led_is_left_to_be_seen() -> None:
    sheet = "{sheet: opal acrylic 2 mm, gap_mm: 1}"
    text = HOUSE % (LEVEL[0], "", "", "", LEVEL[1], 12)
    made = lit(designed(text.replace(sheet, f"{sheet}, {{sheet: opal acrylic 2 mm, gap_mm: 5000}}")))
    assert made.times_spots < LOOKING and made.needed_gap_mm <= 12
