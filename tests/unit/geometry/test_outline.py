"""Outlines: what is a polygon, and what is wrong when it is not."""

import math

import pytest

from rushlight.geometry.outline import OutlineTrouble, Shape, outline_trouble, shape_from_outline

SQUARE = ((0, 0), (10, 0), (10, 10), (0, 10))


def test_a_square_is_an_outline_either_way_round_and_closed_or_not():
    for ring in (SQUARE, SQUARE[::-1], (*SQUARE, SQUARE[0]), (SQUARE[0], *SQUARE)):
        shape = shape_from_outline(ring)
        assert isinstance(shape, Shape)
        xy = shape.exterior_mm
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(xy, (*xy[1:], xy[0]), strict=True)) / 2
        assert (len(xy), area) == (4, 100)  # derived: anticlockwise, so positive


@pytest.mark.parametrize(
    ("ring", "why", "point", "where"),
    [
        ([], "too-few-points", None, None),
        ([(0, 0), (1, 1)], "too-few-points", None, None),
        ([(0, 0), (1, 1), (1, 1), (0, 0)], "too-few-points", None, None),
        ([(0, 0), (5, math.nan), (5, 5)], "not-a-number", 2, None),
        ([(0, 0), (5, 0), (5, math.inf)], "not-a-number", 3, None),
        ([(0, 0), (1e308, 0), (5, 5)], "too-far", 2, (1e308, 0)),
        ([(0, 0), (1, 1), (2, 2), (5, 5)], "no-area", 1, (0, 0)),
        ([(0, 0), (10, 10), (10, 0), (0, 10)], "crosses-itself", 1, (5, 5)),  # derived: the diagonals meet at (5, 5)
        ([(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)], "crosses-itself", 1, (5, 0)),
        ([(0, 0), (10, 0), (4, 0), (4, 9)], "folds-back", 1, (7, 0)),
    ],
)
def test_each_trouble_is_named_with_its_place(ring, why, point, where):
    trouble = outline_trouble(ring, name="deck")
    assert isinstance(trouble, OutlineTrouble)
    assert (trouble.why, trouble.point) == (why, point)
    assert trouble.where_mm == (None if where is None else pytest.approx(where))
    assert trouble.text.startswith("deck")
    assert isinstance(shape_from_outline(ring), OutlineTrouble)


def test_the_sentence_names_the_edges_by_the_points_numbers():
    trouble = outline_trouble([(0, 0), (10, 10), (10, 0), (0, 10)], name="hull")
    assert trouble.text == "hull: edge 1-2 meets edge 3-4 at (5.00, 5.00) mm"


def test_a_small_outline_far_from_the_origin_still_has_area():
    ring = [(9e5 + x, 9e5 + y) for x, y in ((0, 0), (0.1, 0), (0, 0.1))]
    assert outline_trouble(ring) is None
