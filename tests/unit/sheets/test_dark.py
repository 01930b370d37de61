"""Pictures of the states in the dark."""

from __future__ import annotations

import io
import itertools
import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from PIL import Image

from book_designs import BARE, of, small
from designed import designed
from plans import STANDING, board
from rushlight.model.design import Design
from rushlight.model.sheet import Circle, Drawing, Picture, Polyline, Text
from rushlight.optics.colour import trade_colour
from rushlight.sheets.dark import cover, draw, glows, half_cd_m2, laid_out, lit_glows, shown_parts
from rushlight.sheets.glow import MOST_PIXELS, SOOT, Glow, View, glow_png
from rushlight.sheets.night_pools import paper_pools, shown_bands
from rushlight.sheets.night_words import way_words
from rushlight.sheets.place import mark_bounds
from rushlight.sheets.shown import shown_picture
from rushlight.stages.filming import filming_of

Pixels = npt.NDArray[np.int64]
WHITE, RED = (0.3127, 0.3290), (0.70, 0.30)
VIEW = View(1.0, 400.0, 2000.0)


def pixels(png: bytes) -> Pixels:
    return np.asarray(Image.open(io.BytesIO(png)), dtype=np.int64)


def pictures() -> list[Drawing]:
    (sheet,) = draw(small())
    return [block for block in sheet.blocks if isinstance(block, Drawing)]


def test_one_picture_a_state_with_its_name() -> None:
    drawings = pictures()
    assert [row.title for row in drawings] == ["Dusk", "Night"]
    for drawing in drawings:
        assert any(isinstance(m, Text) and m.text == drawing.title for layer in drawing.layers for m in layer.marks)
        assert "As seen from 400 mm by an eye of 40 years" in drawing.caption and "at half of white" in drawing.caption


def test_lit_lamps_glow_at_their_places_and_dark_ones_are_rings() -> None:
    design = small()
    layout = laid_out(shown_parts(design))
    for state, lit, dark in ((design.plan.states[0], 2, 8), (design.plan.states[1], 9, 1)):
        found = glows(design, state, layout)
        drawing = next(row for row in pictures() if row.key == f"dark-{state.name}")
        rings = [m for layer in drawing.layers if layer.name == "lamps" for m in layer.marks]
        assert (len(found), len(rings)) == (lit, dark)
    hull = next(laid for laid in layout.parts if laid.part.name == "hull")
    bow = glows(design, design.plan.states[0], layout)[0]
    assert bow.at_mm == pytest.approx(hull.at((190.0, 50.0)))
    image = pixels(next(m.png for layer in pictures()[0].layers for m in layer.marks if isinstance(m, Picture)))
    per_mm = image.shape[1] / layout.width_mm
    red, green, _ = image[image.shape[0] - 1 - int(bow.at_mm[1] * per_mm), int(bow.at_mm[0] * per_mm)]
    assert red > 100 and red > 1.5 * green


def test_a_strip_glows_through_the_whole_of_its_openings() -> None:
    design = small()
    night = glows(design, design.plan.states[1], laid_out(shown_parts(design)))
    assert sum(bool(row.shape_mm) for row in night) == 2
    dusk = pictures()[0]
    assert sum(isinstance(m, Polyline) for layer in dusk.layers if layer.name == "lamps" for m in layer.marks) == 2


def test_leds_that_can_be_told_apart_are_bands_in_their_opening() -> None:
    design = small()
    first = design.light.strips[0]
    assert shown_bands(design) == {row.lamp: shown_bands(design)[row.lamp] for row in design.light.strips if row.contrast >= 0.02}
    near = replace(first, contrast=0.6, profile=tuple((float(n), 1.0 + 0.9 * np.cos(n * np.pi / 20)) for n in range(81)))
    banded = replace(design, light=replace(design.light, strips=(near, *design.light.strips[1:])))
    night, layout = design.plan.states[1], laid_out(shown_parts(design))
    glow = next(row for row in glows(banded, night, layout) if len(row.bands) == 41)
    assert glow.bands[0] == glow.bands[20] == 1.9 and glow.bands[10] == pytest.approx(0.1)
    (ax, ay), (bx, by) = glow.ends_mm
    xs, ys = [x for x, _ in glow.shape_mm], [y for _, y in glow.shape_mm]
    assert abs(bx - ax) + abs(by - ay) == pytest.approx(max(max(xs) - min(xs), max(ys) - min(ys)), rel=0.3)
    image = pixels(glow_png([replace(glow, intensity_cd=0.02)], layout.width_mm, layout.height_mm, VIEW))
    middle = (min(ys) + max(ys)) / 2
    row = image[image.shape[0] - 1 - round(5 * middle), round(5 * min(xs)) + 2 : round(5 * max(xs)) - 2, 1]
    assert np.ptp(row) > 30


