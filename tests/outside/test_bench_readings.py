"""Readings at the bench against textbook examples, closed forms and photons thrown one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from rushlight.optics.bench import (
    cut_back_db_per_m,
    density_per_coat,
    half_angle_from_aside_deg,
    intensity_from_lux,
    lost_db,
    sheet_reflectance,
    strip_lm_per_m,
)
from rushlight.units import Range


def test_cut_back_example() -> None:
    """Source: Senior, Optical Fiber Communications, problem on the cut-back technique: 1.5 km give 50.1 uW, cut back to
    2 m 385.4 uW; answer 5.92 dB/km."""
    found = cut_back_db_per_m(Range.exactly(385.4 / 50.1), length_mm=1.498e6, recut_db=0.0)
    assert found.typical * 1000 == pytest.approx(5.92, abs=0.005)


def test_lambertian_spot_is_half_where_cos_4_is() -> None:
    """Source: the cosine-fourth law of a Lambertian source over a parallel plane (any photometry textbook)."""
    aside = 200.0 * math.tan(math.acos(0.5**0.25))
    assert half_angle_from_aside_deg(Range.exactly(aside), 200.0).typical == pytest.approx(60.0, abs=1e-6)


@pytest.mark.parametrize("half_deg", [8.0, 15.0, 30.0, 60.0, 75.0])
def test_half_angle_against_a_meter_moved_along_a_line(half_deg: float) -> None:
    """Source: SciPy's root finder on inverse square, cosine and I = cos^m, each written out."""
    order = math.log(0.5) / math.log(math.cos(math.radians(half_deg)))

    def lux(aside: float) -> float:
        cosine = 200.0 / math.hypot(200.0, aside)
        return float(cosine**order * cosine / (200.0**2 + aside**2))

    aside = brentq(lambda x: lux(x) - lux(0.0) / 2, 0.0, 2000.0, xtol=1e-10)
    assert half_angle_from_aside_deg(Range.exactly(aside), 200.0).typical == pytest.approx(half_deg, abs=1e-6)


def test_candela_and_a_lambertian_piece_of_strip() -> None:
    """Source: inverse square, 1 cd gives 1 lx at 1 m; flux of a Lambertian source pi I."""
    assert intensity_from_lux(Range.exactly(25.0), 200.0).typical == pytest.approx(1.0)
    flux = strip_lm_per_m(Range.exactly(2.0), distance_mm=1000.0, length_mm=50.0, half_deg=60.0)
    assert flux.typical == pytest.approx(math.pi * 2.0 / 0.05)


@pytest.mark.parametrize(("passes", "back"), [(0.4, 0.5), (0.2, 0.7), (0.7, 0.2)])
def test_two_sheets_by_photons(passes: float, back: float) -> None:
    """Source: Monte Carlo of photons that each sheet passes, throws back or swallows; within 4 sigma."""
    rng, count = np.random.default_rng(7), 400_000
    place, direction = np.zeros(count, dtype=int), np.ones(count, dtype=int)  # before the first sheet, going on
    through = 0
    while place.size:
        draw = rng.random(place.size)
        on, thrown = draw < passes, (draw >= passes) & (draw < passes + back)
        direction = np.where(thrown, -direction, direction)
        place = np.where(on, place + direction, place)
        inside = (place == 1) & (on | thrown)
        through += int(np.count_nonzero((place == 2) & on))
        place, direction = place[inside], direction[inside]
    one, two = passes, through / count
    sigma = math.sqrt(two * (1 - two) / count)
    least, most = (sheet_reflectance(Range.exactly(one), Range.exactly(two + way * 4 * sigma)).typical for way in (-1, 1))
    assert least <= back <= most


def test_decibels_and_density() -> None:
    """Source: definitions; half is 3.01 dB, a thousandth a density of 3."""
    assert lost_db(Range.exactly(0.5)).typical == pytest.approx(3.0103, abs=1e-4)
    assert density_per_coat(Range.exactly(0.001), coats=3).typical == pytest.approx(1.0)
