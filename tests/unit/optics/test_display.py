"""Lamps on a screen: order of brightness and hue are kept."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import display
from rushlight.optics.colour import trade_colour, wavelength_xy, white_xy

COLOURS = np.array([trade_colour(name).xy for name in ("royal blue", "blue", "cyan", "green", "yellow", "amber",
                                                       "red", "deep red", "warm white", "cool white")])


@pytest.mark.parametrize(("xy", "code"), [
    (wavelength_xy(470.0), (0, 98, 255)), (wavelength_xy(525.0), (0, 255, 160)), (wavelength_xy(590.0), (255, 132, 0)),
    (wavelength_xy(625.0), (255, 0, 63)), (white_xy(3000.0), (255, 184, 109)),
])
def test_swatches(xy: tuple[float, float], code: tuple[int, int, int]) -> None:
    # derived: mixing with D65 by hand with the IEC 61966-2-1 matrix
    assert display.swatch_rgb(xy) == pytest.approx(code, abs=1)


def _shown(xy: np.ndarray, luminance: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
    linear = display.linear_srgb(xy, display.tone(luminance, key_cd_m2=50.0))
    return display.encoded_finely(display.into_gamut(linear))


def test_root_tone_rises_and_puts_its_luminance_at_half() -> None:
    shown = display.root_tone(np.geomspace(1e-4, 1e8, 60), half_cd_m2=20.0)
    assert np.all(np.diff(shown) > 0.0) and shown[-1] < 1.0
    assert float(display.root_tone(20.0, half_cd_m2=20.0)) == pytest.approx(0.5)  # derived: 1 / (1 + 1)
    assert float(display.root_tone(0.2, half_cd_m2=20.0)) == pytest.approx(1.0 / 11.0)  # derived: 0.1 / 1.1


def test_the_table_of_codes_is_within_one_of_the_formula() -> None:
    linear = np.linspace(0.0, 1.0, 99991)
    assert np.max(np.abs(display.encoded_finely(linear).astype(int) - display.encoded(linear))) <= 1
    assert np.array_equal(display.encoded_finely(display.decoded(np.arange(256))), np.arange(256))


def test_order_by_candela_is_the_order_on_the_screen() -> None:
    rng = np.random.default_rng(5)
    xy = COLOURS[rng.integers(0, len(COLOURS), 400)]
    luminance = np.sort(10.0 ** rng.uniform(-3.0, 5.0, 400))
    linear = display.into_gamut(display.linear_srgb(xy, display.tone(luminance, key_cd_m2=50.0)))
    assert np.all(np.diff(display.luminance_of(linear)) > 0.0)


def test_eight_bits_keep_the_order_but_for_their_own_rounding() -> None:
    rng = np.random.default_rng(6)
    xy = COLOURS[rng.integers(0, len(COLOURS), 300)]
    luminance = np.sort(10.0 ** rng.uniform(-1.0, 3.0, 300))
    shown = display.luminance_of(display.decoded(_shown(xy, luminance)))
    # derived: half a code at the steep end of the curve is 0.0045 of white in all channels together, both ways
    assert float((np.maximum.accumulate(shown) - shown).max()) < 0.009


def test_luminance_is_kept_exactly_and_every_channel_fits() -> None:
    for level in (0.0, 0.01, 0.2, 0.5, 0.9, 1.0):
        rgb = display.into_gamut(display.linear_srgb(COLOURS, np.full(len(COLOURS), level)))
        assert np.all((rgb >= 0.0) & (rgb <= 1.0))
        assert display.luminance_of(rgb) == pytest.approx(np.full(len(COLOURS), level), abs=1e-9)


def test_colours_in_gamut_are_left_alone() -> None:
    rgb = np.array([[0.2, 0.5, 0.1], [0.0, 0.0, 0.0], [1.0, 1.0, 1.0]])
    assert display.into_gamut(rgb) == pytest.approx(rgb)


def test_purity_gives_way_along_a_line_to_grey() -> None:
    rgb = display.linear_srgb(wavelength_xy(470.0), 0.3)
    shown = display.into_gamut(rgb)
    away, left = rgb - 0.3, shown - 0.3
    assert left / away == pytest.approx(np.full(3, (left / away)[0]), rel=2e-3)


def test_tone_curve_rises_and_puts_the_key_at_half() -> None:
    shown = display.tone(np.geomspace(1e-4, 1e6, 50), key_cd_m2=20.0)
    assert np.all(np.diff(shown) > 0.0)
    assert shown[-1] < 1.0
    assert float(display.tone(20.0, key_cd_m2=20.0)) == pytest.approx(0.5)  # derived: 1 / (1 + 1)


def test_whole_pictures_go_through_at_once() -> None:
    picture = _shown(np.full((4, 5, 2), 0.33), np.ones((4, 5)))
    assert picture.shape == (4, 5, 3)
    assert picture.dtype == np.uint8


@pytest.mark.parametrize("call", [
    lambda: display.linear_srgb((0.3, 0.0)), lambda: display.into_gamut([2.0, 2.0, 2.0]),
    lambda: display.tone(1.0, key_cd_m2=0.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


def test_light_through_a_sheet() -> None:
    from rushlight.optics.colour import D65
    from rushlight.optics.display import through_colour_xy

    white, red, blue = D65, (0.64, 0.33), (0.15, 0.06)
    assert through_colour_xy(red, white) == pytest.approx(red, abs=1e-6)  # derived: a grey sheet changes no colour
    assert through_colour_xy(white, (0.45, 0.47)) == pytest.approx((0.45, 0.47), abs=0.01)  # its own, by definition
    assert through_colour_xy(blue, red) == pytest.approx(blue, abs=1e-6)  # what is left of blue is still blue
