"""sRGB.

IEC 61966-2-1:1999: primaries red (0.64, 0.33), green (0.30, 0.60), blue (0.15, 0.06), white D65 (0.3127,
0.3290); luminances 0.2126, 0.7152, 0.0722; code 128 is 0.2159 linear.
"""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.optics.display import (
    LUMINANCE_WEIGHTS,
    TO_LINEAR_SRGB,
    decoded,
    encoded,
    linear_srgb,
    swatch_rgb,
)


@pytest.mark.parametrize(("xy", "luminance", "rgb"), [
    ((0.64, 0.33), 0.2126, (1, 0, 0)),  # source: IEC 61966-2-1
    ((0.30, 0.60), 0.7152, (0, 1, 0)),  # source: IEC 61966-2-1
    ((0.15, 0.06), 0.0722, (0, 0, 1)),  # source: IEC 61966-2-1
    ((0.3127, 0.3290), 1.0, (1, 1, 1)),  # source: IEC 61966-2-1
])
def test_primaries_and_white(xy: tuple[float, float], luminance: float, rgb: tuple[int, ...]) -> None:
    assert linear_srgb(xy, luminance) == pytest.approx(rgb, abs=3e-4)  # luminances printed to four digits


def test_printed_matrix_and_weights() -> None:
    # source: IEC 61966-2-1
    printed = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
    assert np.allclose(TO_LINEAR_SRGB, printed, atol=5e-4)  # the standard rounds between its steps
    assert np.allclose(LUMINANCE_WEIGHTS, [0.2126, 0.7152, 0.0722], atol=1e-4)  # source: IEC 61966-2-1


@pytest.mark.parametrize(("xy", "rgb"), [
    ((0.15, 0.06), (-0.00012, -0.0000067, 2.7705)),  # source: colour-science 0.4.7 at Y 0.2
    ((0.5, 0.4), (0.47778, 0.13501, 0.025975)),  # source: colour-science 0.4.7 at Y 0.2
    ((0.4, 0.5), (0.191112, 0.221796, 0.010392)),  # source: colour-science 0.4.7 at Y 0.2
])
def test_matrix(xy: tuple[float, float], rgb: tuple[float, ...]) -> None:
    assert linear_srgb(xy, 0.2) == pytest.approx(rgb, abs=3e-4)


def test_transfer_function() -> None:
    assert float(decoded(128)) == pytest.approx(0.2159, abs=5e-5)  # source: IEC 61966-2-1
    assert np.array_equal(encoded(decoded(np.arange(256))), np.arange(256))


@pytest.mark.parametrize(("xy", "code"), [((0.64, 0.33), (255, 0, 0)), ((0.30, 0.60), (0, 255, 0)),
                                          ((0.15, 0.06), (0, 0, 255))])
def test_primary_swatches(xy: tuple[float, float], code: tuple[int, ...]) -> None:
    assert swatch_rgb(xy) == pytest.approx(code, abs=1)
