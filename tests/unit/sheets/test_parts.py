"""A part's sheet, asserted on its primitives."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import BARE, of, small
from drawn import in_part_mm, layer
from rushlight.model.plan_part import Fold, KeepOut
from rushlight.model.sheet import Band, Circle, Drawing, Polyline, Table, Text
from rushlight.sheets import part_marks
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.parts import crowded_scale, draw, lamp_drawing, lead_drawing, part_scale
from rushlight.sheets.place import bounds


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_every_hole_lies_at_its_place_with_its_true_diameter(scale: float) -> None:
    design = small()
    hull = design.plan.part("hull")
    drawing = lamp_drawing(design, hull, OnPaper(scale))
    circles = [mark for mark in layer(drawing, "lamps").marks if isinstance(mark, Circle)]
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if lamp.spot and lamp.spot.part == "hull" and source.hole_mm:
            assert any(
                in_part_mm(drawing, mark.centre_mm) == pytest.approx(lamp.spot.at_mm)
                and 2 * mark.radius_mm / scale == pytest.approx(source.hole_mm)
                for mark in circles
            ), lamp.name


def test_every_lamp_has_its_number_on_the_drawing_and_a_row_is_drawn_as_a_row() -> None:
    design = small()
    drawing = lamp_drawing(design, design.plan.part("hull"), OnPaper(1.0))
    words = [mark.text for mark in layer(drawing, "text").marks if isinstance(mark, Text)]
    assert {str(number) for number in range(1, 9)} <= set(words)  # two lamps, six of the row
    assert {"I1", "foot", "bay", "post"} <= set(words)
    rows = [mark for mark in layer(drawing, "detail").marks if isinstance(mark, Polyline) and len(mark.points_mm) == 6]
    assert len(rows) == 1


def test_every_fibre_is_a_hairline_from_its_led_to_its_lamp() -> None:
    design = small()
    drawing = lamp_drawing(design, design.plan.part("hull"), OnPaper(1.0))
    lines = [mark for mark in layer(drawing, "tails").marks if isinstance(mark, Polyline)]
    assert len(lines) == len(design.loom.tails) == 6
    for line, tail in zip(lines, design.loom.tails, strict=True):
        assert line.ink.weight == "dimension"
        for drawn, true in ((line.points_mm[0], tail.legs[0].points_mm[0]), (line.points_mm[-1], tail.legs[-1].points_mm[-1])):
            assert math.dist(in_part_mm(drawing, drawn), true) <= part_marks.FIBRE_PITCH_MM * 3


@pytest.mark.parametrize("part", ["hull", "House"])
def test_every_lead_of_the_part_is_drawn_at_its_true_thickness(part: str) -> None:
    design = small()
    drawn = part_marks.drawn_leads(design, part, OnPaper(1.0))
    wanted = {
        lead.name for lead in design.loom.leads for leg in lead.legs
        if leg.part == part and any(math.dist(leg.points_mm[0], point) > 0 for point in leg.points_mm)
    }
    assert wanted and {row.lead.name for row in drawn} == wanted
    bands = [mark for mark in part_marks.leads(design, part, OnPaper(1.0)).marks if isinstance(mark, Band)]
    assert len(bands) == 2 * len(drawn)
    for core, band, row in zip(bands[::2], bands[1::2], drawn, strict=True):
        assert band.width_mm == pytest.approx(max(design.drawer.wire(row.lead.wire).outer_mm, 0.25))
        assert core.width_mm > band.width_mm and core.ink.colour == "paper"
        assert (band.ink.pattern == "solid") == (row.lead.net == "plus")  # told apart without colour
        assert (band.ink.colour == "accent") == (row.lead.net == "plus")


def test_leads_that_share_a_way_do_not_cover_each_other() -> None:
    design = small()
    paper = OnPaper(1.0)
    rows = part_marks.drawn_leads(design, "hull", paper)
    straight = [(row.points_mm[0], row.points_mm[1]) for row in rows]
    assert len(set(straight)) == len(straight)
    assert part_marks.lead_pitch_mm(design, paper) > max(design.drawer.wire(r.lead.wire).outer_mm for r in rows)


def test_splices_are_sleeves_of_true_length_at_their_place() -> None:
    design = small()
    sleeves = [mark for mark in part_marks.splices(design, "hull", OnPaper(1.0)).marks if isinstance(mark, Polyline)]
    own = [splice for splice in design.loom.splices if splice.spot.part == "hull"]
    assert own and len(sleeves) == len(own)
    for mark, splice in zip(sleeves, own, strict=True):
        longest = max(math.dist(a, b) for a in mark.points_mm for b in mark.points_mm)
        assert longest == pytest.approx(splice.sleeve.cut_mm, rel=0.01)
        middle = [sum(axis) / len(mark.points_mm) for axis in zip(*mark.points_mm, strict=True)]
        assert middle == pytest.approx(splice.spot.at_mm, abs=0.01)


def test_anchors_crossings_keep_outs_and_bays_are_drawn() -> None:
    design = small()
    drawing = lead_drawing(design, design.plan.part("hull"), OnPaper(1.0))
    names = {row.name for row in drawing.layers}
    assert {"outline", "keep-outs", "supply", "leads", "crossings", "splices", "symbols", "text"} <= names
    (outer, _) = layer(drawing, "crossings").marks
    assert isinstance(outer, Circle) and in_part_mm(drawing, outer.centre_mm) == pytest.approx((150.0, 20.0))
    assert outer.radius_mm == pytest.approx(2.0)  # derived: the pass hole of 4 mm
    crosses = list(part_marks.anchors(design, "hull", OnPaper(1.0)).marks)
    assert len(crosses) == 2 * sum(spot.part == "hull" for spot in design.loom.anchors)


def test_tables_list_what_the_part_carries() -> None:
    design = small()
    for sheet in draw(design):
        tables = {block.key: block for block in sheet.blocks if isinstance(block, Table)}
        holes = next(table for key, table in tables.items() if key.endswith("-holes"))
        own = [lamp.name for lamp in design.lamps if lamp.spot and lamp.spot.part == sheet.part]
        assert [row[1] for row in holes.rows] == own
        leds = next(table for key, table in tables.items() if key.endswith("-leds"))
        assert [row[0] for row in leds.rows] == [e.name for e in design.loom.emitters if e.spot.part == sheet.part]


def test_the_side_is_said() -> None:
    design = small()
    assert "Seen from outside" in lamp_drawing(design, design.plan.part("hull"), OnPaper(1.0)).caption
    assert "Seen from inside" in lamp_drawing(design, design.plan.part("House"), OnPaper(1.0)).caption


def test_scales_fill_the_page_and_never_leave_it() -> None:
    hull, house = small().plan.parts
    assert part_scale(hull) == 0.5 and part_scale(house) == 2.0  # derived: 200 mm in 168, 80 mm twice in 168
    assert crowded_scale(hull, 0.5) == 1.0  # derived: 200 mm in 228
    for part in (hull, house):
        drawing = lamp_drawing(small(), part, OnPaper(part_scale(part)))
        assert drawing.width_mm <= 190.0
        box = bounds(mark for row in drawing.layers for mark in row.marks)
        assert box is not None and box.left_mm >= 0 and box.right_mm <= drawing.width_mm


def test_a_bare_part_is_its_outline() -> None:
    (sheet,) = draw(of(BARE))
    drawings = [block for block in sheet.blocks if isinstance(block, Drawing)]
    assert [row.key for row in drawings] == ["part-plate-lamps", "legend"]


def test_every_form_of_keep_out_has_its_shape() -> None:
    round_one = KeepOut(name="a", centre_mm=(10.0, 5.0), radius_mm=2.0).shape_mm
    assert all(math.dist(point, (10.0, 5.0)) == pytest.approx(2.0) for point in round_one)
    assert KeepOut(name="b", rect_mm=(1.0, 2.0, 3.0, 4.0)).shape_mm[2] == (4.0, 6.0)
    triangle = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    assert KeepOut(name="c", outline_mm=triangle).shape_mm == triangle


def test_seams_folds_and_dark_lamps_are_drawn() -> None:
    hull = small().plan.part("hull")
    fold = Fold(from_mm=(50.0, 0.0), to_mm=(50.0, 60.0))
    folded = replace(hull, seams_mm=(((0.0, 0.0), (200.0, 0.0)),), relief=replace(hull.relief, folds=(fold,)))
    seam, line = part_marks.seams(folded, OnPaper(0.5)).marks
    assert isinstance(seam, Polyline) and seam.points_mm == ((0.0, 0.0), (100.0, 0.0))
    assert isinstance(line, Polyline) and line.ink.pattern == "dashed" and line.points_mm[0] == (25.0, 0.0)
    design = small()
    dark = replace(design, lamps=tuple(replace(lamp, dark=lamp.name == "bow") for lamp in design.lamps))
    extra = len(part_marks.lamps(dark, "hull", OnPaper(1.0)).marks) - len(part_marks.lamps(design, "hull", OnPaper(1.0)).marks)
    assert extra == 1  # the stroke through a lamp that stays dark
