"""Losses between a fibre's ends."""

from __future__ import annotations

import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.fibre_loss import (
    Bend,
    attenuation_db_per_m,
    bend_loss_db,
    finish_db,
    route_bend_db,
    stock_fibre,
    transmittance,
)
from rushlight.tables import rows
from rushlight.units import Range

FULL = [row for row in rows("bend_loss_raytrace") if row["launch"] == "fills NA"]


@pytest.mark.parametrize("row", FULL, ids=lambda row: f"{row['NA']}-{row['R_over_d']}")
def test_full_cone_follows_the_ray_trace(row: dict[str, str]) -> None:
    na = float(row["NA"])
    loss = bend_loss_db(float(row["R_over_d"]), na=na, launch_na=na)
    tolerance = 1e-9 if row["NA"] == "0.5" else 0.4
    assert loss.high == pytest.approx(float(row["loss_dB"]), abs=tolerance)
    assert loss.low <= loss.typical <= loss.high


@pytest.mark.parametrize(("ratio", "traced_db"), [(5.0, 3.79), (10.0, 1.65), (15.0, 0.24), (25.0, 0.0)])
def test_narrow_launch_follows_the_ray_trace(ratio: float, traced_db: float) -> None:
    # source: bend_loss_raytrace.csv, NA 0.5, launch NA 0.30
    assert bend_loss_db(ratio, na=0.5, launch_na=0.30).typical == pytest.approx(traced_db)


def test_published_limit_lies_within_the_range() -> None:
    loss = bend_loss_db(15.0, na=0.58, launch_na=0.05)
    assert loss.low <= 0.5 <= loss.high  # source: data sheet of a heat-resistant fibre, at most 0.5 dB, collimated


def test_wider_bend_narrower_launch_smaller_turn_never_lose_more() -> None:
    by_radius = [bend_loss_db(r, na=0.5, launch_na=0.4).typical for r in (5, 7, 10, 14, 20, 30, 45, 200)]
    by_launch = [bend_loss_db(9.0, na=0.5, launch_na=s).typical for s in (0.5, 0.4, 0.3, 0.2, 0.1, 0.0)]
    by_angle = [bend_loss_db(9.0, na=0.5, launch_na=0.4, angle_deg=a).typical for a in (180, 90, 45, 20, 5, 0)]
    for losses in (by_radius, by_launch, by_angle):
        assert losses == sorted(losses, reverse=True)
    assert by_angle[-1] == 0.0


def test_second_bend_loses_less_than_the_first_and_order_is_nothing() -> None:
    fibre = stock_fibre(0.5)
    tight, wide = Bend(5.0, 90.0), Bend(8.0, 90.0)
    one = route_bend_db((tight,), fibre, launch_na=0.5)
    two = route_bend_db((tight, wide), fibre, launch_na=0.5)
    assert one.typical < two.typical < 2.0 * one.typical
    assert two == route_bend_db((wide, tight), fibre, launch_na=0.5)
    assert route_bend_db((), fibre, launch_na=0.5) == Range.exactly(0.0)


@pytest.mark.parametrize("row", [row for row in rows("pof_attenuation") if row["wavelength_nm"].isdigit()],
                         ids=lambda row: row["wavelength_nm"])
def test_attenuation_meets_every_row(row: dict[str, str]) -> None:
    assert attenuation_db_per_m(float(row["wavelength_nm"])).typical == pytest.approx(float(row["typical_dB_per_m"]))


def test_deep_red_loses_most_and_half_a_metre_matters_little() -> None:
    assert attenuation_db_per_m(625.0).typical > 2.0 * attenuation_db_per_m(520.0).typical
    assert transmittance(attenuation_db_per_m(None).times(0.5)).typical == pytest.approx(0.986, abs=0.002)


def test_finishes_rank_as_the_bench_knows_them() -> None:
    assert finish_db("polished").typical < finish_db("hot_cut").typical < finish_db("cut").typical
    assert finish_db("cut") == Range(0.5, 1.0, 1.5)  # source: rough cut 0.5-1.5 dB, from memory


def test_transmittance_turns_the_ends_round() -> None:
    share = transmittance(Range(0.0, 3.0, 10.0))
    assert (share.low, share.high) == pytest.approx((0.1, 1.0))


@pytest.mark.parametrize("diameter", [0.2, 0.5, 1.0, 3.0])
def test_core_is_most_of_a_fibre(diameter: float) -> None:
    fibre = stock_fibre(diameter)
    assert fibre.outer_mm == diameter
    assert 0.9 < (fibre.core_mm / fibre.outer_mm) ** 2 < 0.97  # source: core over cladding area 0.92-0.96


@pytest.mark.parametrize("call", [
    lambda: bend_loss_db(4.9, na=0.5, launch_na=0.5), lambda: bend_loss_db(20.0, na=0.2, launch_na=0.2),
    lambda: bend_loss_db(20.0, na=0.5, launch_na=0.5, angle_deg=-1.0), lambda: attenuation_db_per_m(395.0),
    lambda: attenuation_db_per_m(690.0), lambda: stock_fibre(0.05),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