def test_a_part_drawn_from_inside_is_turned_to_its_outer_side() -> None:
    laid = next(row for row in laid_out(shown_parts(small())).parts if row.part.name == "House")
    assert laid.at((0.0, 0.0))[0] > laid.at((80.0, 0.0))[0]


def test_the_middle_lamp_shows_at_half() -> None:
    design = small()
    found = sorted(row.luminance_cd_m2.typical for row in design.light.lamps)
    assert half_cd_m2(design) == found[len(found) // 2]


MADE = """{name: hall, part: board, at_mm: [40, 60], colour: 4500 K, states: [night], source: {kind: led, led: "3 mm warm white, diffused"}}
{name: port, part: board, at_mm: [80, 60], colour: red, states: [night], source: {kind: led, led: "3 mm warm white, diffused"}}
{name: tail, part: board, at_mm: [120, 60], colour: green, states: [night], source: {kind: led, led: "3 mm red, diffused"}}
{name: lamp, part: board, at_mm: [160, 60], colour: 3000 K, states: [night], source: {kind: led, led: "3 mm warm white, diffused"}}"""
BACK = """rushlight: 1
subject: {title: two walls (invented), scale: 100, invented: true}
states: [{name: night}]
parts:
  - {name: front, faces: starboard, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], relief: {flat: true},
     bays: [{name: bay, rect_mm: [5, 5, 40, 15], depth_mm: 20, access: open}]}
  - {name: back, faces: port, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], relief: {flat: true}}
crossings: [{name: c, kind: plug, ends: [{part: front, at_mm: [100, 5]}, {part: back, at_mm: [100, 5]}]}]
lamps:
  - {name: here, part: front, at_mm: [100, 40], colour: warm white, states: [night], brightness: {intensity_mcd: 100}, source: {kind: led, led: "5 mm warm white, flat top 120 deg"}}
rows:
  - {name: there, part: back, along_mm: [[20, 40], [180, 40]], count: 9, colour: warm white, states: [night], brightness: {intensity_mcd: 1000}, source: {kind: led, led: "3 mm warm white, flat top 100 deg"}}
supply: {kind: adapter, adapter_v: 12, limit_a: 2, bay: bay}
"""


def test_a_lamp_shows_in_the_colour_of_its_led_where_that_is_another() -> None:
    """A white LED under clear colour shows the colour; a red one is red whatever stands over it; a filter is not known."""
    design = designed(board(MADE))
    night = next(state for state in design.plan.states if state.name == "night")
    lamps = {lamp.name: lamp for lamp in design.lamps}
    shown = {name: glow.xy for name, glow in lit_glows(design, night, laid_out(shown_parts(design))).items()}
    warm, red = (trade_colour(name).xy for name in ("warm white", "red"))
    assert shown["hall"] == pytest.approx(warm) and shown["tail"] == pytest.approx(red)
    assert all(shown[name] == (lamps[name].colour.x, lamps[name].colour.y) for name in ("port", "lamp"))
    assert set(shown_picture(design).own_hues) == {"hall", "tail"}
    clip = {row.group: row.clip_s.typical / row.mid_s.typical for row in filming_of(design).lamps}
    assert clip["hall"] == pytest.approx(clip["lamp"], rel=0.02) and clip["tail"] < 0.5 * clip["hall"]


def test_ground_that_floodlights_light_is_shown_though_no_lamp_sits_on_it() -> None:
    lamp = "lights_mm: 30, lights_part: yard, foot_mm: [100, 40], source: {kind: led}}"
    text = STANDING.replace("part: yard, at_mm: [100, 50]", "part: wall, at_mm: [30, 15]").replace("source: {kind: led}}", lamp, 1)
    made = designed(text[: text.index("  - {name: too")])
    assert [part.name for part in shown_parts(made)] == ["yard", "wall"]
    both, wall = (len(paper_pools(made, "night", laid_out(parts))) for parts in (shown_parts(made), made.plan.parts[1:]))
    assert both == wall + 1


def test_it_is_exposed_for_what_the_plans_eye_sees() -> None:
    """Nine lamps that shine the other way leave the pictures as bright as the one that is seen asks for."""
    turned = BACK.replace("subject: {", "subject: {viewing_bearing_deg: 90, ")
    seen = {row.lamp: row.luminance_cd_m2.typical for row in designed(turned).light.lamps}
    assert half_cd_m2(designed(turned)) == seen["here"] != half_cd_m2(designed(BACK))
    away = designed(turned.replace("faces: starboard", "faces: port"))
    assert half_cd_m2(away) == half_cd_m2(designed(BACK))  # none is seen: for all


def test_light_adds_up_and_fades_with_distance() -> None:
    one = pixels(glow_png([Glow((10.0, 10.0), 1.0, WHITE, 0.003)], 20.0, 20.0, VIEW))
    two = pixels(glow_png([Glow((10.0, 10.0), 1.0, WHITE, 0.003)] * 2, 20.0, 20.0, VIEW))
    assert (two >= one).all() and two[50, 50, 1] > one[50, 50, 1]
    line = one[50, 50:, 1]
    assert (np.diff(line) <= 0).all() and line[0] > line[-1] + 100
    assert tuple(pixels(glow_png([], 4.0, 4.0, VIEW))[0, 0]) == SOOT


def test_sums_above_white_pale_towards_white_and_rise_still() -> None:
    images = [pixels(glow_png([Glow((5.0, 5.0), 1.0, RED, cd)], 10.0, 10.0, VIEW)) for cd in (0.0003, 0.003, 0.03, 0.3)]
    middles = [tuple(image[25, 25]) for image in images]
    assert all(a[1] < b[1] for a, b in itertools.pairwise(middles)) and middles[-1][0] == 255
    assert images[-1][25, 45, 0] > 2 * images[-1][25, 45, 1]  # its glow is red


def test_an_opening_is_lit_inside_its_shape() -> None:
    shape = ((5.0, 5.0), (15.0, 5.0), (15.0, 10.0), (5.0, 10.0))
    image = pixels(glow_png([Glow((10.0, 7.0), 1.0, WHITE, 0.05, shape)], 20.0, 20.0, VIEW))[::-1]
    assert abs(image[37, 50, 1] - image[30, 32, 1]) < 12
    assert image[30, 32, 1] > image[37, 85, 1] + 40 > image[37, 99, 1]


def test_the_picture_of_an_enormous_part_is_bounded() -> None:
    hull = small().plan.part("hull")
    enormous = replace(hull, outline_mm=tuple((700 * x, 700 * y) for x, y in hull.outline_mm))
    layout = laid_out((enormous,))
    assert layout.width_mm <= 174.0 and layout.height_mm <= 224.0
    assert max(pixels(glow_png([], 4000.0, 500.0, VIEW)).shape) == MOST_PIXELS


def test_the_cover_shows_the_brightest_state_and_nothing_without_light() -> None:
    found = cover(small())
    assert found is not None and found.title == "Night"
    assert not any(isinstance(m, Text | Circle) and isinstance(m, Text) for layer in found.layers for m in layer.marks)
    assert cover(of(BARE)) is None


FACED = "{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 3, states: day}\n{name: b, part: board, at_mm: [60, 60], colour: red, model_mm: 3, states: day, facing: ahead}"


def looked_at(bearing: float | None, faces: str = "starboard", lamps: str = FACED) -> Design:
    text = board(lamps).replace("    relief:", f"    faces: {faces}\n    relief:")
    return designed(text if bearing is None else text.replace("invented: true", f"invented: true, viewing_bearing_deg: {bearing}"))


def strengths(design: Design) -> dict[str, float]:
    return {name: glow.intensity_cd for name, glow in lit_glows(design, design.plan.states[0], laid_out(shown_parts(design))).items()}


def test_lamps_show_what_they_send_to_the_viewer() -> None:
    square = strengths(looked_at(None))
    half = looked_at(None).drawer.led(looked_at(None).source("a").led).half_angle_deg
    seen = strengths(looked_at(90.0 - half))
    assert set(seen) == {"a", "b"} and seen["a"] == pytest.approx(square["a"] / 2)  # derived: at the half angle half is left
    assert strengths(looked_at(100.0)).keys() == {"a"}, "b shines ahead"
    aside = 0.05  # table: led_launch.csv, what a diffused dome sends to its side
    assert strengths(looked_at(90.0)) == {"a": pytest.approx(square["a"]), "b": pytest.approx(aside * square["b"])}
    assert strengths(looked_at(260.0)) == {} and strengths(looked_at(350.0)).keys() == {"b"}
    assert strengths(looked_at(360.0)) == strengths(looked_at(0.0))


WINDOW = "{name: a, part: board, at_mm: [100, 60], colour: white, states: day, opening: w, source: {kind: room}}"


def window(bearing: float | None, height: float = 0.0, drawn: str = "outside", faces: str = "starboard") -> Glow:
    text = board(WINDOW, more="spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n").replace(
        "    relief:", f"    openings: [{{name: w, outline_mm: [[70, 50], [130, 50], [130, 60], [90, 70]]}}]\n    faces: {faces}\n    drawn_from: {drawn}\n    relief:")
    if bearing is not None:
        text = text.replace("invented: true", f"invented: true, viewing_bearing_deg: {bearing}, viewing_height_deg: {height}")
    design = designed(text)
    found = lit_glows(design, design.plan.states[0], laid_out(shown_parts(design)))
    return found.get("a", Glow((0.0, 0.0), 0.0, (0.3, 0.3), 0.0))


def size(glow: Glow) -> tuple[float, float, float]:
    """Width, height and area of its shape."""
    left, low, right, top = shapely.Polygon(glow.shape_mm).bounds
    return right - left, top - low, shapely.Polygon(glow.shape_mm).area


@pytest.mark.parametrize("drawn", ["outside", "inside"])
@pytest.mark.parametrize(("bearing", "height", "across", "up"), [(90.0, 0.0, 1.0, 1.0), (30.0, 0.0, 0.5, 1.0), (150.0, 0.0, 0.5, 1.0), (90.0, 60.0, 1.0, 0.5)])
def test_an_opening_aslant_is_as_narrow_as_its_cosine_and_as_bright(bearing: float, height: float, across: float, up: float, drawn: str) -> None:
    square, aslant = window(None, drawn=drawn), window(bearing, height, drawn)
    wide, high, area = size(square)
    assert size(aslant) == pytest.approx((wide * across, high * up, area * across * up))  # derived: cosines of 60 degrees
    assert aslant.intensity_cd / size(aslant)[2] == pytest.approx(square.intensity_cd / area), "matt: as bright from all sides"
    middles = [shapely.box(*shapely.Polygon(glow.shape_mm).bounds).centroid for glow in (square, aslant)]
    assert middles[0].distance(middles[1]) == pytest.approx(0.0, abs=1e-9)


def test_openings_edge_on_are_nothing_and_a_deck_draws_together_the_way_one_looks() -> None:
    assert window(0.0).intensity_cd == window(0.0).radius_mm == 0.0 and not window(0.0).shape_mm
    wide, high, _ = size(window(None, faces="up"))
    assert size(window(0.0, 30.0, faces="up"))[:2] == pytest.approx((wide, high / 2))  # derived: its top lies ahead
    assert size(window(90.0, 30.0, faces="up"))[:2] == pytest.approx((wide / 2, high))
    slant = window(45.0, 30.0, faces="up")
    assert size(slant)[2] == pytest.approx(size(window(None, faces="up"))[2] / 2)
    assert size(window(45.0, 30.0, drawn="inside", faces="up"))[2] == pytest.approx(size(slant)[2])


def test_mirrored_windows_are_mirrored() -> None:
    right, left = (np.array(window(at, 25.0, drawn, faces).shape_mm) for at, drawn, faces in ((50.0, "outside", "starboard"), (310.0, "inside", "port")))
    middle = (right[:, 0].max() + right[:, 0].min()) / 2
    assert left[:, 0] - (left[:, 0].max() + left[:, 0].min()) / 2 == pytest.approx(-(right[:, 0] - middle))
    assert left[:, 1] == pytest.approx(right[:, 1])


@pytest.mark.parametrize(("source", "flat"), [("kind: fibre", True), ("kind: fibre, tip: domed", False), ("kind: led, led: '3 mm red, diffused'", False), ("kind: led, led: '0603 red'", True)])
def test_flat_faces_are_drawn_together_and_domes_are_not(source: str, flat: bool) -> None:
    design = looked_at(75.0, lamps=f"{{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 1, states: day, source: {{{source}}}}}")
    (glow,) = lit_glows(design, design.plan.states[0], laid_out(shown_parts(design))).values()
    assert glow.lean == pytest.approx((math.sin(math.radians(15.0)), 0.0) if flat else (0.0, 0.0), abs=1e-9)


def test_mirrored_plans_make_mirrored_pictures() -> None:
    side, other = looked_at(60.0), looked_at(300.0, "port")
    assert strengths(side) == pytest.approx(strengths(other))
    one, two = (draw(design)[0].blocks[0] for design in (side, other))
    assert isinstance(one, Drawing) and isinstance(two, Drawing)
    first, second = ([m.png for layer in drawing.layers for m in layer.marks if isinstance(m, Picture)] for drawing in (one, two))
    assert first == second


def test_the_caption_says_from_where_and_what_is_dark() -> None:
    def said(design: Design) -> str:
        return draw(design)[0].blocks[0].caption  # type: ignore[union-attr, return-value]

    assert "Each part is seen square on." in said(looked_at(None)) and "without their sectors" in said(looked_at(None))
    assert "Seen from ahead, 30 degrees to starboard; parts are laid out flat." in said(looked_at(30.0)) and "no light there" not in said(looked_at(30.0))
    assert "1 lit lamp sends no light there." in said(looked_at(100.0)) and "2 lit lamps send no light there." in said(looked_at(260.0))
    loose = designed(board(FACED).replace("invented: true", "invented: true, viewing_bearing_deg: 90"))
    assert "1 lamp shows as from straight before them: where board faces is not said." in said(loose)


@pytest.mark.parametrize(("bearing", "height", "words"), [
    (0, 0, "ahead"), (360, 0, "ahead"), (90, 0, "starboard"), (270, 5, "port, 5 degrees up"), (180, -3, "astern, 3 degrees down"),
    (112.5, 0, "astern, 67.5 degrees to starboard"), (330, 10, "ahead, 30 degrees to port, 10 degrees up"), (200, 0, "astern, 20 degrees to port"),
])
def test_ways_in_words(bearing: float, height: float, words: str) -> None:
    assert way_words(bearing, height) == words


def test_walls_and_grounds_are_not_seen_from_behind() -> None:
    lamp = ("{name: a, part: board, at_mm: [100, 60], colour: white, states: day, opening: w, source: {kind: room}, "
            "brightness: {intensity_mcd: 5000}}")
    text = board(lamp, more="spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n").replace(
        "    relief:", "    openings: [{name: w, rect_mm: [75, 55, 50, 10]}]\n    faces: starboard\n    relief:")
    for bearing, count in ((80.0, 1), (181.0, 0)):  # the wall, and the spot beside its lamp
        design = designed(text.replace("invented: true", f"invented: true, viewing_bearing_deg: {bearing}"))
        assert len(paper_pools(design, "day", laid_out(shown_parts(design)))) == 2 * count
        assert len(strengths(design)) == count


def test_a_state_s_name_stands_clear_of_the_names_of_its_parts() -> None:
    """A small part at the lower right, whose name hangs where the state's name stands."""
    second = "  - {name: mast, outline_mm: [[0, 0], [8, 0], [8, 100], [0, 100]], relief: {flat: true}}\n"
    lamps = ("{name: a, part: board, at_mm: [50, 60], colour: red, model_mm: 3, states: [night]}\n"
             "{name: b, part: mast, at_mm: [4, 60], colour: red, model_mm: 3, states: [night]}")
    made = designed(board(lamps, supply=second + "supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay}\n"))
    for block in draw(made)[0].blocks:
        assert isinstance(block, Drawing)
        state, *names = [mark for layer in block.layers if layer.name == "text" for mark in layer.marks]
        boxes = [mark_bounds(mark) for mark in (state, *names)]
        assert boxes[0] is not None and all(box is not None and box.bottom_mm > boxes[0].top_mm for box in boxes[1:])
