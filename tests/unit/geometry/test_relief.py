"""Depth of a part: factors and lengths on a surface."""

import math
from itertools import pairwise

import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.relief import Height, surface_heights_mm, surface_length_mm, surface_stretch


def test_the_stretch_is_the_ratio_of_the_lengths_and_never_below_one():
    assert surface_stretch(115.0, 100.0) == 1.15  # derived
    assert surface_stretch(99.0, 100.0) == 1.0  # a reading error


@pytest.mark.parametrize(("string", "flat"), [(90, 100), (600, 100), (10, 0), (math.nan, 10), (10, math.inf)])
def test_impossible_strings_raise(string, flat):
    with pytest.raises(OutOfRange, match="_mm is"):
        surface_stretch(string, flat)


def test_a_slope_stretches_by_its_cosine():
    plane = [Height(x, y, 0.75 * x) for x in (0, 100) for y in (0, 50)]
    length = surface_length_mm([(10, 25), (90, 25)], plane)
    assert length == pytest.approx(80 * 1.25)  # derived: 3-4-5 triangle
    assert surface_length_mm([(20, 5), (20, 45)], plane) == pytest.approx(40)  # derived: along the contour


@pytest.mark.parametrize("count", [41, 161])
def test_a_half_cylinder_tends_to_its_arc(count):
    radius = 40.0
    angles = [math.pi * k / (count - 1) for k in range(count)]
    heights = [Height(-radius * math.cos(a), y, radius * math.sin(a)) for a in angles for y in (0.0, 20.0)]
    length = surface_length_mm([(-radius, 10), (radius, 10)], heights, step_mm=0.2)
    assert math.pi * radius * (1 - 20 / count**1.5) <= length <= math.pi * radius + 1e-9  # derived: half a circle


def test_heights_on_one_line_hold_across_it_and_one_height_everywhere():
    ridge = [Height(0, 0, 0), Height(50, 0, 20), Height(100, 0, 0)]
    assert surface_heights_mm(ridge, [(25, 30), (75, -30), (-10, 0)]) == pytest.approx([10, 10, 0])  # derived
    assert surface_heights_mm([Height(5, 5, 7)], [(0, 0), (90, 90)]) == pytest.approx([7, 7])


def test_never_shorter_than_flat_and_nothing_for_a_point():
    bumps = [Height(0, 0, 0), Height(30, 40, 9), Height(70, 10, 3), Height(100, 50, 12)]
    points = [(5, 5), (60, 20), (95, 48)]
    assert surface_length_mm(points, bumps) >= sum(math.dist(a, b) for a, b in pairwise(points))
    assert surface_length_mm([(1, 1)], bumps) == 0


@pytest.mark.parametrize(
    ("heights", "text"),
    [
        ([], "heights is empty"),
        ([Height(0, 0, 1), Height(0, 0, 2)], "one height at a point"),
        ([Height(0, 0, math.nan)], "finite"),
    ],
)
def test_bad_heights_raise(heights, text):
    with pytest.raises(OutOfRange, match=text):
        surface_length_mm([(0, 0), (1, 1)], heights)
    with pytest.raises(OutOfRange, match="step_mm is 0"):
        surface_length_mm([(0, 0), (1, 1)], [Height(0, 0, 0)], step_mm=0)
