"""The eye's spread as a sum of bell curves."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics import glare


@pytest.mark.parametrize("age", [20.0, 40.0, 80.0])
def test_the_table_rebuilds_the_function(age: float) -> None:
    table = np.array(glare.share_table(age_years=age))
    fine = np.geomspace(glare.FIRST_DEG, 90.0, 4000)
    share = np.diff(glare.share_below(fine, tuple(table)))
    width = np.sqrt(fine[1:] * fine[:-1])
    angle = np.geomspace(0.003, 10.0, 40)
    bells = np.exp(-(angle[:, None] ** 2) / 2.0 / width**2) / (2.0 * np.pi * width**2 * glare.SR_PER_DEG2)
    rebuilt, whole = bells @ share, glare.glare_per_lx(angle, age_years=age)
    # derived: 1 / (the light that the function holds, 1.00 to 1.09 by age) as one factor, then within 4 %
    factor = rebuilt / whole
    assert 0.88 < factor.mean() < 1.01
    assert factor == pytest.approx(np.full(40, factor.mean()), rel=0.04)


def test_shares_rise_to_the_whole() -> None:
    table = glare.share_table()
    assert len(table) == glare.STEPS + 1 and table[-1] == 1.0
    assert np.all(np.diff(table) > 0.0)
    assert float(glare.share_below(1e-9, table)) < 1e-4 and float(glare.share_below(1e3, table)) == 1.0


def test_an_older_eye_spreads_more() -> None:
    young, old = (glare.share_table(age_years=age) for age in (25.0, 75.0))
    assert float(glare.share_below(0.5, old)) < float(glare.share_below(0.5, young))


@pytest.mark.parametrize("call", [
    lambda: glare.glare_per_lx(-1.0), lambda: glare.glare_per_lx(91.0), lambda: glare.glare_per_lx(1.0, age_years=3.0),
    lambda: glare.share_table(pigment=2.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
