"""A whole tail: losses, the radiance limit, the cone at its tip."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics.fibre import (
    Launch,
    Tail,
    source_luminance_cd_m2,
    tail_flux,
)
from rushlight.optics.fibre_cone import axial_intensity_cd, bent_sine
from rushlight.optics.fibre_loss import Bend, decibels, stock_fibre
from rushlight.units import Range

FLUX = Range(3.0, 5.4, 8.0)
DOMED = Launch(FLUX, 4.8, 5.0, 2.2)
FLAT = Launch(FLUX, 1.0, 0.0, 2.2, lensed=False)
FIBRE = stock_fibre(0.5)
STRAIGHT = Tail(Range.exactly(0.0), 300.0)
CASES = [(launch, Tail(Range.exactly(offset), length, bends, colour, inlet, tip))
         for launch in (DOMED, FLAT, replace(DOMED, gap_mm=0.4), replace(FLAT, gap_mm=2.0))
         for offset, length, bends, colour, inlet, tip in (
             (0.0, 0.0, (), None, "polished", "polished"), (0.5, 300.0, (Bend(10.0, 90.0),), 470.0, "cut", "cut"),
             (1.0, 900.0, (Bend(8.0, 180.0), Bend(20.0, 200.0)), 625.0, "hot_cut", "sanded"))]


@pytest.mark.parametrize(("launch", "tail"), CASES)
def test_what_always_holds(launch: Launch, tail: Tail) -> None:
    light = tail_flux(launch, FIBRE, tail)
    assert light.flux_lm.high <= light.limit_lm.high * (1.0 + 1e-9)
    assert light.flux_lm.high <= launch.flux_lm.high
    assert light.luminance_cd_m2.high <= source_luminance_cd_m2(launch).high * (1.0 + 1e-9)
    assert all(loss.loss_db.low >= 0.0 for loss in light.losses)
    assert 0.0 < light.exit_half_angle_deg <= 90.0


@pytest.mark.parametrize(("launch", "tail"), CASES)
def test_named_losses_account_for_the_flux(launch: Launch, tail: Tail) -> None:
    light = tail_flux(launch, FIBRE, tail)
    total_db = sum(loss.loss_db.typical for loss in light.losses)
    assert light.flux_lm.typical == pytest.approx(FLUX.typical * 10.0 ** (-total_db / 10.0), rel=1e-6)


def test_close_lens_is_held_by_the_radiance_limit_and_says_so() -> None:
    near = tail_flux(replace(DOMED, gap_mm=0.4), FIBRE, STRAIGHT)
    assert near.limited
    assert "radiance limit" in {loss.name for loss in near.losses}
    assert not tail_flux(DOMED, FIBRE, STRAIGHT).limited


def test_flat_patch_in_contact_takes_just_the_limit_before_joint_and_way() -> None:
    perfect = replace(FLAT, coupling=Range.exactly(1.0))
    light = tail_flux(perfect, FIBRE, STRAIGHT)
    kept = 10.0 ** (-sum(loss.loss_db.typical for loss in light.losses[2:]) / 10.0)
    assert light.flux_lm.typical / kept == pytest.approx(light.limit_lm.typical)


def test_more_of_anything_bad_is_never_more_light() -> None:
    base = tail_flux(DOMED, FIBRE, STRAIGHT).flux_lm.typical
    worse = (replace(STRAIGHT, length_mm=900.0), replace(STRAIGHT, bends=(Bend(6.0, 90.0),)),
             replace(STRAIGHT, offset_mm=Range.exactly(0.9)), replace(STRAIGHT, inlet="cut"), replace(STRAIGHT, tip="sanded"))
    assert all(tail_flux(DOMED, FIBRE, tail).flux_lm.typical < base for tail in worse)
    assert tail_flux(replace(DOMED, gap_mm=7.0), FIBRE, STRAIGHT).flux_lm.typical < base
    assert tail_flux(replace(DOMED, index_gel=True), FIBRE, STRAIGHT).flux_lm.typical > base


def test_a_reading_of_the_joint_narrows_the_answer() -> None:
    guessed = tail_flux(DOMED, FIBRE, STRAIGHT).flux_lm
    read = tail_flux(replace(DOMED, coupling=Range(0.5, 0.55, 0.6)), FIBRE, STRAIGHT).flux_lm
    assert read.typical == pytest.approx(guessed.typical)
    assert read.high / read.low < guessed.high / guessed.low


def test_sanded_tip_is_lambertian() -> None:
    light = tail_flux(FLAT, FIBRE, replace(STRAIGHT, tip="sanded"))
    assert light.axial_intensity_cd.typical == pytest.approx(light.flux_lm.typical / math.pi)  # source: Lambert's law
    assert light.exit_half_angle_deg == 90.0


def test_full_cone_is_four_times_a_lambertian_tip_on_the_axis() -> None:
    assert axial_intensity_cd(1.0, order=1.0, sine=0.5) == pytest.approx(4.0 / math.pi)  # derived: 1 / (pi NA^2)


def test_many_bends_fill_the_cone() -> None:
    turned = replace(STRAIGHT, bends=(Bend(8.0, 200.0), Bend(8.0, 200.0), Bend(8.0, 200.0)))
    assert tail_flux(DOMED, FIBRE, turned).exit_half_angle_deg == pytest.approx(30.0)  # derived: asin 0.5
    assert tail_flux(DOMED, FIBRE, STRAIGHT).exit_half_angle_deg < 20.0


def test_each_bend_widens_the_cone_and_none_narrows_it() -> None:
    """The more and the tighter the bends, the wider the cone and the less the intensity ahead of each lumen."""
    routes = ((), (Bend(40.0, 90.0),), (Bend(10.0, 90.0),), (Bend(10.0, 90.0), Bend(40.0, 45.0)), (Bend(8.0, 90.0),) * 3)
    lit = [tail_flux(DOMED, FIBRE, replace(STRAIGHT, bends=bends)) for bends in routes]
    cones, ahead = [one.exit_half_angle_deg for one in lit], [one.axial_intensity_cd for one in lit]
    each = [cd.typical / one.flux_lm.typical for cd, one in zip(ahead, lit, strict=True)]
    assert cones == sorted(cones) and each == sorted(each, reverse=True)
    assert all(cd.low <= cd.typical <= cd.high for cd in ahead)
    assert bent_sine(0.1, FIBRE, (Bend(10.0, 0.0),)) == bent_sine(0.1, FIBRE, ()) == 0.1
    assert bent_sine(0.1, FIBRE, (Bend(10.0, 5.0),)) < bent_sine(0.1, FIBRE, (Bend(10.0, 45.0),)) < FIBRE.na
    for wrong in (lambda: bent_sine(1.2, FIBRE, ()), lambda: bent_sine(0.1, FIBRE, (), share=-1.0)):
        with pytest.raises(OutOfRange):
            wrong()


def test_fibre_outside_its_cone_is_dark() -> None:
    light = tail_flux(replace(DOMED, gap_mm=1.0), FIBRE, replace(STRAIGHT, offset_mm=Range.exactly(3.0)))
    assert light.flux_lm.high == 0.0
    assert math.isinf(light.losses[0].loss_db.low)


def test_decibels() -> None:
    assert decibels(0.5) == pytest.approx(3.0103)  # derived: 10 log 2
    assert decibels(1.0) == 0.0


@pytest.mark.parametrize("call", [
    lambda: tail_flux(replace(DOMED, gap_mm=0.0), FIBRE, STRAIGHT),
    lambda: tail_flux(replace(DOMED, source_diameter_mm=0.0), FIBRE, STRAIGHT),
    lambda: tail_flux(DOMED, FIBRE, replace(STRAIGHT, length_mm=-1.0)),
    lambda: tail_flux(DOMED, FIBRE, replace(STRAIGHT, bends=(Bend(1.0, 90.0),))),
    lambda: tail_flux(DOMED, FIBRE, replace(STRAIGHT, wavelength_nm=700.0)),
    lambda: axial_intensity_cd(1.0, order=1.0, sine=0.0), lambda: stock_fibre(5.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


def test_unknown_finish_names_the_nearest() -> None:
    with pytest.raises(UnknownName, match="polished"):
        tail_flux(DOMED, FIBRE, replace(STRAIGHT, tip="polishd"))


def test_places_in_a_loose_bundle_widen_the_light_and_leave_its_middle() -> None:
    tied = tail_flux(DOMED, FIBRE, replace(STRAIGHT, offset_mm=Range(0.4, 0.5, 0.7)))
    at = {mm: tail_flux(DOMED, FIBRE, replace(STRAIGHT, offset_mm=Range.exactly(mm))) for mm in (0.4, 0.5, 0.7)}
    assert tied.flux_lm.typical == at[0.5].flux_lm.typical
    # derived: the ends are the far and the near place, whose cones lose a little more and less at the faces
    assert tied.flux_lm.low == pytest.approx(at[0.7].flux_lm.low, rel=1e-3)
    assert tied.flux_lm.high == pytest.approx(at[0.4].flux_lm.high, rel=1e-3)
    coupling = next(loss for loss in tied.losses if loss.name == "coupling")
    assert coupling.loss_db.low < coupling.loss_db.typical < coupling.loss_db.high
