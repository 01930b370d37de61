"""Seen or not, point or disc, carried to scale."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics import eye
from rushlight.tables import rows


def test_angle_and_point() -> None:
    assert eye.visual_angle_deg(2.0 * math.tan(math.radians(0.5)), 1.0) == pytest.approx(1.0)  # derived: definition
    assert eye.is_point(0.25, 1000.0)  # derived: 0.86 minute of arc
    assert not eye.is_point(0.5, 1000.0)  # derived: 1.7 minutes of arc


def test_threshold_rises_with_the_background_and_never_falls_below_night() -> None:
    thresholds = [eye.point_threshold_lx(level).typical for level in (0.0, 0.01, 1.0, 10.0, 100.0, 1000.0, 20000.0)]
    assert thresholds == sorted(thresholds)
    assert thresholds[0] >= 2e-7  # source: COLREGs 1972 Annex I 8


def test_haze_only_takes_and_clear_air_is_the_inverse_square() -> None:
    assert eye.allard_lx(5.0, 1852.0, transmissivity=1.0) == pytest.approx(5.0 / 1852.0**2)
    assert eye.allard_lx(5.0, 1852.0) == pytest.approx(0.8 * 5.0 / 1852.0**2)  # derived: one nautical mile at K 0.8
    assert eye.eye_illuminance_lx(0.01, 500.0) == pytest.approx(0.04)  # derived: 0.01 / 0.25


def test_veil_falls_with_the_square_of_the_angle_and_rises_with_age() -> None:
    assert eye.veil_cd_m2(1.0, angle_deg=4.0) == pytest.approx(eye.veil_cd_m2(1.0, angle_deg=2.0) / 4.0)
    ages = [eye.veil_cd_m2(1.0, angle_deg=4.0, age_years=age) for age in (10, 30, 50, 70, 90)]
    assert ages == sorted(ages)


def test_glow_falls_outward() -> None:
    glow = eye.glow_per_lx(np.geomspace(0.1, 100.0, 40))
    assert np.all(np.diff(glow) < 0.0)
    assert np.all(eye.glow_per_lx(np.array([1.0, 10.0]), age_years=80.0) > eye.glow_per_lx(np.array([1.0, 10.0])))


def test_glow_gathers_less_light_than_enters_the_eye() -> None:
    angle = np.geomspace(0.1, 90.0, 4000)
    ring = 2.0 * math.pi * np.sin(np.radians(angle)) * np.cos(np.radians(angle))
    scattered = float(np.trapezoid(eye.glow_per_lx(angle) * ring, np.radians(angle)))
    assert 0.02 < scattered < 0.5  # derived: straylight of a healthy eye is a tenth or so of the light


@pytest.mark.parametrize("row", rows("viewing_rooms"), ids=lambda row: row["room"])
def test_rooms(row: dict[str, str]) -> None:
    room = eye.viewing_room(row["room"])
    background = eye.background_cd_m2(room.illuminance_lx, 0.5)
    least = eye.least_seen_cd_m2(room, background_cd_m2=background)
    assert least >= room.least_luminance_cd_m2
    assert eye.is_seen(least * 1.01, room, background_cd_m2=background)
    assert not eye.is_seen(least * 0.99, room, background_cd_m2=background)
    assert not eye.is_seen(least * 1.01, room, background_cd_m2=background, veil_cd_m2=100.0)


def test_darker_rooms_show_fainter_leaks() -> None:
    least = [eye.least_seen_cd_m2(room, background_cd_m2=eye.background_cd_m2(room.illuminance_lx, 0.5))
             for room in (eye.viewing_room(name) for name in ("lit", "dim", "dark display", "night eye"))]
    assert least == sorted(least, reverse=True)


def test_unknown_room() -> None:
    with pytest.raises(UnknownName, match="dim"):
        eye.viewing_room("dimm")


def test_both_carries_agree_at_the_scaled_distance() -> None:
    by_face = eye.equal_luminance_cd(94.0, subject_diameter_mm=216.0, model_diameter_mm=3.0)
    by_eye = eye.equal_illuminance_cd(94.0, subject_distance_m=36.0, model_distance_mm=500.0)
    assert by_face == pytest.approx(94.0 / 72.0**2)  # derived: area goes with the square of the scale
    assert by_eye == pytest.approx(by_face)
    nearer = eye.equal_illuminance_cd(94.0, subject_distance_m=10.0, model_distance_mm=500.0)
    assert eye.eye_illuminance_lx(nearer, 500.0) == pytest.approx(eye.eye_illuminance_lx(94.0, 10000.0))


@pytest.mark.parametrize("call", [
    lambda: eye.visual_angle_deg(1.0, 0.0), lambda: eye.point_threshold_lx(-1.0), lambda: eye.allard_lx(1.0, 0.0),
    lambda: eye.allard_lx(1.0, 1.0, transmissivity=1.1), lambda: eye.veil_cd_m2(1.0, angle_deg=0.5),
    lambda: eye.veil_cd_m2(1.0, angle_deg=31.0), lambda: eye.glow_per_lx(np.array([0.05])),
    lambda: eye.glow_per_lx(np.array([101.0])), lambda: eye.background_cd_m2(1.0, 1.1),
    lambda: eye.equal_luminance_cd(1.0, subject_diameter_mm=0.0, model_diameter_mm=1.0),
    lambda: eye.equal_illuminance_cd(1.0, subject_distance_m=0.0, model_distance_mm=1.0),
    lambda: eye.eye_illuminance_lx(-1.0, 1.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


def test_solid_angle_of_a_disc() -> None:
    assert eye.disc_sr(0.0, 400.0) == 0.0
    far = eye.disc_sr(3.0, 400.0)
    assert far == pytest.approx(math.pi * 1.5**2 / 400.0**2, rel=1e-4)  # derived: area over distance squared
    assert eye.disc_sr(1e9, 1.0) == pytest.approx(2 * math.pi, rel=1e-6)  # derived: half of all directions
    sizes = [eye.disc_sr(mm, 100.0) for mm in (1.0, 5.0, 50.0, 500.0)]
    assert sizes == sorted(sizes)


@pytest.mark.parametrize("row", rows("viewing_rooms"), ids=lambda row: row["room"])
def test_a_room_by_its_light_is_the_tables_room_and_runs_between(row: dict[str, str]) -> None:
    known, at = eye.viewing_room(row["room"]), eye.room_at(float(row["illuminance_lx"]))
    for name in ("illuminance_lx", "least_contrast", "least_luminance_cd_m2", "summation_arcmin"):
        assert getattr(at, name) == pytest.approx(getattr(known, name))
    lux = eye.room_lux(row["room"])
    assert lux.low < lux.typical == known.illuminance_lx < lux.high


def test_more_light_asks_for_more_glow_and_less_contrast() -> None:
    rooms = [eye.room_at(10**power) for power in np.linspace(-4, 4, 81)]
    least = [eye.least_seen_cd_m2(room, background_cd_m2=eye.background_cd_m2(room.illuminance_lx, 0.3)) for room in rooms]
    assert least == sorted(least) and least[0] < least[-1]
    contrast = [room.least_contrast for room in rooms]
    assert contrast == sorted(contrast, reverse=True)
    with pytest.raises(OutOfRange):
        eye.room_at(0.0)
