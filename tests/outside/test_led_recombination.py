"""LED light against current: the rate equation itself, solved by a general-purpose root finder.

Source: H.-Y. Ryu, H.-S. Kim, J.-I. Shim, Rate equation analysis of efficiency droop in InGaN light-emitting diodes,
Appl. Phys. Lett. 95 (2009) 081114: current goes with A n + B n^2 + C n^3, light with B n^2, and the peak of the
efficiency tells all that matters. The coefficients below are of the order usual for InGaN (from memory, typical).
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq, minimize_scalar

from rushlight.optics.led_light import LightLaw, light_laws
from rushlight.tables import rows

A_PER_S, B_CM3_PER_S, C_CM6_PER_S = 1e7, 2e-11, 1.5e-30
RATED = 30.0
"""Rated current over that of the peak."""


def _rate(n: float) -> float:
    return A_PER_S * n + B_CM3_PER_S * n**2 + C_CM6_PER_S * n**3


def _light(rate: float) -> float:
    n = brentq(lambda n: _rate(n) - rate, 0.0, 1e22, xtol=1e3, rtol=1e-14)
    return float(B_CM3_PER_S * n * n)


def _peak_rate() -> float:
    """The current of best efficiency, found by looking for it."""
    found = minimize_scalar(lambda log: -_light(math.exp(log)) / math.exp(log), method="bounded",
                            bounds=(math.log(1e22), math.log(1e28)), options={"xatol": 1e-10})
    return math.exp(found.x)


@pytest.mark.parametrize("share", (0.001, 0.01, 0.05, 0.25, 0.5, 1.0, 1.5))
def test_light_is_that_of_the_rate_equation(share: float) -> None:
    peak = _peak_rate()
    best = _light(peak) / peak
    law = LightLaw(1.0 / RATED, 0.5 * (1.0 / best - 1.0))
    assert law.times(share) == pytest.approx(_light(share * RATED * peak) / _light(RATED * peak), rel=1e-5)


def test_the_table_of_colours_stays_inside_the_curves_of_data_sheets() -> None:
    """Common practice, no source: half the rated current gives a white or green LED more than half its light, a red one
    half; half as much current again gives all of them less than that much more light, or as much."""
    half = {row["key"]: light_laws(row["key"]).times(0.5) for row in rows("led_light_current")}
    assert all(half[key].low > 0.52 and half[key].high < 0.60 for key in ("warm_white", "cool_white", "blue"))
    assert half["green"].low > 0.55 and half["green"].high < 0.62
    assert half["red"].low > 0.46 and half["red"].high < 0.54
    assert all(light_laws(key).times(1.5).typical <= 1.5 for key in half)
