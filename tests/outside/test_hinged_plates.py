"""What gets past a door that stands open.

J. R. Howell, Catalog of Radiation Heat Transfer Configuration Factors: two plates of equal width with a common edge at an
angle, endlessly long, F = 1 - sin(t / 2) (C-16, from memory; Hottel's crossed strings say the same); equal squares at a right
angle, F = 0.2000 (C-14, tables). Monte Carlo of a matt opening and a black door.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.optics.doorway import slid_door, turned_door

RAYS = 200_000


def _past_door(turned_deg: float, tall: float, rng: np.random.Generator) -> float:
    """Share of matt rays out of an opening 1 wide and so tall that miss a door of its size, hung on the edge x = 0."""
    x, y = rng.random(RAYS), (rng.random(RAYS) - 0.5) * tall
    sine, turn = np.sqrt(rng.random(RAYS)), rng.random(RAYS) * 2.0 * math.pi
    u, v, w = sine * np.cos(turn), sine * np.sin(turn), np.sqrt(1.0 - sine**2)
    t = math.radians(turned_deg)
    across = u * math.sin(t) - w * math.cos(t)  # towards the door's plane, which holds (cos t, 0, sin t) and the hinge
    with np.errstate(divide="ignore", invalid="ignore"):
        far = -x * math.sin(t) / across
        along = (x + far * u) * math.cos(t) + far * w * math.sin(t)
        meets = (far > 0.0) & (along > 0.0) & (along < 1.0) & (np.abs(y + far * v) < tall / 2.0)
    return 1.0 - float(meets.mean())


@pytest.mark.parametrize("turned_deg", [5.0, 30.0, 60.0, 90.0, 135.0, 180.0])
def test_a_long_door_lets_out_the_sine_of_half_its_angle(turned_deg: float) -> None:
    assert turned_door(turned_deg, 5000.0).passes == pytest.approx(math.sin(math.radians(turned_deg / 2)), abs=0.012)


@pytest.mark.parametrize("along", [0.4, 1.0, 3.0])
@pytest.mark.parametrize("turned_deg", [10.0, 45.0, 90.0, 120.0])
def test_any_door_by_random_rays(turned_deg: float, along: float) -> None:
    got = _past_door(turned_deg, along, np.random.default_rng(1))
    assert turned_door(turned_deg, along).passes == pytest.approx(got, abs=0.012)


def test_a_square_door_at_a_right_angle() -> None:
    assert turned_door(90.0).passes == pytest.approx(0.8, abs=0.005)  # source: Howell C-14, F = 0.2000


@pytest.mark.parametrize(("turned_deg", "seen"), [(0.0, 0.0), (60.0, 0.5), (90.0, 1.0), (120.0, 1.0), (-60.0, 0.5)])
def test_seen_square_on(turned_deg: float, seen: float) -> None:
    assert turned_door(turned_deg).seen == pytest.approx(seen)  # derived: the door's own width, foreshortened


def test_a_slide() -> None:
    assert slid_door(3.0, 12.0).seen == pytest.approx(0.25)  # derived: a quarter
    assert slid_door(-20.0, 12.0).passes == 1.0
