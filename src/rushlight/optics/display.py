"""From lamp colours to a screen: sRGB with the order of brightness and the hue kept.

A screen cannot show a lamp. What is kept: luminance through one rising curve, dominant wavelength against D65;
what gives way: purity. Arrays hold colours in their last axis.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.errors import OutOfRange
from rushlight.optics.colour import D65
from rushlight.units import checked

Array = NDArray[np.float64]

PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
"""x, y of sRGB's red, green and blue; IEC 61966-2-1:1999."""


def _from_linear_srgb() -> Array:
    """Linear sRGB to CIE XYZ, from the primaries and D65 at full precision.

    The printed matrices are rounded to four digits and no longer agree with the printed luminance weights; at that
    level the order of two lamps could be turned round.
    """
    columns = np.array([[x / y, 1.0, (1.0 - x - y) / y] for x, y in PRIMARIES]).T
    white = np.array([D65[0] / D65[1], 1.0, (1.0 - D65[0] - D65[1]) / D65[1]])
    return np.asarray(columns * np.linalg.solve(columns, white), dtype=float)


FROM_LINEAR_SRGB = _from_linear_srgb()
TO_LINEAR_SRGB = np.asarray(np.linalg.inv(FROM_LINEAR_SRGB), dtype=float)
LUMINANCE_WEIGHTS = np.asarray(FROM_LINEAR_SRGB[1], dtype=float)
for _constant in (FROM_LINEAR_SRGB, TO_LINEAR_SRGB, LUMINANCE_WEIGHTS):
    _constant.setflags(write=False)


def linear_srgb(xy: ArrayLike, luminance: ArrayLike = 1.0) -> Array:
    """Linear sRGB of a chromaticity at a luminance relative to the screen's white; may lie out of gamut.

    Parameters
    ----------
    xy : array (..., 2)
        x, y [-], y above 0.
    luminance : array (...)
        Relative luminance [-], 1 is the screen's white.
    Returns
    -------
    array (..., 3)
        Linear R, G, B [-]; negative or above 1 when the screen cannot show it.
    Raises
    ------
    OutOfRange
        If a y is not above 0.
    Source
    ------
    IEC 61966-2-1.
    """
    place = np.asarray(xy, dtype=float)
    if np.any(place[..., 1] <= 0.0):
        raise OutOfRange("y", float(place[..., 1].min()), "more than 0")
    x, y = place[..., 0], place[..., 1]
    xyz = np.stack([x / y, np.ones_like(y), (1.0 - x - y) / y], axis=-1)
    rgb = (xyz * np.asarray(luminance, dtype=float)[..., None]) @ TO_LINEAR_SRGB.T
    return np.asarray(rgb, dtype=float)


def through_colour_xy(light_xy: tuple[float, float], wall_xy: tuple[float, float]) -> tuple[float, float]:
    """Colour of light that has come through a coloured sheet.

    Parameters
    ----------
    light_xy : tuple of float
        x, y of the light before it [-], y above 0.
    wall_xy : tuple of float
        x, y of the sheet with daylight (D65) behind it [-], y above 0.
    Returns
    -------
    tuple of float
        x, y [-]; the light's own where nothing of it is left.
    Raises
    ------
    OutOfRange
        If a y is not above 0.
    Notes
    -----
    In three bands, sRGB's: the sheet lets pass of each what it shows of it, 0.02 at least; its spectrum tells more.
    Source
    ------
    Product of light and transmittance, band by band; primaries of IEC 61966-2-1 (three bands: project proposal).
    """
    wall = np.maximum(linear_srgb(wall_xy), 0.0)
    xyz = FROM_LINEAR_SRGB @ (linear_srgb(light_xy) * np.maximum(wall / wall.max(), 0.02))
    if min(xyz) <= 0.0:
        return light_xy
    return (round(float(xyz[0] / xyz.sum()), 6), round(float(xyz[1] / xyz.sum()), 6))


def luminance_of(linear_rgb: ArrayLike) -> Array:
    """Relative luminance of linear sRGB colours.

    Parameters
    ----------
    linear_rgb : array (..., 3)
        Linear channels [-].
    Returns
    -------
    array (...)
        Luminance, 1 is the white of the screen [-].
    Source
    ------
    IEC 61966-2-1.
    """
    return np.asarray(np.asarray(linear_rgb, dtype=float) @ LUMINANCE_WEIGHTS, dtype=float)


def into_gamut(linear_rgb: ArrayLike) -> Array:
    """Nearest colour towards grey of the same luminance that the screen can show.

    Parameters
    ----------
    linear_rgb : array (..., 3)
        Linear sRGB [-], of luminance 0 to 1.
    Returns
    -------
    array (..., 3)
        Linear sRGB [-], each channel 0 to 1; same luminance, same hue line, less purity.
    Raises
    ------
    OutOfRange
        If a luminance lies outside 0 to 1.
    Notes
    -----
    rgb' = Y + s (rgb - Y) with the largest s up to 1 that fits. Never clipped channel by channel, which would
    change the order of brightness.
    Source
    ------
    Straight line to the white point at equal luminance; the order test is in tests/unit/optics/test_display.py.
    """
    rgb = np.asarray(linear_rgb, dtype=float)
    grey = luminance_of(rgb)[..., None]
    if np.any(grey < -1e-9) or np.any(grey > 1.0 + 1e-9):
        raise OutOfRange("relative luminance", float(grey.max()), "0 to 1")
    made = np.clip(rgb, 0.0, 1.0)
    outside = np.any(made != rgb, axis=-1)  # few colours of a picture are: only they are moved
    made[outside] = _towards_grey(rgb[outside], np.clip(grey[outside], 0.0, 1.0))
    return np.asarray(made, dtype=float)


