"""Templates cut into pages: cover, register, check bar."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.errors import OutOfRange
from rushlight.model.sheet import Circle, Drawing, Layer, Polyline, Text
from rushlight.sheets.place import framed
from rushlight.sheets.tile import (
    CHECK_BAR_MM,
    FOOT_MM,
    OVERLAP_MM,
    SMALLEST_PAGE_MM,
    Tile,
    check_bar,
    tile_count,
    tile_label,
    tiles,
)
from sample_sheets import part_drawing, template


def blank(width: float, height: float) -> Drawing:
    frame = Polyline(((0, 0), (width, 0), (width, height), (0, height)), closed=True)
    return Drawing("blank", "", width, height, (Layer("outline", (frame,)),), template=True)


SIZES = st.floats(5, 900)


@given(SIZES, SIZES, st.floats(100, 400), st.floats(120, 400))
def test_tiles_fit_the_page_and_cover_the_drawing(width: float, height: float, wide: float, high: float) -> None:
    pages = tiles(blank(width, height), wide, high)
    for page in pages:
        assert page.window_mm.width_mm <= wide + 1e-6 and page.window_mm.height_mm + FOOT_MM <= high + 1e-6
        assert page.drawing.width_mm <= max(wide, SMALLEST_PAGE_MM) + 1e-6
    draw = random.Random(1)
    for _ in range(30):
        x, y = draw.uniform(0, width), draw.uniform(0, height)
        assert any(p.window_mm.left_mm - 1e-9 <= x <= p.window_mm.right_mm + 1e-9
                   and p.window_mm.bottom_mm - 1e-9 <= y <= p.window_mm.top_mm + 1e-9 for p in pages)


@given(SIZES, SIZES)
def test_neighbours_share_the_overlap_and_at_least_two_register_marks(width: float, height: float) -> None:
    pages = {(p.row, p.column): p for p in tiles(blank(width, height))}
    for (row, column), page in pages.items():
        for other in (pages.get((row, column + 1)), pages.get((row + 1, column))):
            if other is not None:
                assert len(set(page.marks_mm) & set(other.marks_mm)) >= 2
                assert overlap_of(page, other) == pytest.approx(OVERLAP_MM)


def overlap_of(a: Tile, b: Tile) -> float:
    if a.row == b.row:
        return a.window_mm.right_mm - b.window_mm.left_mm
    return b.window_mm.top_mm - a.window_mm.bottom_mm


def test_register_marks_lie_on_the_same_place_of_the_part_on_both_tiles() -> None:
    whole = template(4.0)
    drawn = [(tile, rings_of(tile)) for tile in tiles(whole)]
    assert len(drawn) > 4
    for tile, rings in drawn:
        assert rings == {rounded(mark) for mark in tile.marks_mm}


def rings_of(tile: Tile) -> set[tuple[float, float]]:
    """Centres of the register rings, brought back from the page to the whole drawing's frame."""
    register = next(layer for layer in tile.drawing.layers if layer.name == "register")
    dx, dy = tile.window_mm.left_mm, tile.window_mm.bottom_mm - FOOT_MM
    return {rounded((m.centre_mm[0] + dx, m.centre_mm[1] + dy)) for m in register.marks if isinstance(m, Circle)}


def rounded(point: tuple[float, float]) -> tuple[float, float]:
    return (round(point[0], 6), round(point[1], 6))


def test_register_marks_stay_clear_of_the_window_edge() -> None:
    for tile in tiles(template(4.0)):
        for x, y in tile.marks_mm:
            box = tile.window_mm.grown(-3.0)
            assert box.left_mm <= x <= box.right_mm and box.bottom_mm <= y <= box.top_mm


def test_the_part_is_never_scaled() -> None:
    for tile in tiles(template(2.6)):
        outline = tile.drawing.layers[0].marks[0]
        assert isinstance(outline, Polyline) and tile.drawing.scale == 1.0 and tile.drawing.template
        assert math.dist(*outline.points_mm[:2]) == pytest.approx(140 * 2.6)  # derived: the plate's edge, enlarged


def test_a_template_that_fits_is_one_page_with_a_check_bar() -> None:
    (page,) = tiles(template())
    assert page.label == "A1" and page.marks_mm == ()
    assert bar_of(page) == pytest.approx(CHECK_BAR_MM)


def bar_of(tile: Tile) -> float:
    register = next(layer for layer in tile.drawing.layers if layer.name == "register")
    bars = [m for m in register.marks if isinstance(m, Polyline) and m.ink.fill == "ink"]
    assert len(bars) == 1 and not bars[0].ink.stroked  # a stroke would add its width
    xs = [p[0] for p in bars[0].points_mm]
    return max(xs) - min(xs)


def test_every_tile_has_its_check_bar_and_label() -> None:
    pages = tiles(template(4.0))
    assert [p.label for p in pages][:2] == ["A1", "A2"] and len({p.label for p in pages}) == len(pages)
    for page in pages:
        assert bar_of(page) == pytest.approx(CHECK_BAR_MM)
        words = [m.text for layer in page.drawing.layers for m in layer.marks if isinstance(m, Text)]
        assert page.label in words


def test_tile_a1_is_at_the_upper_left() -> None:
    first, whole = tiles(template(4.0))[0], template(4.0)
    assert first.window_mm.left_mm == 0 and first.window_mm.top_mm == pytest.approx(whole.height_mm)


def test_marks_far_from_a_window_are_left_out() -> None:
    marks = tuple(Circle((20.0 * k, 0.0), 1.0) for k in range(60))
    pages = tiles(framed((Layer("holes", marks),), key="row", title="", template=True))
    kept = [len(p.drawing.layers[0].marks) for p in pages]
    assert len(pages) > 5 and max(kept) < 12


def test_labels() -> None:
    assert [tile_label(*p) for p in ((0, 0), (1, 2), (25, 0), (26, 0), (27, 9))] == ["A1", "B3", "Z1", "AA1", "AB10"]


@given(SIZES, SIZES)
def test_the_count_is_known_beforehand(width: float, height: float) -> None:
    assert tile_count(blank(width, height), 176, 226) == len(tiles(blank(width, height), 176, 226))


def test_check_bar_of_any_length() -> None:
    box = check_bar((3, 4), 80)[0]
    assert isinstance(box, Polyline) and box.points_mm[1][0] - box.points_mm[0][0] == 80


def test_what_cannot_be_tiled() -> None:
    with pytest.raises(OutOfRange, match="at least 100 mm each way"):
        tiles(template(), 90, 200)
    half = Drawing("h", "", 1, 1, (), scale=0.5)
    with pytest.raises(OutOfRange, match=r"scale of 'h' is 0\.5; expected 1\.0"):
        tiles(half)
    assert tiles(part_drawing())[0].drawing.template  # any drawing at true size may be tiled
