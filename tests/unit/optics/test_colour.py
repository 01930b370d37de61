"""Names of the trade, purity, dominant wavelength; the CIE values are in tests/outside."""

from __future__ import annotations

import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics import colour
from rushlight.tables import rows


@pytest.mark.parametrize("row", rows("colour_names"), ids=lambda row: row["name"])
def test_every_name_and_alias_is_a_colour(row: dict[str, str]) -> None:
    whole = colour.trade_colour(row["name"])
    for alias in filter(None, row["also"].split(";")):
        assert colour.trade_colour(alias.upper().replace(" ", "-")) == whole
    assert (whole.dominant_nm is None) != (whole.cct_k is None)
    assert 0.0 < sum(whole.xy) < 1.0 + 1e-9
    if whole.dominant_nm is not None:
        assert colour.dominant_nm(whole.xy) == pytest.approx(whole.dominant_nm, abs=0.05)


def test_numbers_with_units_are_colours_too() -> None:
    assert colour.trade_colour("470 nm").dominant_nm == 470.0
    assert colour.trade_colour("470 nm").xy == pytest.approx(colour.trade_colour("blue").xy, abs=0.002)
    assert colour.trade_colour("3000K").xy == colour.trade_colour("warm white").xy
    assert colour.trade_colour("625nm").chemistry == "red_amber"


def test_unknown_name_gets_the_nearest() -> None:
    with pytest.raises(UnknownName, match="warm white"):
        colour.trade_colour("wram white")


@pytest.mark.parametrize("nm", range(420, 690, 10))
def test_dominant_wavelength_inverts_the_locus(nm: int) -> None:
    for purity in (1.0, 0.6, 0.1):
        assert colour.dominant_nm(colour.wavelength_xy(nm, purity)) == pytest.approx(nm, abs=0.05)


def test_no_purity_is_white() -> None:
    assert colour.wavelength_xy(520.0, 0.0) == pytest.approx(colour.EQUAL_ENERGY)


def test_whites_grow_bluer_with_temperature() -> None:
    along = [colour.white_xy(kelvin)[0] for kelvin in range(1700, 24000, 100)]
    assert along == sorted(along, reverse=True)


@pytest.mark.parametrize("kelvin", [1700.0, 2222.0, 3000.0, 4000.0, 5000.0, 6500.0, 20000.0])
def test_duv_is_the_distance_in_u_v(kelvin: float) -> None:
    def uv(xy: tuple[float, float]) -> complex:
        below = -2.0 * xy[0] + 12.0 * xy[1] + 3.0
        return complex(4.0 * xy[0] / below, 6.0 * xy[1] / below)  # source: CIE 1960 UCS

    on, above = uv(colour.white_xy(kelvin)), uv(colour.white_xy(kelvin, 0.01))
    assert abs(above - on) == pytest.approx(0.01)
    assert above.imag > on.imag


@pytest.mark.parametrize("call", [
    lambda: colour.observer(380.0), lambda: colour.wavelength_xy(710.0), lambda: colour.wavelength_xy(500.0, 1.1),
    lambda: colour.planck_xy(1600.0), lambda: colour.daylight_xy(3900.0), lambda: colour.white_xy(3000.0, 0.05),
    lambda: colour.led_colour(430.0, 20.0), lambda: colour.led_colour(470.0, 2.0),
    lambda: colour.dominant_nm(colour.EQUAL_ENERGY), lambda: colour.dominant_nm((0.4, 0.2)),
    lambda: colour.trade_colour("800 nm"),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
