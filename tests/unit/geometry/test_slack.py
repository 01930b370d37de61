"""Slack at a hinge: the chord of the opening angle."""

from __future__ import annotations

import math

import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.slack import chord_mm


@pytest.mark.parametrize(
    ("distance_mm", "opening_deg", "chord"),
    [
        (30.0, 180.0, 60.0),  # derived: laid flat open, both points lie 30 mm from the hinge on either side
        (30.0, 60.0, 30.0),  # derived: equilateral triangle
        (10.0, 90.0, 10.0 * math.sqrt(2)),  # derived: right-angled triangle
        (10.0, 0.0, 0.0),  # derived: shut
        (10.0, 270.0, 20.0),  # derived: passes the half turn
        (0.0, 180.0, 0.0),  # derived: on the hinge nothing moves
    ],
)
def test_known_chords(distance_mm: float, opening_deg: float, chord: float) -> None:
    assert chord_mm(distance_mm, opening_deg) == pytest.approx(chord, abs=1e-12)


def test_it_agrees_with_the_two_points_turned() -> None:
    for opening in range(0, 181, 5):
        angle = math.radians(opening)
        apart = math.dist((7.0, 0.0), (7.0 * math.cos(angle), 7.0 * math.sin(angle)))
        assert chord_mm(7.0, float(opening)) == pytest.approx(apart, abs=1e-12)


def test_it_grows_with_the_angle_and_the_distance() -> None:
    chords = [chord_mm(20.0, float(angle)) for angle in range(0, 361, 10)]
    assert chords == sorted(chords)
    assert chord_mm(20.0, 75.0) == pytest.approx(2 * chord_mm(10.0, 75.0))


@pytest.mark.parametrize(("distance_mm", "opening_deg"), [(-0.1, 90.0), (10.0, -1.0), (10.0, 361.0), (math.nan, 1.0)])
def test_its_edges_raise(distance_mm: float, opening_deg: float) -> None:
    with pytest.raises(OutOfRange, match="0 or more"):
        chord_mm(distance_mm, opening_deg)
