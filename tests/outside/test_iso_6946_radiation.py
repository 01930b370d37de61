"""Radiative coefficient of a black body.

ISO 6946:2007, annex A, table A.1 (from memory): 4.6, 5.1, 5.7, 6.3 W/m2K at 0, 10, 20, 30 C.
"""

from __future__ import annotations

import pytest

from rushlight.thermal.enclosure import radiation_w_per_m2k


# source: table A.1
@pytest.mark.parametrize(("temp_c", "printed"), [(0.0, 4.6), (10.0, 5.1), (20.0, 5.7), (30.0, 6.3)])
def test_black_body(temp_c: float, printed: float) -> None:
    assert radiation_w_per_m2k(temp_c) == pytest.approx(printed, abs=0.055)  # printed to one digit
