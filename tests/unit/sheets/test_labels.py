"""Labels that hide little."""

from __future__ import annotations

import itertools

from rushlight.model.sheet import Circle, Polyline, Text
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.place import Box, mark_bounds

FIELD = Box(0.0, 0.0, 100.0, 60.0)


def overlap(a: Box, b: Box) -> bool:
    return a.grown(-0.05).touches(b.grown(-0.05))


def test_labels_of_a_dense_row_do_not_cover_each_other() -> None:
    """Forty holes 2 mm apart with three-digit numbers."""
    holes = [(10.0 + 2.0 * k, 30.0) for k in range(40)]
    clutter = Clutter(FIELD)
    clutter.add([Circle(at, 0.5) for at in holes], 8.0)
    texts = [m for m in placed_labels([Wanted(at, str(100 + k), 0.5) for k, at in enumerate(holes)], clutter)
             if isinstance(m, Text)]
    assert [text.text for text in texts] == [str(100 + k) for k in range(40)]
    boxes = [box for text in texts if (box := mark_bounds(text))]
    assert not any(overlap(a, b) for a, b in itertools.combinations(boxes, 2))
    assert not any(box.grown(-0.1).touches(Box(x - 0.3, y - 0.3, x + 0.3, y + 0.3)) for box in boxes for x, y in holes)


def test_a_label_keeps_off_a_line_and_stays_near_where_there_is_room() -> None:
    clutter = Clutter(FIELD)
    clutter.add([Polyline(((0.0, 31.0), (100.0, 31.0)))])
    (text,) = placed_labels([Wanted((50.0, 30.0), "7", 0.5)], clutter)
    box = mark_bounds(text)
    assert box is not None and box.top_mm < 31.0 and abs(box.left_mm - 50.0) < 3.0


def test_a_far_label_is_tied_by_a_hairline() -> None:
    clutter = Clutter(FIELD)
    clutter.fill(Box(45.0, 25.0, 55.0, 35.0), 50.0)
    marks = placed_labels([Wanted((50.0, 30.0), "A", 0.5)], clutter)
    assert [type(mark) for mark in marks] == [Polyline, Text]


def test_a_label_stays_on_the_sheet_where_it_can() -> None:
    (text,) = placed_labels([Wanted((99.5, 59.5), "corner", 0.3)], Clutter(FIELD))
    box = mark_bounds(text)
    assert box is not None and box.right_mm <= 101.0 and box.top_mm <= 61.0


def test_the_raster_of_an_enormous_drawing_is_bounded() -> None:
    clutter = Clutter(Box(0.0, 0.0, 1e6, 1e6))
    clutter.add([Polyline(((0.0, 0.0), (1e6, 1e6)))])
    assert placed_labels([Wanted((5e5, 5e5), "a", 1.0)], clutter)


def test_a_text_over_a_line_gets_a_plate_but_never_one_over_a_hole() -> None:
    everywhere = Clutter(FIELD)
    everywhere.fill(FIELD, 0.05)
    assert [type(m) for m in placed_labels([Wanted((50.0, 30.0), "A", 0.5)], everywhere)] == [Polyline, Text]
    holes = Clutter(FIELD)
    holes.fill(FIELD, 8.0)
    assert all(isinstance(m, Text) or m.ink.fill == "none"  # type: ignore[union-attr]
               for m in placed_labels([Wanted((50.0, 30.0), "A", 0.5)], holes))
