"""Templates at true size."""

from __future__ import annotations

import pytest

from book_designs import BARE, HUGE, of, small
from drawn import in_part_mm, layer
from rushlight.model.sheet import Circle, Drawing, Note, Text
from rushlight.sheets.templates import draw, drilling, inner_side
from rushlight.sheets.tile import tiles


def test_every_template_is_at_true_size() -> None:
    drawings = [block for sheet in draw(small()) for block in sheet.blocks if isinstance(block, Drawing)]
    assert len(drawings) == 4  # derived: holes and inner side for each of two parts
    assert all(drawing.template and drawing.scale == 1.0 for drawing in drawings)


def test_holes_lie_at_their_places_with_their_diameter_and_number() -> None:
    design = small()
    drawing = drilling(design, design.plan.part("hull"))
    circles = [mark for mark in layer(drawing, "holes").marks if isinstance(mark, Circle)]
    holes = {tuple(round(v, 6) for v in in_part_mm(drawing, mark.centre_mm)): 2 * mark.radius_mm for mark in circles}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if lamp.spot and lamp.spot.part == "hull":
            assert holes[tuple(round(v, 6) for v in lamp.spot.at_mm)] == pytest.approx(source.hole_mm)
    assert holes[(150.0, 20.0)] == pytest.approx(4.0)  # the crossing's pass hole
    words = [mark.text for mark in layer(drawing, "text").marks if isinstance(mark, Text)]
    assert "1: 1.9 mm" in words and "3: #66" in words and "8" in words
    assert "6 with #66" in drawing.caption and "Seen from outside" in drawing.caption


def test_the_inner_side_is_mirrored_where_the_part_is_drawn_from_outside() -> None:
    design = small()
    hull, house = (inner_side(design, part) for part in design.plan.parts)
    assert "mirrored" in hull.caption and "mirrored" not in house.caption
    at = design.lamp("bow").spot
    assert at is not None
    circles = [mark for mark in layer(hull, "holes").marks if isinstance(mark, Circle)]
    assert any(in_part_mm(hull, mark.centre_mm) == pytest.approx((-at.x_mm, at.y_mm)) for mark in circles)


def test_a_long_part_is_tiled_with_every_hole_on_a_page() -> None:
    design = small()
    pages = tiles(drilling(design, design.plan.part("hull")))
    assert len(pages) == 2  # derived: 204 mm on 176 mm of paper
    centres = set()
    for page in pages:
        centres |= {
            tuple(round(v, 3) for v in in_part_mm(page.drawing, mark.centre_mm))
            for row in page.drawing.layers if row.name == "holes" for mark in row.marks if isinstance(mark, Circle)
        }
    assert len(centres) == 9  # derived: eight lamps and a pass hole


def test_nothing_to_drill_gives_no_template_and_an_enormous_part_a_note() -> None:
    assert draw(of(BARE)) == ()
    (sheet,) = draw(of(HUGE))
    assert all(isinstance(block, Note) for block in sheet.blocks)