def _towards_grey(rgb: Array, grey: Array) -> Array:
    away = rgb - grey
    with np.errstate(divide="ignore", invalid="ignore"):
        room = np.where(away > 0.0, (1.0 - grey) / away, np.where(away < 0.0, -grey / away, np.inf))
    share = np.minimum(1.0, room.min(axis=-1, keepdims=True))
    return np.asarray(np.clip(grey + share * away, 0.0, 1.0), dtype=float)


def encoded(linear_rgb: ArrayLike) -> NDArray[np.uint8]:
    """Eight-bit sRGB code values of linear colours between 0 and 1.

    Parameters
    ----------
    linear_rgb : array
        Linear channels [-], clipped to 0 to 1.
    Returns
    -------
    array of uint8
        Code values, 0 to 255.
    Source
    ------
    IEC 61966-2-1, transfer function.
    """
    linear = np.clip(np.asarray(linear_rgb, dtype=float), 0.0, 1.0)
    curve = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1.0 / 2.4) - 0.055)
    return np.asarray(np.rint(255.0 * curve), dtype=np.uint8)


def decoded(code: ArrayLike) -> Array:
    """Linear channels of eight-bit sRGB code values; the inverse of `encoded`.

    Parameters
    ----------
    code : array
        Code values, 0 to 255.
    Returns
    -------
    array
        Linear channels [-].
    Source
    ------
    IEC 61966-2-1, transfer function.
    """
    value = np.asarray(code, dtype=float) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def swatch_rgb(xy: tuple[float, float]) -> tuple[int, int, int]:
    """Brightest sRGB colour of a lamp's hue, for a swatch or a legend.

    Parameters
    ----------
    xy : tuple of float
        x, y [-].
    Returns
    -------
    tuple of int
        R, G, B code values; one of them is 255.
    Notes
    -----
    Mixed with D65 at equal luminance until no channel is negative, then scaled to the brightest that fits.
    Source
    ------
    IEC 61966-2-1; hue line through D65.
    """
    rgb = linear_srgb(xy)
    least = float(rgb.min())
    if least < 0.0:
        rgb = rgb + (1.0 - rgb) * (-least / (1.0 - least))
    red, green, blue = (int(code) for code in encoded(rgb / rgb.max()))
    return red, green, blue


def tone(luminance: ArrayLike, *, key_cd_m2: float) -> Array:
    """Screen luminance of a scene luminance by one rising curve for the whole picture.

    Parameters
    ----------
    luminance : array
        Scene luminance [cd/m2], 0 or more.
    key_cd_m2 : float
        Scene luminance that shows at half the screen's white [cd/m2], more than 0.
    Returns
    -------
    array
        Relative luminance [-], 0 to below 1.
    Raises
    ------
    OutOfRange
        If the key is not above 0.
    Notes
    -----
    Y / (1 + Y), Y = L / key.
    Source
    ------
    Reinhard, Stark, Shirley & Ferwerda, ACM Trans. Graph. 21 (2002) 267, equation 3.
    """
    checked("key luminance (cd/m2)", key_cd_m2, 0.0, above=True)
    scaled = np.asarray(luminance, dtype=float) / key_cd_m2
    return np.asarray(scaled / (1.0 + scaled), dtype=float)


def root_tone(luminance: ArrayLike, *, half_cd_m2: float) -> Array:
    """Screen luminance of a scene of lamps: `tone` of the root, which holds twice as many decades in sight.

    Parameters
    ----------
    luminance : array
        Scene luminance [cd/m2], 0 or more.
    half_cd_m2 : float
        Scene luminance that shows at half the screen's white [cd/m2], more than 0.
    Returns
    -------
    array
        Relative luminance [-], 0 to below 1, rising all the way.
    Raises
    ------
    OutOfRange
        If `half_cd_m2` is not above 0.
    Notes
    -----
    r / (1 + r), r = root of L / half.
    Source
    ------
    `tone`; the root is this project's choice: lamps of one model differ by a thousand times.
    """
    checked("luminance at half (cd/m2)", half_cd_m2, 0.0, above=True)
    return tone(np.sqrt(np.asarray(luminance, dtype=float) / half_cd_m2), key_cd_m2=1.0)


LEVELS = 16384


def encoded_finely(linear_rgb: ArrayLike) -> NDArray[np.uint8]:
    """`encoded` through a table of LEVELS equal steps of light, for whole pictures; within one code value of it.

    Parameters
    ----------
    linear_rgb : array
        Linear channels [-], 0 to 1.
    Returns
    -------
    array of uint8
        Code values, 0 to 255.
    Source
    ------
    IEC 61966-2-1; the steps are fine enough that the darkest codes are all told apart.
    """
    steps = (np.asarray(linear_rgb) * (LEVELS - 1) + 0.5).astype(np.uint16)
    return _codes()[steps]


@cache
def _codes() -> NDArray[np.uint8]:
    return encoded(np.linspace(0.0, 1.0, LEVELS))
